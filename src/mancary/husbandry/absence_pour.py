"""What a stand-in pours: no more than the box has lost by then, so that none is drowned.

The keeper wets every box up to just right on the day of leaving. From then on all that is poured
is set against what the box loses by its middle estimate.
"""

import math
from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct

from mancary.husbandry.absence import Reserve, Visit
from mancary.husbandry.sentences import tell

_LEAST_ML = 1
"""Ours: less cannot be poured."""

Usual = tuple[float, float]
"""The handbook's mL for a box of its size, low and high."""


class Pour(Struct, frozen=True, kw_only=True):
    """What a box gets on each of its visits, whole mL, and in words."""

    low_ml: int
    high_ml: int

    @property
    def said(self) -> str:
        """The mL in words, such as "5-8 mL at one end"."""
        both = f"{self.low_ml}-{self.high_ml}" if self.low_ml < self.high_ml else f"{self.high_ml}"
        return tell("%(both)s mL at one end", both=both)


def with_pours(
    visits: Sequence[Visit],
    reserves: Mapping[str, Reserve],
    usual: Mapping[str, Usual],
    *,
    leaving: date,
) -> tuple[tuple[Visit, ...], dict[str, Pour]]:
    """The visits with what each box gets on every one of its own.

    A visit on which a box could not take a millilitre falls away, and a day without boxes too.
    """
    days: dict[str, list[int]] = {}
    for visit in visits:
        for box in visit.boxes:
            days.setdefault(box, []).append((visit.day - leaving).days)
    pours: dict[str, Pour] = {}
    for box, told in days.items():
        while told and box not in pours:
            if pour := pour_on(reserves[box], usual.get(box), told):
                pours[box] = pour
            else:
                told.pop(0)
    left = (
        Visit(day=one.day, boxes=_still(one.boxes, days, (one.day - leaving).days))
        for one in visits
    )
    return tuple(one for one in left if one.boxes), pours


def _still(boxes: Sequence[str], days: Mapping[str, list[int]], day: int) -> tuple[str, ...]:
    return tuple(box for box in boxes if day in days[box])


def pour_on(reserve: Reserve, usual: Usual | None, days: Sequence[int]) -> Pour | None:
    """What a box gets on each of these days after leaving; None for less than a millilitre.

    By its scale it gets what it has lost. Else it gets the handbook's amount for its size, but at
    no visit has more been poured than it has lost since the leaving and one reserve. Never does it
    get more at once than the handbook's most for its size.
    """
    low, high = usual or (math.inf, math.inf)
    most = min(_most(reserve, days) + 1e-9, high)
    if most < _LEAST_ML:
        return None
    least = most if reserve.by_scale else min(low, most)
    return Pour(low_ml=max(_LEAST_ML, math.floor(least)), high_ml=math.floor(most))


def _most(reserve: Reserve, days: Sequence[int]) -> float:
    over = 0.0 if reserve.by_scale else reserve.grams
    return min((reserve.g_per_day * day + over) / n for n, day in enumerate(days, 1))
