"""The local days of a logger's readings: lowest, highest, and means weighted by time."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import lru_cache
from itertools import pairwise
from statistics import median
from typing import Final

from msgspec import Struct

from mancary.sheets.logger import LogRow

HOURS_FOR_A_MEAN: Final = 6.0
"""Ours: a mean of fewer hours tells of a part of the day only."""
_MOST_STEPS: Final = 2.0
"""Ours: a reading speaks for its usual step; over a longer gap nothing is known."""

_LONGEST: Final = timedelta(hours=1)
"""Ours: so long one reading speaks at most; two readings a day tell of two hours, not sixteen."""


class LogDay(Struct, frozen=True, kw_only=True):
    """One local day of a log: °C, humidity 0..1, means None under ``HOURS_FOR_A_MEAN`` hours.

    ``spans`` are the hours of the day, "00:00-12:50", that its readings lie in without a hole.
    """

    day: date
    readings: int
    hours: float
    lowest_c: float
    highest_c: float
    mean_c: float | None
    rh_lowest: float | None
    rh_highest: float | None
    rh_mean: float | None
    spans: tuple[str, ...] = ()


class _Spoken(Struct, frozen=True):
    """A reading and the hours of a day it speaks for; ``own`` where it was made on that day."""

    row: LogRow
    hours: float
    own: bool


def days_of(
    rows: Sequence[LogRow], zone: tzinfo, *, least_hours: float = HOURS_FOR_A_MEAN
) -> tuple[LogDay, ...]:
    """The days of readings in order of time, each reading in its local day.

    Of fewer than ``least_hours`` hours there is no mean.

    A reading speaks for half the time to each neighbour, for half the usual step where a neighbour
    is missing or more than two steps away, for an hour in all at most; near midnight for a part of
    the other day too.
    """
    days: dict[date, list[_Spoken]] = {}
    step = _usual(rows)
    for at, row in enumerate(rows):
        before = row.at - rows[at - 1].at if at else step
        after = rows[at + 1].at - row.at if at + 1 < len(rows) else step
        begins, ends = row.at - _near(before, step) / 2, row.at + _near(after, step) / 2
        own = row.at.astimezone(zone).date()
        for day in {begins.astimezone(zone).date(), own, ends.astimezone(zone).date()}:
            spoken = _Spoken(row, _hours(begins, ends, day, zone), own=day == own)
            days.setdefault(day, []).append(spoken)
    hole = max(step * _MOST_STEPS, _LONGEST)
    return tuple(
        _day(day, told, least_hours, _spans([one.row for one in told if one.own], hole, zone))
        for day, told in sorted(days.items())
        if any(one.own for one in told)
    )


def _usual(rows: Sequence[LogRow]) -> timedelta:
    steps = [(b.at - a.at).total_seconds() for a, b in pairwise(rows)]
    return timedelta(seconds=median(steps) if steps else 0)


def _near(gap: timedelta, step: timedelta) -> timedelta:
    return min(gap if gap <= step * _MOST_STEPS else step, _LONGEST)


def _hours(begins: datetime, ends: datetime, day: date, zone: tzinfo) -> float:
    first, last = _bounds(day, zone)
    return max(0.0, (min(ends, last) - max(begins, first)).total_seconds() / 3600)


@lru_cache(maxsize=1024)
def _bounds(day: date, zone: tzinfo) -> tuple[datetime, datetime]:
    first = datetime.combine(day, time(), zone).astimezone(UTC)
    return first, datetime.combine(day + timedelta(days=1), time(), zone).astimezone(UTC)


def _spans(own: Sequence[LogRow], hole: timedelta, zone: tzinfo) -> tuple[str, ...]:
    runs = [own[:1]]
    for before, row in pairwise(own):
        if row.at - before.at > hole:
            runs.append([row])
        else:
            runs[-1] = [*runs[-1][:1], row]
    return tuple(
        f"{run[0].at.astimezone(zone):%H:%M}-{run[-1].at.astimezone(zone):%H:%M}" for run in runs
    )


def _day(day: date, told: Sequence[_Spoken], least_hours: float, spans: tuple[str, ...]) -> LogDay:
    own = [one.row for one in told if one.own]
    warm = [row.temp_c for row in own]
    damp = [row.rh for row in own if row.rh is not None]
    damps = [(one.row.rh, one.hours) for one in told if one.row.rh is not None]
    return LogDay(
        day=day,
        readings=len(own),
        hours=round(sum(one.hours for one in told), 1),
        lowest_c=round(min(warm), 2),
        highest_c=round(max(warm), 2),
        mean_c=_mean([(one.row.temp_c, one.hours) for one in told], 2, least_hours),
        rh_lowest=round(min(damp), 4) if damp else None,
        rh_highest=round(max(damp), 4) if damp else None,
        rh_mean=_mean(damps, 4, least_hours) if damp else None,
        spans=spans,
    )


def _mean(told: Sequence[tuple[float, float]], digits: int, least_hours: float) -> float | None:
    hours = sum(weight for _, weight in told)
    if hours <= 0 or hours < least_hours:
        return None
    return round(sum(value * weight for value, weight in told) / hours, digits)
