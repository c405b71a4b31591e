"""How many animals may go from a colony now: the least of several bounds, and which one bound.

The rule is the trade's caution put in numbers: what growth bears of the smaller sizes it may have,
never more than a third, never under a floor, nothing where it is young, lately thinned or in doubt.
"""

from datetime import date, timedelta
from typing import Final

import numpy as np
from msgspec import Struct

from mancary.handbook import growth
from mancary.handbook.growth import Archetype
from mancary.husbandry.colony_belief import Outlook
from mancary.husbandry.colony_growth import Runs
from mancary.husbandry.colony_past import WEEK, Past
from mancary.husbandry.sentences import tell
from mancary.husbandry.shelf_climate import percent
from mancary.husbandry.watch_reasons import chance_said
from mancary.husbandry.watch_rows import empty_since
from mancary.science.stage_matrix import growth_per_week

FLOOR, SLOW_FLOOR = 40, 25
"""Juveniles and adults that stay at least; of slow forms. Common practice."""
REST: Final = timedelta(days=91)
"""Nothing goes within three months of the last taking; common practice."""
ON_WATCH: Final = 0.10
"""Ours: from this chance of falling below five on, nothing goes."""
GROWING: Final = 0.9
LARGEST_SHARE: Final = 1 / 3
SPARED: Final = 0.5
"""Ours: half of what growth bears is offered."""
_MONTH_WEEKS: Final = 30.44 / WEEK
_LONGEST_MONTHS: Final = 12.0
FULL_G_M2: Final = 50.0
"""g of animals a m² of usable floor from which a box counts as nearly full; see the guide."""
_CERTAIN_MONTHS: Final = 12

SIZES: Final = tell(
    "Take half-grown ones and males in the proportion they come to hand; leave the"
    " big females, who bear most, and pass on none that carries a brood (common"
    " practice)."
)


class Bound(Struct, frozen=True, kw_only=True):
    """One bound: how many it allows, what it is, and what it rests on."""

    name: str
    animals: int
    said: str


class Surplus(Struct, frozen=True, kw_only=True):
    """How many may go; ``bound`` names the bound that bound, ``bounds`` are all, least first."""

    animals: int
    bound: str
    bounds: tuple[Bound, ...]
    sizes: str
    monthly_share: float | None
    growing: float
    basis: str


def surplus_of(
    past: Past,
    archetype: Archetype,
    outlook: Outlook,
    runs: Runs,
    *,
    on: date,
    temp_c: float,
    g_m2: float,
    out_of_range: str = "",
) -> Surplus:
    """The bounds on a day. ``g_m2`` is the middle of the animals' mass on usable floor.

    ``out_of_range`` says how its shelf is too warm or too cold, empty where it is not.
    """
    share, monthly = _sustainable(past, runs, on=on, temp_c=temp_c, g_m2=g_m2)
    growing = growing_chance(outlook, g_m2)
    low, floor = outlook.low_tenth, floor_of(archetype)
    slow = tell("slow forms") if archetype.slow else tell("such forms")
    bounds = [
        *_forbidden(past, archetype, outlook, growing, out_of_range, on=on),
        Bound(
            name="growth",
            animals=_whole(low * share),
            said=tell(
                "what growth bears since animals were last taken, %(share)s, of the %(low).0f"
                " it has with a chance of nine in ten",
                share=percent(share),
                low=low,
            ),
        ),
        Bound(
            name="third",
            animals=_whole(low * LARGEST_SHARE),
            said=tell("a third of the %(low).0f it has with a chance of nine in ten", low=low),
        ),
        Bound(
            name="floor",
            animals=_whole(low - floor),
            said=tell(
                "%(floor)s stay at least, of %(slow)s (common practice)", floor=floor, slow=slow
            ),
        ),
    ]
    bounds.sort(key=lambda one: one.animals)
    return Surplus(
        animals=bounds[0].animals,
        bound=bounds[0].name,
        bounds=tuple(bounds),
        sizes=SIZES,
        monthly_share=monthly,
        growing=growing,
        basis=tell(
            "The belief's tenth percentile of juveniles and adults; growth by the stage"
            " model (%(basis)s); floors and waits are common practice, no source.",
            archetype,
        ),
    )


def floor_of(archetype: Archetype) -> int:
    """So many juveniles and adults stay at least."""
    return SLOW_FLOOR if archetype.slow else FLOOR


def growing_chance(outlook: Outlook, g_m2: float) -> float:
    """The chance that it grows: that it lives and is in a growing regime.

    In a nearly full box it is the floor that holds it, and not to shrink is enough (ours).
    """
    return max(outlook.p_growing, outlook.p_holding if g_m2 >= FULL_G_M2 else 0.0)


def _whole(animals: float) -> int:
    return max(0, int(animals))


def _sustainable(
    past: Past, runs: Runs, *, on: date, temp_c: float, g_m2: float
) -> tuple[float, float]:
    """The share that may go now, and a month's: half of the tenth percentile of its growth."""
    known = growth.conditions()
    rates = growth_per_week(runs.rates, known, temp_c)
    weekly = float(np.quantile(rates, 0.1)) / (1.0 + g_m2 / known.growth_half_g_m2)
    monthly = SPARED * -np.expm1(-max(0.0, weekly) * _MONTH_WEEKS)
    since = past.last_taken or past.since
    months = min(_LONGEST_MONTHS, (on - since).days / 30.44)
    return float(1.0 - (1.0 - monthly) ** months), float(monthly)


def _forbidden(
    past: Past,
    archetype: Archetype,
    outlook: Outlook,
    growing: float,
    out_of_range: str,
    *,
    on: date,
) -> list[Bound]:
    found = []
    empty = empty_since(past)
    if empty is not None:
        found.append(
            Bound(
                name=tell("none seen"),
                animals=0,
                said=tell("none were seen since %(empty)s when looked for", empty=empty),
            )
        )
    if not second_brood(past, archetype, outlook, on=on):
        found.append(
            Bound(
                name=tell("second brood"),
                animals=0,
                said=tell(
                    "no second brood is noted: young seen twice, a brood's time apart, are"
                    " waited for (common practice)"
                ),
            )
        )
    taken = past.last_taken
    if taken is not None and on - taken < REST:
        found.append(
            Bound(
                name=tell("last taking"),
                animals=0,
                said=tell(
                    "animals were taken on %(taken)s; nothing before %(taken2)s",
                    taken=taken,
                    taken2=taken + REST,
                ),
            )
        )
    if outlook.p_below >= ON_WATCH:
        found.append(
            Bound(
                name="watch",
                animals=0,
                said=tell(
                    "on watch: %(p_below)s to fall below five in twelve weeks",
                    p_below=chance_said(outlook.p_below),
                ),
            )
        )
    if growing < GROWING:
        found.append(
            Bound(
                name="growing",
                animals=0,
                said=tell(
                    "that it grows is only %(growing)s sure, %(growing2)s is asked: a full"
                    " count would tell most",
                    growing=percent(growing),
                    growing2=percent(GROWING),
                ),
            )
        )
    if out_of_range:
        found.append(Bound(name="warmth", animals=0, said=out_of_range))
    return found


def second_brood(past: Past, archetype: Archetype, outlook: Outlook, *, on: date) -> bool:
    """Whether a second brood is behind it.

    Young seen twice, three quarters of a brood's time and rest apart; or, ours, a year of age and
    surely more than the floor of animals.
    """
    traits = archetype.traits
    apart = 0.75 * (traits.brood_weeks.mode + traits.rest_weeks.mode)
    weeks = [look.week for look in past.looks if look.young]
    if weeks and weeks[-1] - weeks[0] >= apart:
        return True
    old = (on - past.since).days / 30.44 >= _CERTAIN_MONTHS
    return old and outlook.low_tenth >= floor_of(archetype)
