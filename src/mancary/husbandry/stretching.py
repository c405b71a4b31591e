"""When the work cannot fit for weeks: which rhythms to stretch, and by how much.

Each unit is one care of one care group. A step lengthens one rhythm by a tenth; the step taken is
always the one that costs the least harm for the minutes it saves. Up to the end of a rhythm's own
range and its tolerance a step costs nothing. The rule and its figures are ours.
"""

from collections.abc import Sequence
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

_STEP: Final = 1.1
_MOST: Final = 3.0
"""No rhythm is stretched to more than so many times its usual one."""

WEEK_DAYS: Final = 7


class Unit(Struct, frozen=True, kw_only=True):
    """One care of one care group: so many boxes, minutes each, every ``days``.

    Up to ``forgiven_days`` nothing is lost; each further day costs ``harm`` minutes a box.
    ``usual_days`` is the rhythm before any stretching, where ``days`` was stretched already.
    """

    care: str
    group: str
    boxes: int
    minutes: float
    days: float
    forgiven_days: float
    harm: float
    stretched_days: float = 0.0
    usual_days: float = 0.0

    @property
    def now_days(self) -> float:
        return self.stretched_days or self.days

    @property
    def weekly_minutes(self) -> float:
        return self.boxes * self.minutes * WEEK_DAYS / self.now_days

    @property
    def weekly_harm(self) -> float:
        late = max(0.0, self.now_days - self.forgiven_days)
        return self.boxes * self.harm * late * WEEK_DAYS / self.now_days


class Stretched(Struct, frozen=True, kw_only=True):
    """Units with the rhythms proposed, and the minutes a week before and after."""

    units: tuple[Unit, ...]
    minutes_before: float
    minutes_after: float
    minutes_offered: float

    @property
    def fits(self) -> bool:
        return self.minutes_after <= self.minutes_offered + 1e-9


def weekly_minutes(units: Sequence[Unit], *, opening_minutes: float) -> float:
    """Minutes a week: the cares, and the openings, as many as each group's most frequent care."""
    groups: dict[str, tuple[float, int]] = {}
    for unit in units:
        days, boxes = groups.get(unit.group, (unit.now_days, 0))
        groups[unit.group] = min(days, unit.now_days), max(boxes, unit.boxes)
    openings = sum(boxes * WEEK_DAYS / days for days, boxes in groups.values())
    return sum(unit.weekly_minutes for unit in units) + opening_minutes * openings


def stretch(units: Sequence[Unit], *, offered: float, opening_minutes: float) -> Stretched:
    """Rhythms under which the work fits into ``offered`` minutes a week, as far as it can."""
    held = list(units)
    before = weekly_minutes(held, opening_minutes=opening_minutes)
    after = before
    while after > offered:
        steps = [(_price(unit), number) for number, unit in enumerate(held) if _may(unit)]
        if not steps:
            break
        _, number = min(steps)
        held[number] = _stepped(held[number])
        after = weekly_minutes(held, opening_minutes=opening_minutes)
    return Stretched(
        units=tuple(unit for unit in held if unit.stretched_days),
        minutes_before=before,
        minutes_after=after,
        minutes_offered=offered,
    )


def _may(unit: Unit) -> bool:
    return unit.now_days * _STEP <= (unit.usual_days or unit.days) * _MOST + 1e-9


def _stepped(unit: Unit) -> Unit:
    return replace(unit, stretched_days=unit.now_days * _STEP)


def _price(unit: Unit) -> float:
    longer = _stepped(unit)
    saved = unit.weekly_minutes - longer.weekly_minutes
    return (longer.weekly_harm - unit.weekly_harm) / saved if saved > 0 else float("inf")
