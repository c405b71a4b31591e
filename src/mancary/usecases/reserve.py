"""How long a box's damp end lasts once it is wetted, from the best that is known of it."""

import math

from msgspec.structs import replace

from mancary.husbandry.absence import Reserve, is_wide
from mancary.husbandry.box_air import place_on, warmer_said
from mancary.husbandry.sentences import Told, in_a_row, tell
from mancary.husbandry.shelf_climate import ShelfClimate
from mancary.husbandry.states import Box
from mancary.husbandry.water_marks import assumed_reserve, reserve_presets
from mancary.husbandry.water_now import MOST_DAYS
from mancary.husbandry.water_state import BoxWater
from mancary.usecases.wants import BoxWants
from mancary.usecases.water_weighed import model_in

_LONGEST = 2.0
"""Ours: where nothing was weighed the damp end is taken to last no less than the shortest of its
misting rhythm, for so long keepers leave it without harm, and up to twice the longest: boxes are
left alone for up to ten days, longer than most rhythms (common practice, from memory)."""

_UNKNOWN = Reserve(
    low_days=3, high_days=28, basis=tell("nothing is known of it; as the middle of all")
)


def reserve_of(box: Box, one: BoxWants, water: BoxWater | None, climate: ShelfClimate) -> Reserve:
    """The days the damp end lasts once it is wetted, with what that rests on.

    By weighings where they tell it within five times; else the longer of what the model of its
    vents and what its misting rhythm say, as the water held at its damp end is only assumed, with
    the doubt said. ``climate`` is that of the shelf the box stands on.
    """
    weighed = _weighed(water)
    if weighed and not is_wide(weighed.low_days, weighed.high_days):
        return weighed
    usual = _unweighed(box, one, climate)
    return _doubted(usual, weighed) if weighed else usual


def _unweighed(box: Box, one: BoxWants, climate: ShelfClimate) -> Reserve:
    practice, model = _by_rhythm(one), _modelled(box, climate)
    if model:
        practice = Reserve(
            low_days=max(model.low_days, practice.low_days),
            high_days=max(model.high_days, practice.high_days),
            basis=tell("%(basis)s, or longer: %(basis2)s", practice, basis2=model.basis),
            rests_on="model",
        )
    grams = math.sqrt(math.prod(assumed_reserve(box)))
    middle_days = math.sqrt(practice.low_days * practice.high_days)
    return replace(practice, grams=grams, g_per_day=grams / middle_days)


def _doubted(usual: Reserve, weighed: Reserve) -> Reserve:
    """The days of the rhythm where the scale's are too wide to plan by; the amount stays its own.

    Where not even the loss is told within five times, the smaller of both losses is what may be
    poured by.
    """
    slowest = min(usual.g_per_day, weighed.g_per_day)
    span = tell("%(low_days).0f to %(high_days).0f days", weighed)
    return replace(
        usual,
        grams=weighed.grams,
        g_per_day=weighed.g_per_day if weighed.by_scale else slowest,
        by_scale=weighed.by_scale,
        basis=tell(
            "%(basis)s; its scale says %(span)s: too uncertain to plan by", usual, span=span
        ),
        doubt=tell("weigh it again: too uncertain to plan by"),
    )


def _weighed(water: BoxWater | None) -> Reserve | None:
    if water is None or water.out_of_date or not water.loss_can_be_used:
        return None
    if water.full_middle_g is None or water.loss_g_per_day is None or water.full_days is None:
        return None
    whose = (
        tell("its weighings of %(loss_from)s to %(loss_to)s", water)
        if water.loss_can_be_told
        else tell("the weighings of %(make_boxes)s boxes of its make", water)
    )
    mark = (
        tell("an assumed low mark (ours)")
        if water.low_mark_is_assumed
        else tell("its too dry mark (yours)")
    )
    return Reserve(
        low_days=water.full_days[0],
        high_days=water.full_days[1],
        basis=tell("%(whose)s, down to %(mark)s", whose=whose, mark=mark),
        rests_on="weighings",
        grams=max(0.0, water.full_middle_g),
        g_per_day=water.loss_middle_g_per_day or 0.0,
        by_scale=not is_wide(*water.loss_g_per_day),
    )


def _modelled(box: Box, climate: ShelfClimate) -> Reserve | None:
    """The assumed grams of the damp end over what the vents let out; both spreads together."""
    air = model_in(box, place_on(climate, box))
    if air is None or air.g_per_day <= 0:
        return None
    least, most = assumed_reserve(box)
    middle = math.sqrt(least * most) / air.g_per_day
    half = math.hypot(math.log(most / least) / 2, math.log(air.spread))
    presets = in_a_row("", (tell(", %(one)s", one=one) for one in reserve_presets(box)))
    return Reserve(
        low_days=min(middle / math.exp(half), MOST_DAYS),
        high_days=min(middle * math.exp(half), MOST_DAYS),
        basis=tell(
            "%(least).0f-%(most).0f g at the damp end, assumed%(presets)s, over the loss"
            " its vents explain (%(all)s): a model, not weighed",
            least=least,
            most=most,
            presets=presets,
            all=in_a_row("; ", (*climate.said, *warmer_said(box))),
        ),
    )


def _by_rhythm(one: BoxWants) -> Reserve:
    mist = next((want for want in one.wants if want.care == "mist"), None)
    if mist is None:
        return _UNKNOWN
    return Reserve(
        low_days=mist.low_days,
        high_days=mist.high_days * _LONGEST,
        basis=tell(
            "its misting rhythm up to twice as long (%(whose)s, %(kind)s)",
            mist,
            kind=Told(mist.kind, {}),
        ),
    )
