"""Writing down: what was done, seen, counted, weighed; withdrawing and correcting."""

import difflib
from collections.abc import Sequence

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import code
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Fact, Withdrawn
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.usecases.pen import Pen


class Recorded(Struct, frozen=True, kw_only=True):
    """What was written: the entries, and how many ids were in the book already."""

    entries: tuple[Entry, ...]
    repeated: int = 0


def known_box(book: Book, typed: str) -> str:
    """The code of a box that is in the book.

    Raises:
        UnknownSubject: with near codes, where there is none.
    """
    wanted = code(typed)
    if not book.is_known(f"box:{wanted}"):
        near = difflib.get_close_matches(wanted, book.subjects("box"), n=3, cutoff=0.6)
        raise UnknownSubject("box", wanted, near=tuple(near))
    return wanted


def write(
    book: Book, facts: Sequence[Fact], *, pen: Pen, happened: Moment | None = None
) -> Recorded:
    """Writes facts in one go; they are on disk when this returns."""
    return write_entries(book, [pen.entry(fact, happened=happened) for fact in facts], pen=pen)


def write_entries(book: Book, entries: Sequence[Entry], *, pen: Pen) -> Recorded:
    """Writes entries that have their ids already; one sent twice is written once."""
    receipt = book.append(entries, written_at=pen.now())
    fresh = set(receipt.written)
    return Recorded(
        entries=tuple(entry for entry in entries if entry.id in fresh),
        repeated=len(receipt.repeated),
    )


def standing_entry(book: Book, fact_id: str) -> Entry:
    """The entry of a fact that still counts.

    Raises:
        Refusal: when there is no such fact, or it was withdrawn.
    """
    entry = book.entry(fact_id.strip().lower())
    if entry is None:
        raise Refusal(f"There is no fact {fact_id} in this book.")
    if _is_withdrawn(book, entry.id):
        raise Refusal("That fact was withdrawn already.")
    return entry


def _is_withdrawn(book: Book, fact_id: str) -> bool:
    return any(
        isinstance(told.fact, Withdrawn) and not _is_withdrawn(book, told.id)
        for told in book.entries_about(f"fact:{fact_id}")
    )


def withdraw(book: Book, fact_id: str, *, why: str, pen: Pen) -> Recorded:
    """Calls an earlier fact a mistake; it stays readable.

    Raises:
        Refusal: when there is no such fact, or it was withdrawn already.
    """
    mistaken = standing_entry(book, fact_id)
    return write(book, [_withdrawal(mistaken, why)], pen=pen)


def correct(
    book: Book, fact_id: str, better: Fact, *, why: str, pen: Pen, happened: Moment | None = None
) -> Recorded:
    """Withdraws a fact and writes another in its place, both or neither.

    The new fact keeps the moment of the old one unless another is given.
    """
    mistaken = standing_entry(book, fact_id)
    instead = pen.entry(better, happened=happened or mistaken.happened)
    withdrawal = pen.entry(_withdrawal(mistaken, why, instead.id))
    return write_entries(book, [instead, withdrawal], pen=pen)


def _withdrawal(mistaken: Entry, why: str, instead: str | None = None) -> Withdrawn:
    touches = tuple(s for s in mistaken.fact.subjects() if not s.startswith("fact:"))
    return Withdrawn(mistaken=mistaken.id, why=why, instead=instead, touches=touches)
