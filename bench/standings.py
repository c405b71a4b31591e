"""How boxes stand over a million facts: cold, and after one new fact."""

import sqlite3
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bench.result import Result, against, seconds
from bench.room import NOW, filled
from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven
from mancary.usecases.standings import standing_of, standings_of

FACTS = 1_000_000


def measure() -> Iterator[Result]:
    """Three sizes of room."""
    for boxes in (100, 1_000, 10_000):
        with (
            tempfile.TemporaryDirectory(dir=Path(__file__).parent) as folder,
            filled(Path(folder) / "b.mancary", FACTS, boxes) as book,
        ):
            yield from _room(book, boxes)


def _room(book: Book, boxes: int) -> Iterator[Result]:
    read_s = seconds(lambda: _read_all(book.path))
    yield against(
        f"standing of {boxes:,} boxes over {FACTS:,} facts, cold",
        seconds(lambda: standings_of(book)),
        read_s,
        "s",
        "sqlite3 reading the bodies of all facts",
    )
    book.append([_new(1)], written_at=NOW)
    again_s = seconds(lambda: standings_of(book))
    yield against(
        f"standing of {boxes:,} boxes after one new fact", again_s, read_s, "s",
        "sqlite3 reading the bodies of all facts",
    )  # fmt: skip
    book.append([_new(2)], written_at=NOW)
    one_s = seconds(lambda: standing_of(book, "00001"))
    yield against(
        f"standing of one of {boxes:,} boxes after one new fact", one_s, read_s, "s",
        "sqlite3 reading the bodies of all facts",
    )  # fmt: skip


def _read_all(path: Path) -> int:
    with sqlite3.connect(path) as db:
        count = sum(1 for _ in db.execute("SELECT id, kind, happened, body FROM fact"))
    db.close()
    return count


def _new(number: int) -> Entry:
    moment = f"2026-10-3{number}T12:00:00.000Z" if number < 2 else "2026-10-31T13:00:00.000Z"
    fact_id = f"01a212c1-0b36-7406-8e11-{number:012x}"
    return Entry(
        id=fact_id, happened=moment, typed=moment, fact=CareGiven(box="00001", care="protein")
    )
