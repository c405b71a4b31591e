"""A day of a log beside the same day in the book: as it is there, read on, or a part of it."""

import re
from collections.abc import Sequence
from datetime import date, tzinfo
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace as but

from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.sentences import in_a_row, tell
from mancary.sheets.logger import LogRow
from mancary.usecases.logger_days import HOURS_FOR_A_MEAN, LogDay, days_of

State = Literal["new", "changed", "same", "kept", "differs"]

_SPAN = r"\d\d:\d\d-\d\d:\d\d"
_NOTE: Final = re.compile(
    rf"logger: (\d+) readings? over ([\d.]+) h(?: \(({_SPAN}(?:, {_SPAN})*)\))?.*"
)
_ROUNDED_C: Final = 0.015
_ROUNDED_RH: Final = 0.00015
"""A mean of two parts was rounded thrice: to a hundredth of 1 °C, or of 1 %."""


class Reckoned(Struct, frozen=True, kw_only=True):
    """A day of the log beside the book: ``new``, ``changed`` (the day in the book is withdrawn),
    ``same``, ``kept`` where the book's day rests on more readings than this log has, or
    ``differs`` where the log cannot be the same one read on: it is asked about.

    ``joined`` where the book and the log each have hours of the day that the other has not: then
    ``day`` is both together.
    """

    day: LogDay
    state: State
    joined: bool = False


def noted(day: LogDay) -> str:
    """What is written beside a day of a log: its readings, their hours, and which."""
    some = "reading" if day.readings == 1 else "readings"
    spans = tell(" (%(all)s)", all=in_a_row(", ", day.spans)) if day.spans else ""
    return tell(
        "logger: %(readings)s %(some)s over %(hours)g h%(spans)s", day, some=some, spans=spans
    )


def in_book(fact: ShelfRead, day: date) -> LogDay | None:
    """A day of an earlier log as the book has it; None for a reading by hand."""
    found = _NOTE.fullmatch(fact.note)
    if found is None:
        return None
    return LogDay(
        day=day,
        readings=int(found[1]),
        hours=float(found[2]),
        lowest_c=fact.lowest_c,
        highest_c=fact.highest_c,
        mean_c=fact.mean_c,
        rh_lowest=fact.rh_lowest,
        rh_highest=fact.rh_highest,
        rh_mean=fact.rh_mean,
        spans=tuple(found[3].split(", ")) if found[3] else (),
    )


def is_same(one: LogDay, other: LogDay) -> bool:
    """Whether two days tell the same figures; means may differ by their rounding."""
    if _ends(one) != _ends(other):
        return False
    return _near(one.mean_c, other.mean_c, _ROUNDED_C) and _near(
        one.rh_mean, other.rh_mean, _ROUNDED_RH
    )


def beside(
    day: LogDay, rows: Sequence[LogRow], held: Sequence[LogDay], zone: tzinfo, *, replace: bool
) -> Reckoned:
    """A day of a log, of these readings, beside the days that the book ``held`` of the same log."""
    if not held:
        return Reckoned(day=day, state="new")
    if any(is_same(one, day) for one in held):
        return Reckoned(day=day, state="same")
    if replace:
        return Reckoned(day=day, state="changed")
    last = max(held, key=lambda one: one.readings)
    if len(held) == 1 and last.spans and _lacks(day, last):
        beyond = [row for row in rows if not _covers(last, row, zone)]
        shared = [row for row in rows if _covers(last, row, zone)]
        if beyond:
            if not all(_lies_in(row, last) for row in shared):
                return Reckoned(day=day, state="differs")
            (part,) = days_of(beyond, zone, least_hours=0)
            return Reckoned(day=_joined(last, part), state="changed", joined=True)
    return Reckoned(day=day, state=_state(day, held, last.readings))


def _state(day: LogDay, held: Sequence[LogDay], most: int) -> State:
    if most == day.readings or not all(
        _agree(one, day, longer=most < day.readings) for one in held
    ):
        return "differs"
    return "kept" if most > day.readings else "changed"


def _agree(held: LogDay, day: LogDay, *, longer: bool) -> bool:
    """Whether the day of one is the other's read on: the longer has the shorter's extremes."""
    more, less = (day, held) if longer else (held, day)
    return all(
        wide is None or narrow is None or by * (wide - narrow) >= 0
        for wide, narrow, by in zip(_ends(more), _ends(less), (-1, 1, -1, 1), strict=True)
    )


def _ends(day: LogDay) -> tuple[float | None, ...]:
    return day.lowest_c, day.highest_c, day.rh_lowest, day.rh_highest


def _near(one: float | None, other: float | None, by: float) -> bool:
    return one == other if one is None or other is None else abs(one - other) <= by


def _lacks(day: LogDay, held: LogDay) -> bool:
    """Whether the book has hours of the day that the log has not."""
    return not all(
        any(mine[:5] <= theirs[:5] and theirs[6:] <= mine[6:] for mine in day.spans)
        for theirs in held.spans
    )


def _covers(held: LogDay, row: LogRow, zone: tzinfo) -> bool:
    clock = f"{row.at.astimezone(zone):%H:%M}"
    return any(span[:5] <= clock <= span[6:] for span in held.spans)


def _lies_in(row: LogRow, held: LogDay) -> bool:
    """Whether the book's day can hold this reading: ends are rounded to a hundredth."""
    warm = held.lowest_c <= round(row.temp_c, 2) <= held.highest_c
    if row.rh is None or held.rh_lowest is None or held.rh_highest is None:
        return warm
    return warm and held.rh_lowest <= round(row.rh, 4) <= held.rh_highest


def _joined(held: LogDay, part: LogDay) -> LogDay:
    """Both together, where ``part`` has none of the other's hours; means weighted by hours."""
    low, high = _least(held.rh_lowest, part.rh_lowest), _most(held.rh_highest, part.rh_highest)
    hours = (held.hours, part.hours)
    return but(
        held,
        readings=held.readings + part.readings,
        hours=round(sum(hours), 1),
        lowest_c=min(held.lowest_c, part.lowest_c),
        highest_c=max(held.highest_c, part.highest_c),
        mean_c=_weighted((held.mean_c, part.mean_c), hours, 2),
        rh_lowest=low,
        rh_highest=high,
        rh_mean=_weighted((held.rh_mean, part.rh_mean), hours, 4),
        spans=tuple(sorted((*held.spans, *part.spans))),
    )


def _least(*told: float | None) -> float | None:
    return min((one for one in told if one is not None), default=None)


def _most(*told: float | None) -> float | None:
    return max((one for one in told if one is not None), default=None)


def _weighted(
    means: tuple[float | None, ...], hours: tuple[float, ...], digits: int
) -> float | None:
    """The mean of the hours whose mean is known, where they are enough."""
    known = [(one, by) for one, by in zip(means, hours, strict=True) if one is not None]
    whole = sum(by for _, by in known)
    if whole < HOURS_FOR_A_MEAN:
        return None
    return round(sum(one * by for one, by in known) / whole, digits)
