"""How long a box's damp end lasts once it is wetted, from the best that is known of it."""

import math
from typing import Final

from mancary.husbandry.absence import Reserve
from mancary.husbandry.box_air import modelled, place_on, warmer_said
from mancary.husbandry.shelf_climate import ShelfClimate
from mancary.husbandry.states import Box
from mancary.husbandry.water_marks import assumed_reserve
from mancary.husbandry.water_state import BoxWater
from mancary.usecases.wants import BoxWants

_LONGEST = 2.0
"""Ours: where nothing was weighed the damp end is taken to last no less than the shortest of its
misting rhythm, for so long keepers leave it without harm, and up to twice the longest: boxes are
left alone for up to ten days, longer than most rhythms (common practice, from memory)."""

MOST_DAYS: Final = 90.0
"""Nothing longer is told: the damp end of a box is not its whole water."""

_UNKNOWN = Reserve(low_days=3, high_days=28, basis="nothing is known of it; as the middle of all")


def reserve_of(box: Box, one: BoxWants, water: BoxWater | None, climate: ShelfClimate) -> Reserve:
    """The days the damp end lasts once it is wetted, with what that rests on.

    By weighings where they tell; else the longer of what the model of its vents and what its
    misting rhythm say, as the water held at its damp end is only assumed. ``climate`` is that of
    the shelf the box stands on.
    """
    if weighed := _weighed(water):
        return weighed
    practice, model = _by_rhythm(one), _modelled(box, climate)
    if model is None:
        return practice
    return Reserve(
        low_days=max(model.low_days, practice.low_days),
        high_days=max(model.high_days, practice.high_days),
        basis=f"{practice.basis}, or longer: {model.basis}",
    )


def _weighed(water: BoxWater | None) -> Reserve | None:
    if water is None or water.just_right_g is None or not water.loss_can_be_used:
        return None
    if water.low_mark_g is None or water.loss_g_per_day is None:
        return None
    most, least = (water.just_right_g - mark for mark in water.low_mark_g)
    slow, fast = water.loss_g_per_day
    if least <= 0 or slow <= 0:
        return None
    whose = (
        "its weighings"
        if water.loss_can_be_told
        else f"the weighings of {water.make_boxes} boxes of its make"
    )
    mark = "an assumed low mark" if water.low_mark_is_assumed else "the weight marked too dry"
    return Reserve(
        low_days=min(least / fast, MOST_DAYS),
        high_days=min(most / slow, MOST_DAYS),
        basis=f"{whose}, down to {mark} (yours)",
    )


def _modelled(box: Box, climate: ShelfClimate) -> Reserve | None:
    """The assumed grams of the damp end over what the vents let out; both spreads together."""
    air = modelled(box, place_on(climate, box))
    if air is None or air.g_per_day <= 0:
        return None
    least, most = assumed_reserve(box)
    middle = math.sqrt(least * most) / air.g_per_day
    half = math.hypot(math.log(most / least) / 2, math.log(air.spread))
    return Reserve(
        low_days=min(middle / math.exp(half), MOST_DAYS),
        high_days=min(middle * math.exp(half), MOST_DAYS),
        basis=(
            f"{least:.0f}-{most:.0f} g at the damp end, assumed, over the loss its vents explain"
            f" ({'; '.join((*climate.said, *warmer_said(box)))}): a model, not weighed"
        ),
    )


def _by_rhythm(one: BoxWants) -> Reserve:
    mist = next((want for want in one.wants if want.care == "mist"), None)
    if mist is None:
        return _UNKNOWN
    return Reserve(
        low_days=mist.low_days,
        high_days=mist.high_days * _LONGEST,
        basis=f"its misting rhythm up to twice as long ({mist.whose}, {mist.kind})",
    )
