"""An absence: the chance that a box's reserve is used up, and who must be visited on which day."""

import math
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from statistics import NormalDist
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell

RISK: Final = 0.2
"""Ours: a box is put on the stand-in's sheet before the chance that its reserve is used up passes
this. A damp end at its low mark is a warning, not yet a death."""

_Z95: Final = 1.6448536269514722
"""The standard normal's 95 % point (handbook tables; from memory, checked by a test)."""

LONGEST_DAYS: Final = 120

LEAST_GAP_DAYS: Final = 3
"""Ours: nobody is asked to come more often; a box that lasts less is told of instead."""

WIDE: Final = 5.0
"""Ours: a range whose high end is more than so many times its low one tells no visit days: by its
low end the stand-in would come daily, by its high one not at all."""


RestsOn = Literal["weighings", "model", "rhythm"]
"""The best a reserve is known by; weighings are its own or those of boxes of its make, and the
model's answer is never shorter than the rhythm's."""


class Reserve(Struct, frozen=True, kw_only=True):
    """How many days the damp end lasts after it was wetted: a 90 % range, and what it rests on.

    ``grams`` is what it holds above its low mark and ``g_per_day`` what it loses, both by their
    middle estimates; ``by_scale`` where weighings tell that loss well enough to pour by. ``doubt``
    says why its scale does not set the days, or is empty.
    """

    low_days: float
    high_days: float
    basis: str
    rests_on: RestsOn = "rhythm"
    grams: float = 0.0
    g_per_day: float = 0.0
    by_scale: bool = False
    doubt: str = ""


class Visit(Struct, frozen=True, kw_only=True):
    """A stand-in's day and the boxes wetted on it, in walking order."""

    day: date
    boxes: tuple[str, ...]


def chance_used_up(reserve: Reserve, days: float) -> float:
    """The chance that a reserve is used up within ``days``, 0..1.

    The days are taken as log-normal with the range as their 5 % and 95 % points (ours).

    Raises:
        Refusal: for a range that is none.
    """
    low, high = reserve.low_days, reserve.high_days
    if not 0 < low <= high:
        raise Refusal(tell("%(low)g to %(high)g days is no range.", low=low, high=high))
    if days <= 0:
        return 0.0
    if low == high:
        return float(days > low)
    spread = (math.log(high) - math.log(low)) / (2 * _Z95)
    middle = (math.log(high) + math.log(low)) / 2
    return 0.5 * (1 + math.erf((math.log(days) - middle) / spread / math.sqrt(2)))


def days_at(reserve: Reserve, risk: float) -> float:
    """The days within which the reserve is used up with the chance ``risk``, between 0 and 1."""
    spread = (math.log(reserve.high_days) - math.log(reserve.low_days)) / (2 * _Z95)
    middle = (math.log(reserve.high_days) + math.log(reserve.low_days)) / 2
    return math.exp(middle + NormalDist().inv_cdf(risk) * spread)


def shortened(reserve: Reserve, factor: float, why: str) -> Reserve:
    """The reserve where water goes ``factor`` times as fast."""
    return replace(
        reserve,
        low_days=reserve.low_days / factor,
        high_days=reserve.high_days / factor,
        g_per_day=reserve.g_per_day * factor,
        basis=tell("%(basis)s; %(why)s", reserve, why=why),
    )


def is_wide(low: float, high: float) -> bool:
    """Whether a range is too wide to plan by."""
    return low <= 0 or high > WIDE * low


def lasts_days(reserve: Reserve) -> int:
    """Whole days until its chance of being used up passes ``RISK``; at least one."""
    return max(1, math.floor(days_at(reserve, RISK) + 1e-9))


def visits(
    reserves: Mapping[str, Reserve], walk: Sequence[str], *, leaving: date, back: date
) -> tuple[Visit, ...]:
    """Days on which each of these boxes is wetted before its chance of being dry passes ``RISK``.

    All boxes are wetted on the day of ``leaving``. The box that lasts least sets the days, and on
    each of them those are wetted that would not last to the next one, so that the days are few;
    none is nearer than ``LEAST_GAP_DAYS`` to the one before, even where a box lasts less.

    Raises:
        Refusal: for an absence that ends before it begins, or is longer than ``LONGEST_DAYS``.
    """
    away = absence_days(leaving, back)
    lasts = {box: max(LEAST_GAP_DAYS, lasts_days(reserves[box])) for box in walk if box in reserves}
    until = dict(lasts)
    found: list[Visit] = []
    while until and (day := min(until.values())) < away:
        next_visit = day + min(lasts.values())
        here = [box for box in walk if box in until and until[box] < next_visit]
        found.append(Visit(day=leaving + timedelta(days=day), boxes=tuple(here)))
        until |= {box: day + lasts[box] for box in here}
    return tuple(found)


def absence_days(leaving: date, back: date) -> int:
    """The days from leaving to coming back.

    Raises:
        Refusal: as ``visits``.
    """
    days = (back - leaving).days
    if days < 1:
        raise Refusal(
            tell(
                "Back on %(back)s is not after leaving on %(leaving)s.", back=back, leaving=leaving
            )
        )
    if days > LONGEST_DAYS:
        raise Refusal(
            tell(
                "%(days)s days away: for more than %(longest_days)s no plan is made. Hand"
                " backups of your lines to another keeper, and have somebody keep the room.",
                days=days,
                longest_days=LONGEST_DAYS,
            )
        )
    return days
