"""Vapour on a lid that is colder than the air under it: from when on, and how much goes round.

It moves water about and stays in the box; nothing of it is lost. One zone of air over the whole
floor, so it belongs beside ``box.air_and_loss`` as a rough word, not as a second balance.
"""

import numpy as np

from mancary.science.air import dew_point_c, vapour_density_kg_m3, vapour_diffusivity_m2_s
from mancary.science.box import (
    DAMP_SHARE,
    GRAMS_A_DAY,
    HEADSPACE_M,
    LITTER_M,
    LITTER_OPENNESS,
    SIDE_M,
    SURFACE_SHERWOOD,
    TEMP_C,
    VENTS_M3_S,
)
from mancary.science.validity import Amount, plain, within

COLDER_C = (0.0, 10.0)
"""°C by which a lid may be colder than the air under it; ours."""


def wet_from_c(*, temp_c: Amount, rh: Amount) -> Amount:
    """By how many °C a lid must be colder than air of this humidity (0..1) to get wet.

    The air's distance from its dew point. Valid 5..40 °C and 0.001..1.

    Raises:
        OutsideValidity: outside those ranges.
    """
    temp = within("temp_c", temp_c, *TEMP_C)
    return plain(temp - np.asarray(dew_point_c(temp_c=temp, rh=rh)))


def condensed_g_per_day(
    *,
    temp_c: Amount,
    colder_c: Amount,
    rh_outside: Amount,
    length_m: Amount,
    width_m: Amount,
    headspace_m: Amount,
    damp_share: Amount,
    vents_m3_s: Amount,
    litter_m: Amount = 0.0,
) -> Amount:
    """Water, g/day, that settles on a lid ``colder_c`` °C below the air; zero for a dry lid.

    Equation 17: a sink G_l (C - C_s(t_l)) beside floor and vents. The equation gives no G_l; here
    the lid takes vapour up over half the headspace, as a bare floor gives it off (a guess, ours,
    to a factor of two). ``vents_m3_s`` is all the vents, behind the headspace. Never checked
    against a box.

    Raises:
        OutsideValidity: outside the ranges of ``box.air_and_loss`` and 0..10 °C.
    """
    temp = within("temp_c", temp_c, *TEMP_C)
    length = within("length_m", length_m, *SIDE_M)
    width = within("width_m", width_m, *SIDE_M)
    film = within("headspace_m", headspace_m, *HEADSPACE_M) / (2.0 * SURFACE_SHERWOOD)
    leaves = within("litter_m", litter_m, *LITTER_M) / LITTER_OPENNESS
    over_floor = np.asarray(vapour_diffusivity_m2_s(temp_c=temp)) * length * width
    floor = within("damp_share", damp_share, *DAMP_SHARE) * over_floor / (film + leaves)
    lid = over_floor / film
    vents = within("vents_m3_s", vents_m3_s, *VENTS_M3_S)
    full = np.asarray(vapour_density_kg_m3(temp_c=temp, rh=1.0))
    room = np.asarray(vapour_density_kg_m3(temp_c=temp, rh=rh_outside))
    lid_c = temp - within("colder_c", colder_c, *COLDER_C)
    at_lid = np.asarray(vapour_density_kg_m3(temp_c=lid_c, rh=1.0))
    over = np.maximum((floor * full + vents * room) / (floor + vents) - at_lid, 0.0)
    return plain(GRAMS_A_DAY * over * lid * (floor + vents) / (floor + vents + lid))
