"""How many holes: for a wanted damp-end humidity, air changes a day, or millilitres a week.

Equation 15 of climate.md answers for vents without crowding; the holes themselves are found by
halving on the whole model, so that what is drilled gives what was wanted. Counts are real numbers;
who drills rounds them and looks at both neighbours.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from mancary.science.air import STANDARD_PRESSURE_PA
from mancary.science.box import BoxAir, air_and_loss
from mancary.science.validity import Amount, Floats, plain, within
from mancary.science.vents import ROOM_FILM_M, group_conductance_m3_s

GRAMS_A_ML: Final = 0.998
"""g/mL: water at 20 °C (0.9982, from memory)."""

FEWEST, MOST = 0.01, 5000.0
"""Holes between which is looked; ours, wider than any box is drilled."""

_HALVINGS: Final = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilling:
    """A box in a room, and what would be drilled into its lid; floats, or arrays over boxes.

    Holes of ``diameter_m`` through ``wall_m``, ``spacing_m`` from centre to centre,
    ``holes_damp_share`` of them over the damp end. The rest is as in ``air_and_loss``.
    """

    temp_c: Amount
    rh_outside: Amount
    length_m: Amount
    width_m: Amount
    headspace_m: Amount
    damp_share: Amount
    diameter_m: Amount
    wall_m: Amount
    spacing_m: Amount
    holes_damp_share: Amount = 0.5
    film_m: Amount = ROOM_FILM_M
    litter_m: Amount = 0.0
    outside_temp_c: Amount | None = None
    pressure_pa: Amount = STANDARD_PRESSURE_PA


def drilled(*, count: Amount, drilling: Drilling) -> BoxAir:
    """The box's air and loss with ``count`` holes in the lid, by diffusion alone.

    A draught, a lid that does not seal or a second row at another height lets out more.

    Raises:
        OutsideValidity: as ``group_conductance_m3_s`` and ``air_and_loss``.
    """
    vents = group_conductance_m3_s(
        count=count,
        diameter_m=drilling.diameter_m,
        wall_m=drilling.wall_m,
        spacing_m=drilling.spacing_m,
        temp_c=drilling.temp_c,
        pressure_pa=drilling.pressure_pa,
        film_m=drilling.film_m,
    )
    damp = within("holes_damp_share", drilling.holes_damp_share, 0.0, 1.0)
    return air_and_loss(
        temp_c=drilling.temp_c,
        rh_outside=drilling.rh_outside,
        length_m=drilling.length_m,
        width_m=drilling.width_m,
        headspace_m=drilling.headspace_m,
        damp_share=drilling.damp_share,
        vents_damp_m3_s=plain(damp * vents),
        vents_dry_m3_s=plain((1.0 - damp) * vents),
        litter_m=drilling.litter_m,
        outside_temp_c=drilling.outside_temp_c,
        pressure_pa=drilling.pressure_pa,
    )


def vents_for_damp_rh_m3_s(
    *, wanted_rh: Amount, rh_outside: Amount, surface_m3_s: Amount
) -> Amount:
    """The vents, as the damp end sees them, that hold it at ``wanted_rh``: m3/s.

    G_s (1 - RH*)/(RH* - RH_o): equation 15 before it is shared out over holes. ``rh_outside`` is
    the room's vapour as a share of what the box's air can hold.

    Raises:
        OutsideValidity: for a wanted humidity not above the room's, which no vents can give.
    """
    room = within("rh_outside", rh_outside, 0.0, 1.0)
    wanted = within("wanted_rh", wanted_rh, np.nextafter(room, 2.0), 1.0)
    surface = within("surface_m3_s", surface_m3_s, 0.0, 1.0)
    return plain(surface * (1.0 - wanted) / (wanted - room))


def holes_for_damp_rh(*, wanted_rh: Amount, drilling: Drilling) -> Amount:
    """Holes with which the damp end's air stands at ``wanted_rh`` (0..1).

    Raises:
        OutsideValidity: for a humidity that no number of such holes gives, with what they can:
            never at or below the room's own.
    """
    return _count(
        lambda air: np.asarray(air.rh_damp), "wanted_rh", wanted_rh, drilling, falling=True
    )


def holes_for_air_changes(*, wanted_per_day: Amount, drilling: Drilling) -> Amount:
    """Holes with which the headspace's air is renewed ``wanted_per_day`` times a day.

    Counted by water vapour; carbon dioxide leaves at 0.63 of that rate by diffusion.

    Raises:
        OutsideValidity: for a figure that no number of such holes gives, with what they can.
    """
    return _count(
        lambda air: np.asarray(air.air_changes_per_day), "wanted_per_day", wanted_per_day, drilling
    )


def holes_for_loss(*, wanted_ml_per_week: Amount, drilling: Drilling) -> Amount:
    """Holes with which the box loses ``wanted_ml_per_week`` of water.

    Raises:
        OutsideValidity: for a loss that no number of such holes gives, with what they can.
    """
    return _count(
        lambda air: np.asarray(air.loss_g_per_day) * 7.0 / GRAMS_A_ML,
        "wanted_ml_per_week",
        wanted_ml_per_week,
        drilling,
    )


def _count(
    read: Callable[[BoxAir], Floats],
    quantity: str,
    wanted: Amount,
    drilling: Drilling,
    *,
    falling: bool = False,
) -> Amount:
    """Halves between the fewest and the most holes on ``read``, rising or falling with them."""

    def at(log_count: Amount) -> Floats:
        return read(drilled(count=plain(np.exp(log_count)), drilling=drilling))

    ends = at(np.log(FEWEST)), at(np.log(MOST))
    aim = within(quantity, wanted, np.minimum(*ends), np.maximum(*ends))
    low = np.full(np.broadcast(aim, ends[0]).shape, np.log(FEWEST))
    high = np.full(low.shape, np.log(MOST))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        more = at(middle) > aim if falling else at(middle) < aim
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    return plain(np.exp((low + high) / 2.0))
