"""When the inside of a lid gets wet, and what that tells a keeper: little."""

from typing import Final

from mancary.husbandry.box_air import Modelled, Place
from mancary.husbandry.box_sketch import sketched
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Box
from mancary.husbandry.vent_said import span_said
from mancary.science.lid import condensed_g_per_day, wet_from_c
from mancary.science.validity import OutsideValidity

_COLDER_C: Final = 2.0
"""°C: a lid by a cool wall at night; an example, ours."""
_EITHER_WAY: Final = 2.0
"""Ours: how well a lid takes up vapour is a guess to a factor of two."""
_SECONDS_A_DAY: Final = 86400
_LEAST_C: Final = 0.1
"""°C: nearer than that no keeper's thermometers tell two temperatures apart; ours."""


def wet_lid_said(box: Box, place: Place, told: Modelled) -> str:
    """From how much colder on the lid of a modelled box gets wet, in a sentence or two.

    Of its middle humidities, that of the damp end; the water as a range for an example. Empty
    where the sums do not hold.
    """
    try:
        colder = float(wet_from_c(temp_c=place.box_c, rh=told.rh_damp))
        dry = float(wet_from_c(temp_c=place.box_c, rh=told.rh_dry))
        example = _example(box, place, told)
    except OutsideValidity:
        return ""
    first, last = sorted((max(colder, _LEAST_C), max(dry, _LEAST_C)))
    return tell(
        "The lid gets wet inside over the damp end once it is about %(first).1f °C"
        " colder than the air under it, over the dry end from %(last).1f °C"
        " (modelled).%(example)s What drips back stays in the box: a wet lid is a cool"
        " lid over damp air, and tells neither how much water is left nor that there"
        " are too few holes.",
        first=first,
        last=last,
        example=example,
    )


def _example(box: Box, place: Place, told: Modelled) -> str:
    """What settles on a lid 2 °C colder, in mL a day; nothing said where it stays dry."""
    sketch = sketched(box)
    if sketch is None:
        return ""
    air_m3 = sketch.length_m * sketch.width_m * sketch.headspace_m
    grams = float(
        condensed_g_per_day(
            temp_c=place.box_c,
            colder_c=_COLDER_C,
            rh_outside=place.rh_outside,
            length_m=sketch.length_m,
            width_m=sketch.width_m,
            headspace_m=sketch.headspace_m,
            damp_share=sketch.damp_share,
            litter_m=sketch.litter_m,
            vents_m3_s=told.air_changes_per_day * air_m3 / _SECONDS_A_DAY,
        )
    )
    if not grams:
        return ""
    span = span_said(grams / _EITHER_WAY, grams * _EITHER_WAY)
    return tell(
        " At %(colder_c)g °C colder some %(span)s mL a day settle on it (ours, a guess).",
        colder_c=_COLDER_C,
        span=span,
    )
