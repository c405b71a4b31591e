"""The book: facts go in at the end, and are read back in the order of writing."""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from functools import lru_cache
from pathlib import Path
from typing import Self

from msgspec import Struct

from mancary.book import rows
from mancary.book.file import BUSY_MS, create_file, open_file
from mancary.book.seals import FIRST
from mancary.book.trouble import Clash, MovedOn, said_plainly
from mancary.husbandry.entries import Entry
from mancary.husbandry.moments import instant

_ENTRY = "SELECT number, id, kind, version, happened, typed, clock_error_s, written, body FROM fact"


class Head(Struct, frozen=True):
    """The end of the book: how many facts, and the seal of the last."""

    count: int
    seal: str


class Receipt(Struct, frozen=True):
    """What an appending did: ids newly written, and ids that were in the book already."""

    written: tuple[str, ...]
    repeated: tuple[str, ...]


@lru_cache(maxsize=256)
def _about(_path: Path, _subject: str, _newest: Head | None) -> dict[str, list[Entry]]:
    """Where the entries about a subject are kept until another fact is written about it."""
    return {}


class Book:
    """An open book. Use it as a context manager, or close it."""

    def __init__(self, path: Path, db: sqlite3.Connection) -> None:
        self.path = path
        self._db = db

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        self._db.close()

    @property
    def connection(self) -> sqlite3.Connection:
        """For the modules of this floor only."""
        return self._db

    @contextmanager
    def writing(self, *, wait: bool = True) -> Iterator[sqlite3.Connection]:
        """One transaction, the only writer; for the modules of this floor only.

        With ``wait`` false another writer is not waited for.
        """
        with said_plainly(self.path):
            if not wait:
                self._db.execute("PRAGMA busy_timeout = 0")
            try:
                self._db.execute("BEGIN IMMEDIATE")
            finally:
                if not wait:
                    self._db.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
            yield from self._ended()

    @contextmanager
    def one_moment(self) -> Iterator[None]:
        """All that is read inside is read as of one moment, whoever writes meanwhile."""
        if self._db.in_transaction:
            yield
            return
        with said_plainly(self.path):
            self._db.execute("BEGIN")
            for _ in self._ended():
                yield

    def _ended(self) -> Iterator[sqlite3.Connection]:
        try:
            yield self._db
            self._db.execute("COMMIT")
        except BaseException:
            if self._db.in_transaction:
                self._db.execute("ROLLBACK")
            raise

    def append(
        self, entries: Iterable[Entry], *, written_at: datetime, expecting: Head | None = None
    ) -> Receipt:
        """Writes the entries in one go: all or none, each id once.

        Returns only when they are on disk. With ``expecting`` they are written only if the book
        still ends there, so that what was read before is still so.

        Raises:
            Refusal: when a fact does not fit its declaration.
            MovedOn: when the book does not end where it was expected to.
            BookTrouble: when the file cannot be written, or an id stands there with other words.
        """
        ready = rows.prepared(entries)
        written = instant(written_at)
        try:
            with self.writing() as db:
                self._still_there(expecting)
                self._insert(db, ready, written)
            return Receipt(tuple(row.id for row in ready), ())
        except sqlite3.IntegrityError:
            # some id is there already; nothing was written, so look at each
            with self.writing() as db:
                self._still_there(expecting)
                fresh, repeated = self._sorted_out(db, ready)
                self._insert(db, fresh, written)
            return Receipt(tuple(row.id for row in fresh), tuple(repeated))

    def _still_there(self, expecting: Head | None) -> None:
        if expecting is not None and self._head(self._db) != expecting:
            raise MovedOn(self.path)

    def _insert(self, db: sqlite3.Connection, fresh: Sequence[rows.Prepared], written: str) -> None:
        last = self._head(db)
        facts, subjects = rows.sealed(
            fresh, first=last.count + 1, before=last.seal, written=written
        )
        db.executemany(rows.INSERT_FACT, facts)
        db.executemany(rows.INSERT_SUBJECT, subjects)

    def _sorted_out(
        self, db: sqlite3.Connection, ready: Sequence[rows.Prepared]
    ) -> tuple[list[rows.Prepared], list[str]]:
        fresh: dict[str, rows.Prepared] = {}
        repeated: list[str] = []
        find = "SELECT kind, version, happened, body FROM fact WHERE id = ?"
        for row in ready:
            twin = fresh.get(row.id)
            found = (
                (twin.kind, twin.version, twin.happened, twin.body)
                if twin
                else db.execute(find, (row.id,)).fetchone()
            )
            if found is None:
                fresh[row.id] = row
            elif found == (row.kind, row.version, row.happened, row.body):
                repeated.append(row.id)
            else:
                raise Clash(row.id)
        return list(fresh.values()), repeated

    @staticmethod
    def _head(db: sqlite3.Connection) -> Head:
        row = db.execute("SELECT number, seal FROM fact ORDER BY number DESC LIMIT 1").fetchone()
        return Head(*row) if row else Head(0, FIRST)

    def head(self) -> Head:
        """The number and the seal of the last fact."""
        with said_plainly(self.path):
            return self._head(self._db)

    def newest_of(self, kinds: Sequence[str]) -> Head:
        """The number and the seal of the last fact of the given kinds."""
        each = " UNION ALL ".join(["SELECT max(number) AS n FROM fact WHERE kind = ?"] * len(kinds))
        query = f"SELECT number, seal FROM fact WHERE number = (SELECT max(n) FROM ({each}))"
        with said_plainly(self.path):  # one statement: each hands the interpreter to other threads
            row = self._db.execute(query, tuple(kinds)).fetchone() if kinds else None
        return Head(*row) if row else Head(0, FIRST)

    def entries(self, *, after: int = 0) -> Iterator[Entry]:
        """All entries in the order of writing, those after number ``after``."""
        with said_plainly(self.path):
            for row in self._db.execute(f"{_ENTRY} WHERE number > ? ORDER BY number", (after,)):
                yield rows.entry(row)

    def entries_about(self, subject: str, *, after: int = 0) -> list[Entry]:
        """The entries about one subject, in the order of writing."""
        if after:
            return self._entries_about(subject, after)
        kept = _about(self.path, subject, self._newest_about(subject))
        if "entries" not in kept:
            kept["entries"] = self._entries_about(subject, 0)
        return list(kept["entries"])

    def _newest_about(self, subject: str) -> Head | None:
        newest = "(SELECT max(number) FROM fact_subject WHERE subject = ?)"
        with said_plainly(self.path):
            row = self._db.execute(
                f"SELECT number, seal FROM fact WHERE number = {newest}", (subject,)
            ).fetchone()
        return Head(*row) if row else None

    def _entries_about(self, subject: str, after: int) -> list[Entry]:
        query = (
            f"{_ENTRY} WHERE number IN (SELECT number FROM fact_subject"
            " WHERE subject = ? AND number > ?) ORDER BY number"
        )
        with said_plainly(self.path):
            return [rows.entry(row) for row in self._db.execute(query, (subject, after))]

    def entries_of(
        self, kinds: Sequence[str], *, after: int = 0, from_content: bool = False
    ) -> list[Entry]:
        """The entries of the given kinds, in the order of writing.

        With ``from_content`` only those whose ids were made from content: UUIDs of version 8.
        """
        marks = ",".join("?" * len(kinds))
        made = " AND substr(id, 15, 1) = '8'" if from_content else ""
        query = f"{_ENTRY} WHERE kind IN ({marks}) AND number > ?{made} ORDER BY number"
        with said_plainly(self.path):
            return [rows.entry(row) for row in self._db.execute(query, (*kinds, after))]

    def entry(self, fact_id: str) -> Entry | None:
        """One entry by its id."""
        with said_plainly(self.path):
            row = self._db.execute(f"{_ENTRY} WHERE id = ?", (fact_id,)).fetchone()
        return rows.entry(row) if row else None

    def ids_ending(self, tail: str, *, most: int = 5) -> list[str]:
        """Ids whose last characters are these, the newest first."""
        query = (
            "SELECT id FROM fact WHERE substr(id, -length(?1)) = ?1 ORDER BY number DESC LIMIT ?2"
        )
        with said_plainly(self.path):
            return [row[0] for row in self._db.execute(query, (tail, most))]

    def has(self, ids: Iterable[str]) -> set[str]:
        """Those of the ids that are in the book."""
        find = "SELECT 1 FROM fact WHERE id = ?"
        with said_plainly(self.path):
            return {one for one in ids if self._db.execute(find, (one,)).fetchone()}

    def subjects(self, what: str) -> list[str]:
        """The codes of all subjects of one sort: ``subjects("box")``."""
        query = "SELECT DISTINCT subject FROM fact_subject WHERE subject >= ? AND subject < ?"
        with said_plainly(self.path):
            found = self._db.execute(query, (f"{what}:", f"{what};")).fetchall()
        return [row[0].split(":", 1)[1] for row in found]

    def is_known(self, subject: str) -> bool:
        """True where any fact is about the subject."""
        query = "SELECT 1 FROM fact_subject WHERE subject = ? LIMIT 1"
        with said_plainly(self.path):
            return self._db.execute(query, (subject,)).fetchone() is not None


def create_book(path: Path) -> Book:
    """A new, empty book at ``path``; see ``create_file``."""
    return Book(path, create_file(path))


def open_book(path: Path) -> Book:
    """The book at ``path``; see ``open_file``."""
    return Book(path, open_file(path))
