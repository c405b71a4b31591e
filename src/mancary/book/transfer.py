"""Whole rows out of a book and into another, seals and all."""

from collections.abc import Iterable, Iterator

from msgspec import Struct

from mancary.book.book import Book
from mancary.book.rows import INSERT_FACT, INSERT_SUBJECT
from mancary.book.seals import FIRST, seal
from mancary.book.trouble import BookTrouble, said_plainly


class SealedRow(Struct, frozen=True, kw_only=True):
    """One fact as it is stored, with its subjects."""

    number: int
    id: str
    kind: str
    version: int
    happened: str
    typed: str
    clock_error_s: float | None
    written: str
    body: str
    subjects: tuple[str, ...]
    seal: str

    def cells(self) -> tuple[int | str | float | None, ...]:
        return (
            self.number,
            self.id,
            self.kind,
            self.version,
            self.happened,
            self.typed,
            self.clock_error_s,
            self.written,
            self.body,
        )


class BrokenChain(BookTrouble):
    """Rows whose seals do not fit."""

    exit_code = 65


def sealed_rows(book: Book, *, after: int = 0) -> Iterator[SealedRow]:
    """All rows in the order of writing."""
    query = (
        "SELECT number, id, kind, version, happened, typed, clock_error_s, written, body, seal,"
        " (SELECT group_concat(subject, char(10)) FROM (SELECT subject FROM fact_subject s"
        "  WHERE s.number = fact.number ORDER BY subject))"
        " FROM fact WHERE number > ? ORDER BY number"
    )
    with said_plainly(book.path):
        for *cells, stored, subjects in book.connection.execute(query, (after,)):
            names = ("number", "id", "kind", "version", "happened", "typed", "clock_error_s")
            row = dict(zip((*names, "written", "body"), cells, strict=True))
            yield SealedRow(**row, subjects=tuple((subjects or "").split("\n")), seal=stored)


def proven(rows: Iterable[SealedRow], *, first: int = 1, before: str = FIRST) -> list[SealedRow]:
    """The rows, if they follow on ``before`` without a gap and every seal fits.

    Raises:
        BrokenChain: naming the first row that does not fit.
    """
    good: list[SealedRow] = []
    for number, row in enumerate(rows, start=first):
        if row.number != number or seal(before, row.cells(), row.subjects) != row.seal:
            raise BrokenChain(
                f"The seal of fact {row.number} ({row.kind}, {row.happened}) does not fit what it"
                " says, or a fact before it is missing. Nothing was taken in."
            )
        before = row.seal
        good.append(row)
    return good


def append_sealed(book: Book, rows: Iterable[SealedRow]) -> int:
    """Writes rows as they are at the end of the chain, all or none; how many.

    Raises:
        BrokenChain: when they do not follow on the book's last fact.
    """
    with book.writing() as db:
        head = book.head()
        good = proven(rows, first=head.count + 1, before=head.seal)
        db.executemany(INSERT_FACT, ((*row.cells(), row.seal) for row in good))
        db.executemany(
            INSERT_SUBJECT, ((subject, row.number) for row in good for subject in row.subjects)
        )
    return len(good)
