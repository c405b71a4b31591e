"""Whole rows out of a book and into another, seals and all."""

from collections.abc import Iterable, Iterator

import msgspec
from msgspec import Struct

from mancary.book.audit import subjects_by_number
from mancary.book.book import Book
from mancary.book.rows import INSERT_FACT, INSERT_SUBJECT
from mancary.book.seals import FIRST, seal
from mancary.book.trouble import BookTrouble, said_plainly
from mancary.husbandry.codec import decode, plainly
from mancary.husbandry.facts.book import FactId
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal

CELLS = (
    "number",
    "id",
    "kind",
    "version",
    "happened",
    "typed",
    "clock_error_s",
    "written",
    "body",
)
_TEXTS = tuple[FactId, Moment, Moment, Moment]


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
        "SELECT number, id, kind, version, happened, typed, clock_error_s, written, body, seal"
        " FROM fact WHERE number > ? ORDER BY number"
    )
    with said_plainly(book.path):
        subjects = subjects_by_number(book, after=after)
        for *cells, stored in book.connection.execute(query, (after,)):
            row = dict(zip(CELLS, cells, strict=True))
            yield SealedRow(**row, subjects=tuple(subjects.get(cells[0], ())), seal=stored)


def checked_row(row: SealedRow) -> SealedRow:
    """The row, if it holds a fact this program knows, and says what that fact is about.

    Raises:
        Refusal: naming the row and what does not fit.
    """
    try:
        fact = decode(row.kind, row.version, row.body)
        msgspec.convert((row.id, row.happened, row.typed, row.written), _TEXTS)
    except (msgspec.ValidationError, msgspec.DecodeError) as fault:
        raise Refusal(f"Fact {row.number} ({row.kind}): {plainly(str(fault))}") from None
    if tuple(sorted(set(fact.subjects()))) != row.subjects:
        raise Refusal(f"Fact {row.number} ({row.kind}) is not about what it says it is about.")
    return row


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
        Refusal: when a row holds a fact that this program does not know.
    """
    with book.writing() as db:
        head = book.head()
        chain = proven(rows, first=head.count + 1, before=head.seal)
        good = [checked_row(row) for row in chain]
        db.executemany(INSERT_FACT, ((*row.cells(), row.seal) for row in good))
        db.executemany(
            INSERT_SUBJECT, ((subject, row.number) for row in good for subject in row.subjects)
        )
    return len(good)
