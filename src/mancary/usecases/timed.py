"""Evenings the keeper timed, and the minutes learned from them."""

from collections import Counter
from datetime import date
from typing import TYPE_CHECKING

from mancary import handbook
from mancary.book import Book
from mancary.handbook import Effort
from mancary.husbandry.facts import CareGiven, RoundTimed, Withdrawn
from mancary.husbandry.moments import first_day
from mancary.husbandry.order import in_order
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, past, write
from mancary.usecases.zone import zone_of

if TYPE_CHECKING:
    from mancary.husbandry.learning import CareMinutes

_LAST = 40
"""So many of the latest timed evenings are learned from."""


def time_round(book: Book, day: date, minutes: float, *, pen: Pen) -> Recorded:
    """Writes down how long an evening's work took, in minutes.

    Raises:
        Refusal: for an evening to come, or minutes that are none.
    """
    past(book, day.isoformat(), pen=pen)
    return write(book, [RoundTimed(day=day.isoformat(), minutes=minutes)], pen=pen)


def timed_evenings(book: Book) -> list[tuple[dict[str, int], float]]:
    """The latest timed evenings: counts of boxes opened and cares given, and minutes."""
    timed: dict[str, float] = {}
    zone = zone_of(book)
    for entry in in_order(book.entries_of((RoundTimed.kind, Withdrawn.kind)), zone):
        if isinstance(entry.fact, RoundTimed):
            timed[entry.fact.day] = entry.fact.minutes
    last = dict(sorted(timed.items())[-_LAST:])
    if not last:
        return []
    counts: dict[str, Counter[str]] = {day: Counter() for day in last}
    opened: dict[str, set[str]] = {day: set() for day in last}
    for entry in in_order(book.entries_of((CareGiven.kind, Withdrawn.kind)), zone):
        day = first_day(entry.happened, zone).isoformat()
        if day in counts and isinstance(entry.fact, CareGiven):
            counts[day][entry.fact.care] += 1
            opened[day].add(entry.fact.box)
    return [
        ({**counts[day], "opening": len(opened[day])}, minutes)
        for day, minutes in last.items()
        if opened[day]
    ]


def minutes_known(book: Book) -> "dict[str, CareMinutes]":
    """Minutes of opening a box and of each care, as far as the keeper's own evenings tell."""
    from mancary.husbandry.learning import own_minutes  # scipy is slow to import

    return own_minutes(handbook.efforts(), handbook.opening(), timed_evenings(book))


def efforts_known(book: Book) -> tuple[dict[str, Effort], float, str]:
    """The efforts with the keeper's own minutes, the minutes to open a box, and their basis."""
    if not book.entries_of((RoundTimed.kind,)):
        return handbook.efforts(), handbook.opening().minutes, ""
    from msgspec.structs import replace

    known = minutes_known(book)
    efforts = {
        care: replace(effort, minutes_low=known[care].minutes, minutes_high=known[care].minutes)
        for care, effort in handbook.efforts().items()
    }
    return efforts, known["opening"].minutes, known["opening"].basis
