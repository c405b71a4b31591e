"""Whose log a file is, and the days of it that the book has already."""

from collections.abc import Sequence
from datetime import date, tzinfo
from typing import Final

from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.order import in_order
from mancary.husbandry.sentences import in_a_row, tell
from mancary.usecases.logger_beside import in_book, is_same
from mancary.usecases.logger_days import LogDay

Held = dict[date, tuple[Entry, ...]]
_BARE_DAY: Final = 10


def held_of(book: Book, shelf: str, zone: tzinfo) -> dict[str, Held]:
    """The days of earlier logs of a shelf that stand, by instrument; "" for none named."""
    found: dict[str, Held] = {}
    for entry in in_order(book.entries_about(f"shelf:{shelf}"), zone):
        if isinstance(entry.fact, ShelfRead) and (day := written_day(entry)):
            days = found.setdefault(entry.fact.instrument or "", {})
            days[day.day] = (*days.get(day.day, ()), entry)
    return found


def written_day(entry: Entry) -> LogDay | None:
    """The day of an earlier log that an entry wrote; None for any other."""
    if not isinstance(entry.fact, ShelfRead) or len(entry.happened) != _BARE_DAY:
        return None
    return in_book(entry.fact, date.fromisoformat(entry.happened))


def _has_one_of(held: Held, days: Sequence[LogDay]) -> bool:
    """Whether a day of enough hours is in the book with these very figures: the same log then."""
    return any(
        day.mean_c is not None
        and (told := written_day(entry)) is not None
        and told.readings == day.readings
        and is_same(told, day)
        for day in days
        for entry in held.get(day.day, ())
    )


def whose_log(
    held: dict[str, Held], days: Sequence[LogDay], said: str
) -> tuple[str, Held, tuple[str, ...]]:
    """Whose log it is, the days in the book that are earlier ones of it, and notes on that.

    The same log may have been taken in once with its code and once without.
    """
    bare, own = held.get("", {}), held.get(said, {})
    if not said:
        named = sorted(name for name in held if name and _has_one_of(held[name], days))
        if not named or _has_one_of(bare, days):
            return said, own, ()
        note = tell(
            "Taken as %(named)s's log: the book has a day of it with these very figures.",
            named=named[0],
        )
        return named[0], held[named[0]], (note,)
    if not _has_one_of(bare, days):
        return said, own, ()
    known = [day.day for day in days if day.day in bare and day.day not in own]
    note = tell(
        "The book has this log without a code: %(known)s; written anew it is %(said)s's.",
        known=days_said(known),
        said=said,
    )
    return said, {**bare, **own}, (note,) if known else ()


def is_nameless(entry: Entry) -> bool:
    """Whether an entry is a day of a log taken in without its code."""
    return isinstance(entry.fact, ShelfRead) and not entry.fact.instrument


def days_said(days: Sequence[date]) -> str:
    """Days one after the other, as ISO dates."""
    return in_a_row(", ", (f"{day}" for day in days))
