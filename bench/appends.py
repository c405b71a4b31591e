"""Writing facts, against SQLite bare with the same sync setting and the same bytes, on the same disk."""

import sqlite3
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bench.result import Result, against, median_pair, seconds
from bench.room import NOW, entries
from mancary.book import create_book
from mancary.book.rows import INSERT_FACT, INSERT_SUBJECT

ONE_BY_ONE = 400
BULK = 1_000_000
CHUNK = 50_000

_BARE = """
CREATE TABLE fact (number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, kind TEXT, version INTEGER,
    happened TEXT, typed TEXT, clock_error_s REAL, written TEXT, body TEXT, seal TEXT);
CREATE INDEX fact_by_kind ON fact (kind, number);
CREATE TABLE fact_subject (subject TEXT, number INTEGER, PRIMARY KEY (subject, number)) WITHOUT ROWID;
"""


def bare(path: Path) -> sqlite3.Connection:
    """The same tables and indexes without triggers or checks, in the same mode."""
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.executescript(_BARE)
    return db


def measure() -> Iterator[Result]:
    """The two figures."""
    with tempfile.TemporaryDirectory(dir=Path(__file__).parent) as folder:
        yield _one_by_one(Path(folder))
        yield from _bulk(Path(folder))


def _one_by_one(folder: Path) -> Result:
    told = list(entries(ONE_BY_ONE, 96))
    with create_book(folder / "one.mancary") as source:
        source.append(told, written_at=NOW)
        facts, subjects = _rows(source.connection)
    runs = iter(range(1000))

    def ours() -> None:
        with create_book(folder / f"ours{next(runs)}.mancary") as book:
            for entry in told:
                book.append([entry], written_at=NOW)

    def theirs() -> None:
        db = bare(folder / f"bare{next(runs)}.sqlite")
        for fact, held in zip(facts, subjects, strict=True):
            db.execute("BEGIN IMMEDIATE")
            db.execute(INSERT_FACT, fact)
            db.executemany(INSERT_SUBJECT, held)
            db.execute("COMMIT")
        db.close()

    ours_s, theirs_s = median_pair(ours, theirs, times=5)
    return against(
        "append one by one, each on disk before the next",
        ours_s / ONE_BY_ONE * 1000,
        theirs_s / ONE_BY_ONE * 1000,
        "ms a fact",
        "raw sqlite3 inserts of the same bytes, WAL, full sync",
    )


def _rows(
    db: sqlite3.Connection,
) -> tuple[list[tuple[object, ...]], list[list[tuple[object, ...]]]]:
    facts = db.execute(
        "SELECT number, id, kind, version, happened, typed, clock_error_s, written, body, seal"
        " FROM fact ORDER BY number"
    ).fetchall()
    held: dict[int, list[tuple[object, ...]]] = {}
    for subject, number in db.execute("SELECT subject, number FROM fact_subject"):
        held.setdefault(number, []).append((subject, number))
    return facts, [held[fact[0]] for fact in facts]


def _bulk(folder: Path) -> Iterator[Result]:
    told = list(entries(BULK, 1000))

    def ours() -> None:
        with create_book(folder / "bulk.mancary") as book:
            for start in range(0, BULK, CHUNK):
                book.append(told[start : start + CHUNK], written_at=NOW)

    ours_s = seconds(ours)
    told.clear()
    with sqlite3.connect(folder / "bulk.mancary") as db:
        facts, subjects = _rows(db)
    db.close()

    def theirs() -> None:
        raw = bare(folder / "bulk.sqlite")
        for start in range(0, BULK, CHUNK):
            raw.execute("BEGIN IMMEDIATE")
            raw.executemany(INSERT_FACT, facts[start : start + CHUNK])
            raw.executemany(
                INSERT_SUBJECT, (one for held in subjects[start : start + CHUNK] for one in held)
            )
            raw.execute("COMMIT")
        raw.close()

    yield against(
        f"{BULK:,} facts in bulk",
        ours_s,
        seconds(theirs),
        "s",
        "raw executemany of the same bytes into the same tables and indexes",
    )
