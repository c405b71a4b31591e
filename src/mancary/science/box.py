"""The air and the water of a box: a damp end and a dry end, each with its vents.

Quasi-steady vapour balance of two well-mixed zones. Three shape factors (1.4, 1.9 and a third of
the headspace's height) were tuned on solved boxes in still air; no part of this has been compared
with a real box. Assumptions, limits and errors: ``docs/science/climate.md``.
"""

from dataclasses import dataclass

import numpy as np

from mancary.science.air import vapour_density_kg_m3, vapour_diffusivity_m2_s
from mancary.science.validity import Amount, Floats, plain, within
from mancary.science.vents import approach_resistance_s_m3, stack_flow_m3_s

__all__ = ["BoxAir", "air_and_loss", "days_until", "stack_flow_m3_s"]

SURFACE_SHERWOOD = 1.4
"""1: vapour leaves the floor as through half the headspace, this much faster; ours, tuned."""

ENDS_MIXING = 1.9
"""1: the ends exchange as by diffusion over half the length, this much faster; ours, tuned."""

LITTER_OPENNESS = 0.6
"""1: pore share times straightness of loose leaves; ours, 20 mm of leaves come to 1300 s/m."""

TEMP_C = (5.0, 40.0)
"""°C: the spec covers 15..30; beyond it to either side the formulas go on, unchecked; ours."""

SIDE_M = (0.05, 1.0)
HEADSPACE_M = (0.01, 0.4)
"""m: around boxes of 1.5 to 40 L, for which the model was made; ours."""

LITTER_M = (0.0, 0.1)
DAMP_SHARE = (0.05, 1.0)
VENTS_M3_S = (0.0, 1e-3)
GRAMS_A_DAY = 8.64e7
"""g s/(kg day): grams a day in one kilogram a second."""

SECONDS_A_DAY = 86400.0

LEAST_G = 1e-6
"""g: less water than this is none; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxAir:
    """How a box's air stands in the steady state; floats, or arrays over boxes.

    ``vents_m3_s`` is the vents' conductance as the damp end sees it: the loss over the difference
    in vapour between damp end and room, so that it stands in series with ``surface_m3_s``, the wet
    floor's; both go into ``days_until``. ``mixing_m3_s`` is what the ends exchange: where more
    air than this flows through a box, the model leaves out a flow that matters.
    """

    loss_g_per_day: Amount
    rh_damp: Amount
    rh_dry: Amount
    air_changes_per_day: Amount
    vents_m3_s: Amount
    surface_m3_s: Amount
    mixing_m3_s: Amount


def air_and_loss(
    *,
    temp_c: Amount,
    rh_outside: Amount,
    length_m: Amount,
    width_m: Amount,
    headspace_m: Amount,
    damp_share: Amount,
    vents_damp_m3_s: Amount,
    vents_dry_m3_s: Amount,
    litter_m: Amount = 0.0,
    outside_temp_c: Amount | None = None,
    pressure_pa: Amount = 101325.0,
) -> BoxAir:
    """Loss (g/day), humidity of both ends (0..1) and air changes a day of a box with a wet end.

    ``length_m`` runs from the damp end to the dry; ``damp_share`` (0..1) of the floor is wet, under
    ``litter_m`` of leaves; ``headspace_m`` is the height of free air. From the dry half nothing
    rises: with more than six tenths wet its air comes out too dry, by 1 point of humidity, by 4
    with all wet, while the loss hardly changes (computed in 3-D). The vents' conductances are
    those for water vapour, inside stirred, as ``vents`` gives them. ``outside_temp_c`` is the
    room's where it is not the box's own, and ``rh_outside`` belongs to it.

    Source: two-zone balance of our own (climate.md equations 6 and 11-13); about ×÷ 1.5 for small
    lid holes and ×÷ 3 for mesh before any weighing, a judgement, not a measurement.

    Raises:
        OutsideValidity: outside the ranges of this module, or where the room holds more vapour
            than the box's air can, so that water would gather in the box.
    """
    temp = within("temp_c", temp_c, *TEMP_C)
    diffusivity = vapour_diffusivity_m2_s(temp_c=temp, pressure_pa=pressure_pa)
    length = within("length_m", length_m, *SIDE_M)
    width = within("width_m", width_m, *SIDE_M)
    height = within("headspace_m", headspace_m, *HEADSPACE_M)
    damp, dry = _behind_the_headspace(
        within("vents_damp_m3_s", vents_damp_m3_s, *VENTS_M3_S),
        within("vents_dry_m3_s", vents_dry_m3_s, *VENTS_M3_S),
        approach_resistance_s_m3(
            headspace_m=height,
            length_m=length,
            width_m=width,
            temp_c=temp,
            pressure_pa=pressure_pa,
        ),
    )
    film = height / 2.0 / (SURFACE_SHERWOOD * diffusivity)
    leaves = within("litter_m", litter_m, *LITTER_M) / (diffusivity * LITTER_OPENNESS)
    wet = within("damp_share", damp_share, *DAMP_SHARE) * length * width
    surface = wet / (film + leaves)
    mixing = ENDS_MIXING * diffusivity * width * height / (length / 2.0)
    full, outside = _vapour(temp, rh_outside, outside_temp_c)

    reach = mixing / (mixing + dry)
    seen = damp + dry * reach
    damp_excess = surface / (surface + seen) * (full - outside)
    return _even(
        loss_g_per_day=GRAMS_A_DAY * seen * damp_excess,
        rh_damp=(outside + damp_excess) / full,
        rh_dry=(outside + reach * damp_excess) / full,
        air_changes_per_day=SECONDS_A_DAY * (damp + dry) / (length * width * height),
        vents_m3_s=seen,
        surface_m3_s=surface,
        mixing_m3_s=mixing,
    )


def _even(**columns: Amount) -> BoxAir:
    """All of one shape, so that one box's figures lie at one place."""
    spread = np.broadcast_arrays(*columns.values())
    return BoxAir(**{name: plain(np.array(c)) for name, c in zip(columns, spread, strict=True)})


def _behind_the_headspace(damp: Floats, dry: Floats, resistance: Amount) -> tuple[Floats, Floats]:
    """Both ends' vents with the way through the headspace in series (climate.md equation 6)."""
    shrunk = 1.0 / (1.0 + (damp + dry) * resistance)
    return damp * shrunk, dry * shrunk


def _vapour(
    temp_c: Floats, rh_outside: Amount, outside_temp_c: Amount | None
) -> tuple[Floats, Floats]:
    """Vapour density of saturated air in the box, and of the room, kg/m3."""
    full = np.asarray(vapour_density_kg_m3(temp_c=temp_c, rh=1.0))
    rh = within("rh_outside", rh_outside, 0.0, 1.0)
    if outside_temp_c is None:
        return full, np.asarray(rh * full)
    room_c = within("outside_temp_c", outside_temp_c, *TEMP_C)
    outside = np.asarray(vapour_density_kg_m3(temp_c=room_c, rh=rh))
    within("the room's air at the box's temperature: rh_outside", outside / full, 0.0, 1.0)
    return full, outside


def days_until(
    *,
    start_g: Amount,
    stop_g: Amount,
    full_wet_g: Amount,
    vents_m3_s: Amount,
    surface_m3_s: Amount,
    temp_c: Amount,
    rh_outside: Amount,
    outside_temp_c: Amount | None = None,
) -> Amount:
    """Days in which ``start_g`` of water sinks to ``stop_g``, in a steady room.

    Above ``full_wet_g`` the whole damp floor is wet; below, the wet part shrinks in step with the
    water. Conductances as ``air_and_loss`` gives them. No end is reached through a shrinking
    surface, so ``stop_g`` stays above zero; infinite where nothing is lost.

    The way of the water is one steady sum: real floors dry from the top, and the damp *end* is dry
    for the animals long before the box is. Source: our own integral (climate.md equation 14).

    Raises:
        OutsideValidity: for ``stop_g`` at zero or above ``start_g``, and as ``air_and_loss``.
    """
    temp = within("temp_c", temp_c, *TEMP_C)
    start = within("start_g", start_g, LEAST_G, 1e6)
    stop = within("stop_g", stop_g, LEAST_G, start)
    full_wet = within("full_wet_g", full_wet_g, 0.0, 1e6)
    full, outside = _vapour(temp, rh_outside, outside_temp_c)
    turn = np.maximum(np.minimum(start, full_wet), stop)
    shrinking = full_wet * np.log(turn / stop)
    with np.errstate(divide="ignore", invalid="ignore"):
        waiting = (start - stop) / within("vents_m3_s", vents_m3_s, 0.0, 1.0)
        waiting = waiting + (start - turn + shrinking) / within(
            "surface_m3_s", surface_m3_s, 0.0, 1.0
        )
        days = waiting / ((full - outside) * GRAMS_A_DAY)
    return plain(np.where(start == stop, 0.0, days))
