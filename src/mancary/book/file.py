"""The file itself: opened with care, laid out by named steps."""

import sqlite3
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Final

from mancary.book.trouble import (
    AlreadyThere,
    NoBook,
    NotABook,
    TooNew,
    said_plainly,
    system_said_plainly,
)

APPLICATION_ID: Final = 0x4D6E6379
"""Four bytes in the SQLite header that say whose file this is: "Mncy"."""

BUSY_MS: Final = 5000

BESIDE: Final = ("-wal", "-shm", "-journal")
"""What SQLite keeps beside a file. Left alone beside another file it would ruin that."""


def _layout_1(db: sqlite3.Connection) -> None:
    script = files("mancary.book").joinpath("schema.sql").read_text(encoding="utf-8")
    db.executescript(
        f"BEGIN IMMEDIATE; {script} PRAGMA application_id = {APPLICATION_ID};"
        " PRAGMA user_version = 1; COMMIT;"
    )


def _layout_2(db: sqlite3.Connection) -> None:
    """Room for sums that take long; may be thrown away at any time."""
    db.executescript(
        "BEGIN IMMEDIATE; CREATE TABLE kept (name TEXT PRIMARY KEY, body BLOB NOT NULL)"
        " STRICT, WITHOUT ROWID; PRAGMA user_version = 2; COMMIT;"
    )


LAYOUTS: Final[tuple[Callable[[sqlite3.Connection], None], ...]] = (_layout_1, _layout_2)
"""Step n lifts a book from layout n to n + 1. Never change one that has been released."""


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True,
        isolation_level=None,
        timeout=BUSY_MS / 1000,
        check_same_thread=False,
        cached_statements=256,
    )


def create_file(path: Path) -> sqlite3.Connection:
    """A new, empty book, readable by its owner only.

    Raises:
        BookTrouble: when something stands there already or the folder may not be written.
    """
    with system_said_plainly(path):
        refuse_leftovers(path)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600, exist_ok=False)
    try:
        with said_plainly(path):
            db = _connect(path, "rw")
            db.execute("PRAGMA journal_mode = WAL")
            db.execute("PRAGMA synchronous = FULL")
            for step in LAYOUTS:
                step(db)
    except BaseException:
        discard(path)
        raise
    return db


def refuse_leftovers(path: Path) -> None:
    """Refuses a place where a book or the log of one stands.

    Raises:
        AlreadyThere: naming what stands there.
    """
    for suffix in ("", *BESIDE):
        beside = Path(f"{path}{suffix}")
        if beside.exists():
            raise AlreadyThere(beside)


def discard(path: Path) -> None:
    """Removes a book that was only begun, and what SQLite keeps beside it."""
    for suffix in ("", *BESIDE):
        Path(f"{path}{suffix}").unlink(missing_ok=True)


def open_file(path: Path) -> sqlite3.Connection:
    """An existing book, lifted to the present layout.

    Raises:
        BookTrouble: when it is missing, foreign, damaged, newer than this program or not readable.
    """
    with system_said_plainly(path):
        if not path.is_file():
            raise NoBook(path)
        if path.stat().st_size == 0:
            raise NotABook(path, "the file is empty")
    with said_plainly(path):
        db = _connect(path, "rw")
        try:
            _recognise(db, path)
            db.execute("PRAGMA synchronous = FULL")
        except BaseException:
            db.close()
            raise
    return db


def _recognise(db: sqlite3.Connection, path: Path) -> None:
    if db.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise NotABook(path, "another program made it")
    found = db.execute("PRAGMA user_version").fetchone()[0]
    if found > len(LAYOUTS):
        raise TooNew(path, found, len(LAYOUTS))
    pages = db.execute("PRAGMA page_count").fetchone()[0]
    size = db.execute("PRAGMA page_size").fetchone()[0]
    in_log = Path(f"{path}-wal").exists()
    if path.stat().st_size < pages * size and not in_log:
        raise NotABook(path, "its end is missing")
    for step in LAYOUTS[found:]:
        step(db)
