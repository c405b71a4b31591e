"""The air of a shelf in the days of old weighings, day by day."""

from collections.abc import Sequence
from datetime import date, timedelta, tzinfo
from typing import Final

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.handbook import VentilationRoom
from mancary.husbandry.facts import ShelfPlaced
from mancary.husbandry.facts.places import Air
from mancary.husbandry.moments import first_day
from mancary.husbandry.order import keyed
from mancary.husbandry.water_loss import LEARN_DAYS
from mancary.usecases.shelf_readings import CLIMATE_KINDS, READ_WITHIN_DAYS, readings_at, told_by
from mancary.usecases.unchanged import Unchanged

_FAR_DAYS: Final = LEARN_DAYS + 2 * READ_WITHIN_DAYS
"""The oldest reading that a stretch which still teaches may need, unless it is very long."""


class ShelfPast(Struct, frozen=True, kw_only=True):
    """A shelf's readings (day, °C, humidity 0..1 or None) and its air, each in order of time."""

    readings: tuple[tuple[date, float, float | None], ...]
    airs: tuple[tuple[date, Air], ...]
    room: VentilationRoom

    def between(self, first: date, second: date) -> tuple[float | None, float | None]:
        """Mean °C and humidity of the days, else of the weeks before, else the first one after.

        None where it was not read in any of them, nor in the weeks after.
        """
        warm = [(day, temp_c) for day, temp_c, _ in self.readings]
        damp = [(day, rh) for day, _, rh in self.readings if rh is not None]
        return _mean(warm, first, second), _mean(damp, first, second)

    def air_on(self, day: date) -> Air:
        """How the air moved there; what is told for the first time was so before."""
        told = [air for since, air in self.airs if since <= day]
        return told[-1] if told else self.airs[0][1] if self.airs else "room"


def _mean(told: Sequence[tuple[date, float]], first: date, second: date) -> float | None:
    weeks = timedelta(days=READ_WITHIN_DAYS)
    within = [value for day, value in told if first <= day <= second]
    before = [value for day, value in told if second - weeks <= day <= second]
    after = [value for day, value in told if second < day <= second + weeks]
    values = within or before or after[:1]
    return sum(values) / len(values) if values else None


_PASTS: Final[Unchanged[str, ShelfPast]] = Unchanged(states=2, kinds=CLIMATE_KINDS)


def past_of(book: Book, shelf: str, *, on: date, zone: tzinfo) -> ShelfPast:
    """What is told of a shelf's air up to a day, gathered once while the book stays as it is."""
    return _PASTS.get(book, (on, zone), shelf, lambda: _past(book, shelf, on, zone))


def _past(book: Book, shelf: str, on: date, zone: tzinfo) -> ShelfPast:
    entries = book.entries_about(f"shelf:{shelf}") if shelf else []
    since = on - timedelta(days=_FAR_DAYS)
    found = []
    for one in readings_at(book, shelf, on=on, zone=zone):
        if one.first >= since and one.fact.lowest_c <= one.fact.highest_c:
            told = told_by(book, one, zone)
            humidity = told.humidity.middle if told.humidity else None
            found.append((one.first, told.temperature.middle, humidity))
    airs = tuple(
        (first_day(entry.happened, zone), entry.fact.air)
        for _, _, entry in keyed(entries, zone)
        if isinstance(entry.fact, ShelfPlaced)
        and entry.fact.air
        and first_day(entry.happened, zone) <= on
    )
    return ShelfPast(readings=tuple(found), airs=airs, room=handbook.ventilation_room())
