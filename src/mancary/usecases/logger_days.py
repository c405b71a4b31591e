"""The local days of a logger's readings: lowest, highest, and means weighted by time."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise
from statistics import median
from typing import Final

from msgspec import Struct

from mancary.sheets.logger import LogRow

HOURS_FOR_A_MEAN: Final = 6.0
"""Ours: a mean of fewer hours tells of a part of the day only."""
_MOST_STEPS: Final = 2.0
"""Ours: a reading speaks for its usual step; over a longer gap nothing is known."""


class LogDay(Struct, frozen=True, kw_only=True):
    """One local day of a log: °C, humidity 0..1, means None under ``HOURS_FOR_A_MEAN`` hours."""

    day: date
    readings: int
    hours: float
    lowest_c: float
    highest_c: float
    mean_c: float | None
    rh_lowest: float | None
    rh_highest: float | None
    rh_mean: float | None


class _Spoken(Struct, frozen=True):
    """A reading and the hours it speaks for."""

    row: LogRow
    hours: float


def days_of(rows: Sequence[LogRow], zone: tzinfo) -> tuple[LogDay, ...]:
    """The days of readings in order of time, each reading in its local day.

    A reading speaks for half the time to each neighbour, for half the usual step where a neighbour
    is missing or more than two steps away, and never beyond its day.
    """
    days: dict[date, list[_Spoken]] = {}
    step = _usual(rows)
    for at, row in enumerate(rows):
        before = row.at - rows[at - 1].at if at else step
        after = rows[at + 1].at - row.at if at + 1 < len(rows) else step
        day = row.at.astimezone(zone).date()
        hours = _hours(row.at, _near(before, step), _near(after, step), day, zone)
        days.setdefault(day, []).append(_Spoken(row, hours))
    return tuple(_day(day, told) for day, told in sorted(days.items()))


def _usual(rows: Sequence[LogRow]) -> timedelta:
    steps = [(b.at - a.at).total_seconds() for a, b in pairwise(rows)]
    return timedelta(seconds=median(steps) if steps else 0)


def _near(gap: timedelta, step: timedelta) -> timedelta:
    return gap if gap <= step * _MOST_STEPS else step


def _hours(at: datetime, before: timedelta, after: timedelta, day: date, zone: tzinfo) -> float:
    begins = datetime.combine(day, time(), zone).astimezone(UTC)
    ends = datetime.combine(day + timedelta(days=1), time(), zone).astimezone(UTC)
    span = min(at + after / 2, ends) - max(at - before / 2, begins)
    return span.total_seconds() / 3600


def _day(day: date, told: Sequence[_Spoken]) -> LogDay:
    temps = [(one.row.temp_c, one.hours) for one in told]
    damps = [(one.row.rh, one.hours) for one in told if one.row.rh is not None]
    lows, damp = [t for t, _ in temps], [rh for rh, _ in damps]
    return LogDay(
        day=day,
        readings=len(told),
        hours=round(sum(one.hours for one in told), 1),
        lowest_c=round(min(lows), 2),
        highest_c=round(max(lows), 2),
        mean_c=_mean(temps, 2),
        rh_lowest=round(min(damp), 4) if damp else None,
        rh_highest=round(max(damp), 4) if damp else None,
        rh_mean=_mean(damps, 4),
    )


def _mean(told: Sequence[tuple[float, float]], digits: int) -> float | None:
    hours = sum(weight for _, weight in told)
    if hours < HOURS_FOR_A_MEAN:
        return None
    return round(sum(value * weight for value, weight in told) / hours, digits)
