"""Writing down: what was done, seen, counted, weighed; withdrawing and correcting."""

import difflib
import re
from collections.abc import Sequence

from msgspec import Struct

from mancary.book import Book, Head
from mancary.husbandry.codes import code
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    BookOpened,
    BoxDescribed,
    Fact,
    Founded,
    LineNamed,
    Moved,
    PageOpened,
    Split,
    Withdrawn,
)
from mancary.husbandry.moments import Moment, checked
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.husbandry.sentences import tell
from mancary.husbandry.telling import told
from mancary.usecases.pen import Pen
from mancary.usecases.zone import zone_of


class Recorded(Struct, frozen=True, kw_only=True):
    """What was written: the entries, and how many ids were in the book already."""

    entries: tuple[Entry, ...]
    repeated: int = 0


SHORT_ID = 6
"""So many last characters of an id are enough where only one id ends in them."""


def known_box(book: Book, typed: str) -> str:
    """The code of a box that is in the book.

    Raises:
        UnknownSubject: with near codes, where there is none.
    """
    wanted = code(typed)
    if not book.is_known(f"box:{wanted}"):
        raise UnknownSubject("box", wanted, near=near_codes(wanted, book.subjects("box")))
    return wanted


def near_codes(wanted: str, known: Sequence[str]) -> tuple[str, ...]:
    """Codes that may have been meant: A01 for A1 first, then those that look alike."""

    def bare(code: str) -> str:
        return re.sub(r"(?<!\d)0+(?=\d)", "", code)

    same = [code for code in known if bare(code) == bare(wanted)]
    alike = difflib.get_close_matches(wanted, known, n=3, cutoff=0.6)
    return tuple(dict.fromkeys((*same, *alike)))[:3]


def write(
    book: Book, facts: Sequence[Fact], *, pen: Pen, happened: Moment | None = None
) -> Recorded:
    """Writes facts in one go; they are on disk when this returns.

    Raises:
        Refusal: when ``happened`` is no date, lies in the future, or a fact does not fit.
    """
    happened = past(book, happened, pen=pen)
    return write_entries(book, [pen.entry(fact, happened=happened) for fact in facts], pen=pen)


def past(book: Book, happened: Moment | None, *, pen: Pen) -> Moment | None:
    """The moment, if it is one and has been in the keeper's zone; None stays None.

    Raises:
        Refusal: in a sentence.
    """
    return checked(happened, now=pen.now(), zone=zone_of(book)) if happened else None


def write_entries(
    book: Book, entries: Sequence[Entry], *, pen: Pen, expecting: Head | None = None
) -> Recorded:
    """Writes entries that have their ids already; one sent twice is written once.

    Raises:
        MovedOn: when the book no longer ends where it was expected to.
    """
    receipt = book.append(entries, written_at=pen.now(), expecting=expecting)
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
    entry = _entry(book, fact_id.strip().lower())
    if _is_withdrawn(book, entry.id):
        raise Refusal(tell("That fact was withdrawn already."))
    return entry


def _entry(book: Book, tail: str) -> Entry:
    entry = book.entry(tail)
    if entry is None and len(tail) >= SHORT_ID:
        ending = book.ids_ending(tail)
        if len(ending) > 1:
            raise Refusal(tell("%(tail)s ends more than one fact's id; say more of it.", tail=tail))
        entry = book.entry(ending[0]) if ending else None
    if entry is None:
        raise Refusal(tell("There is no fact %(tail)s in this book.", tail=tail))
    return entry


def _is_withdrawn(book: Book, fact_id: str) -> bool:
    return any(
        isinstance(later.fact, Withdrawn) and not _is_withdrawn(book, later.id)
        for later in book.entries_about(f"fact:{fact_id}")
    )


def withdraw(book: Book, fact_id: str, *, why: str, pen: Pen, even_so: bool = False) -> Recorded:
    """Calls an earlier fact a mistake; it stays readable. ``fact_id`` may be the end of an id.

    Raises:
        Refusal: when there is no such fact, it was withdrawn already, or later facts rest on it and
            ``even_so`` does not say that it goes all the same.
    """
    head = book.head()
    mistaken = standing_entry(book, fact_id)
    _may_go(book, mistaken, even_so=even_so)
    withdrawal = pen.entry(_withdrawal(mistaken, why))
    return write_entries(book, [withdrawal], pen=pen, expecting=head)


def withdraw_many(book: Book, ids: Sequence[str], *, why: str, pen: Pen) -> Recorded:
    """Withdraws facts written together, all that still count, in one go.

    Raises:
        Refusal: for an id that is not in the book, or a fact that later ones rest on.
    """
    head = book.head()
    entries = []
    for fact_id in ids:
        mistaken = _entry(book, fact_id)
        if not _is_withdrawn(book, mistaken.id):
            _may_go(book, mistaken, even_so=False)
            entries.append(pen.entry(_withdrawal(mistaken, why)))
    return write_entries(book, entries, pen=pen, expecting=head)


def _may_go(book: Book, mistaken: Entry, *, even_so: bool) -> None:
    if isinstance(mistaken.fact, BookOpened):
        raise Refusal(tell("Whose book this is cannot be withdrawn, only written anew."))
    if not even_so:
        _nothing_rests_on(book, mistaken)


def _nothing_rests_on(book: Book, mistaken: Entry) -> None:
    fact = mistaken.fact
    if not isinstance(fact, Founded | Split | Moved | LineNamed | BoxDescribed | PageOpened):
        return
    foremost = fact.subjects()[0]
    later = sum(entry.number > mistaken.number for entry in book.entries_about(foremost))
    if later:
        raise Refusal(
            tell(
                "%(later)s later facts about %(replace)s rest on this one (%(fact)s). Withdraw"
                " it even so only if they are mistakes too.",
                later=later,
                replace=foremost.replace(":", " "),
                fact=told(fact),
            )
        )


def correct(
    book: Book, fact_id: str, better: Fact, *, why: str, pen: Pen, happened: Moment | None = None
) -> Recorded:
    """Withdraws a fact and writes another in its place, both or neither.

    The new fact keeps the moment of the old one unless another is given.
    """
    head = book.head()
    mistaken = standing_entry(book, fact_id)
    when = past(book, happened, pen=pen) or mistaken.happened
    instead = pen.entry(better, happened=when)
    withdrawal = pen.entry(_withdrawal(mistaken, why, instead.id))
    return write_entries(book, [instead, withdrawal], pen=pen, expecting=head)


def _withdrawal(mistaken: Entry, why: str, instead: str | None = None) -> Withdrawn:
    touches = tuple(s for s in mistaken.fact.subjects() if not s.startswith("fact:"))
    return Withdrawn(mistaken=mistaken.id, why=why, instead=instead, touches=touches)
