"""Checking the file: the pages, the chain of seals, the count, the subjects."""

from collections.abc import Iterator

from msgspec import Struct

from mancary.book.book import Book, Head
from mancary.book.seals import FIRST, seal
from mancary.book.trouble import said_plainly

_ROWS = (
    "SELECT number, id, kind, version, happened, typed, clock_error_s, written, body, seal"
    " FROM fact ORDER BY number"
)


class Audit(Struct, frozen=True, kw_only=True):
    """What the check found: no faults means that every seal fits and none is missing."""

    head: Head
    faults: tuple[str, ...]


def audit(book: Book, *, earlier: Head | None = None) -> Audit:
    """Verifies the whole book; ``earlier`` is a head noted elsewhere that must still be in it."""
    with said_plainly(book.path), book.one_moment():
        faults = [*_pages(book), *_chain(book, earlier), *_tail(book)]
        return Audit(head=book.head(), faults=tuple(faults))


def _pages(book: Book) -> Iterator[str]:
    for (line,) in book.connection.execute("PRAGMA integrity_check(20)"):
        if line != "ok":
            yield f"SQLite finds the file damaged: {line}."
    stray = book.connection.execute(
        "SELECT count(*) FROM fact_subject WHERE number NOT IN (SELECT number FROM fact)"
    ).fetchone()[0]
    if stray:
        yield f"{stray} subjects belong to no fact."


def subjects_by_number(book: Book, *, after: int = 0) -> dict[int, list[str]]:
    """The sorted subjects of every fact, by its number, in one pass over the table."""
    rows = book.connection.execute(
        "SELECT number, subject FROM fact_subject WHERE number > ? ORDER BY number, subject",
        (after,),
    )
    held: dict[int, list[str]] = {}
    for number, subject in rows:
        held.setdefault(number, []).append(subject)
    return held


def _chain(book: Book, earlier: Head | None) -> Iterator[str]:
    before, expected, found = FIRST, 1, earlier is None or earlier.count == 0
    subjects = subjects_by_number(book)
    for *cells, stored in book.connection.execute(_ROWS):
        number = cells[0]
        if number != expected:
            yield f"Facts {expected} to {number - 1} are missing."
        if seal(before, cells, subjects.get(number, [])) != stored:
            yield f"The seal of fact {number} ({cells[2]}, {cells[4]}) does not fit what it says."
        if earlier and number == earlier.count:
            found = stored == earlier.seal
        before, expected = stored, number + 1
    if earlier and not found:
        yield f"The head noted earlier (fact {earlier.count}) is not in this book's chain."


def _tail(book: Book) -> Iterator[str]:
    row = book.connection.execute("SELECT seq FROM sqlite_sequence WHERE name = 'fact'").fetchone()
    last = book.head().count
    if row and row[0] > last:
        yield f"The end was cut off: fact {row[0]} was written once, the last now is {last}."
