"""The plan kept for an evening, and what of it is in the book already."""

from datetime import date, timedelta

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, CareSkipped
from mancary.husbandry.moments import first_day
from mancary.husbandry.order import in_order
from mancary.usecases.pen import Pen
from mancary.usecases.round_ahead import look_ahead
from mancary.usecases.round_kept import accept_round, accepted_plans, accepted_round, kept_days
from mancary.usecases.round_plan import Round, planned_anew, told_round
from mancary.usecases.zone import zone_of

LATE_DAYS = 2
"""Ours: so many days after its evening a round may still be done, unless a newer plan is kept."""

Named = tuple[str, str]
"""A box and a care."""


class KeptEvening(Struct, frozen=True, kw_only=True):
    """The plan kept for an evening; ``recorded`` is what of it was given or skipped, with its id.

    Up to ``until`` a care counts for this evening and not for a later one.
    """

    day: date
    until: date
    stops: tuple[tuple[str, tuple[str, ...]], ...]
    recorded: dict[Named, str]

    @property
    def cares(self) -> frozenset[Named]:
        return frozenset((box, care) for box, told in self.stops for care in told)

    @property
    def left(self) -> list[tuple[str, list[str]]]:
        """The stops with what of them is not in the book yet."""
        found = [
            (box, [care for care in told if (box, care) not in self.recorded])
            for box, told in self.stops
        ]
        return [(box, told) for box, told in found if told]


def kept_evening(book: Book, day: date) -> KeptEvening | None:
    """The plans kept for an evening, as one, or None where none was."""
    plans = accepted_plans(book, day)
    if not plans:
        return None
    cares: dict[str, dict[str, None]] = {}
    for _, plan in plans:
        for stop in plan.evenings[0].stops:
            cares.setdefault(stop.box, {}).update(dict.fromkeys(stop.cares))
    until = _until(book, day)
    recorded = _recorded(book, plans[0][0], day, until)
    stops = tuple((box, tuple(told)) for box, told in cares.items())
    planned = {(box, care) for box, told in stops for care in told}
    return KeptEvening(
        day=day,
        until=until,
        stops=stops,
        recorded={one: fact_id for one, fact_id in recorded.items() if one in planned},
    )


def last_kept(book: Book, *, until: date) -> date | None:
    """The latest evening up to a day that a plan was kept for."""
    days = sorted((date.fromisoformat(one) for one in book.subjects("round")), reverse=True)
    return next((day for day in days if day <= until and accepted_round(book, day)), None)


def _until(book: Book, day: date) -> date:
    days = sorted(date.fromisoformat(one) for one in book.subjects("round"))
    newer = next((one for one in days if one > day and accepted_round(book, one)), None)
    late = day + timedelta(days=LATE_DAYS)
    return min(late, newer - timedelta(days=1)) if newer else late


def _recorded(book: Book, plan: Entry, day: date, until: date) -> dict[Named, str]:
    zone = zone_of(book)
    start = min(day, first_day(plan.happened, zone))  # a late round's plan is kept after its day
    return {
        (entry.fact.box, entry.fact.care): entry.id
        for entry in in_order(book.entries(after=plan.number), zone)
        if isinstance(entry.fact, CareGiven | CareSkipped)
        and start <= first_day(entry.happened, zone) <= until
    }


def keep_evening(
    book: Book, *, on: date, named: bool, minutes: float | None = None, pen: Pen
) -> tuple[date, bool, bool]:
    """Keeps the plan of an evening unless one is kept: its day, whether one was, whether now.

    A round without stops is not kept.
    """
    day = on if named else look_ahead(book, on=on, named=False, minutes=minutes).evenings[0].day
    if accepted_round(book, day):
        return day, True, False
    return day, False, bool(_kept_now(book, day, minutes, pen).stops)


def _kept_now(book: Book, day: date, minutes: float | None, pen: Pen) -> Round:
    ahead = look_ahead(book, on=day, named=True, minutes=minutes)
    planned = planned_anew(ahead, kept_days(book))
    told = told_round(ahead, planned)
    if told.stops:
        accept_round(book, planned, pen=pen)
    return told
