"""What lets vapour out of a box: holes, groups of holes, mesh, the seam of the lid.

A conductance is the flow of clean air, m3/s, that would carry off as much vapour. Everything in
metres; floats or arrays, broadcast together; floats in, a float out. Still air: pure diffusion is
a near-lower bound, and above some 15 mm (``CALM_DIAMETER_M``) air moves through one bare opening
by itself, so that the figure for it is far too low and a caller has to say so.

Through-flow stands in ``draught.py`` and is offered here too: ``exchange_m3_s``,
``stack_flow_m3_s``, ``drive_pa`` and ``Row``.
"""

import numpy as np

from mancary.science.air import STANDARD_PRESSURE_PA, vapour_diffusivity_m2_s
from mancary.science.draught import (
    COUNT,
    DIAMETER_M,
    WALL_M,
    Row,
    drive_pa,
    exchange_m3_s,
    stack_flow_m3_s,
)
from mancary.science.validity import Amount, Floats, plain, within

__all__ = [
    "CALM_DIAMETER_M",
    "ROOM_FILM_M",
    "Row",
    "approach_resistance_s_m3",
    "crowding",
    "drive_pa",
    "end_length",
    "exchange_m3_s",
    "group_conductance_m3_s",
    "hole_conductance_m3_s",
    "mesh_conductance_m3_s",
    "mesh_row",
    "seam_conductance_m3_s",
    "stack_flow_m3_s",
]

CALM_DIAMETER_M = 0.015
"""Above it a bare opening breathes by itself: Rayleigh number 32 at 15 mm (computed) against a
critical 68 (from memory)."""

ROOM_FILM_M = 0.02
"""Still air over a lid in an ordinary room; an engineering guess."""

CLOSEST_SPACING = 3.0
"""In hole diameters: nearer holes were not checked."""


def end_length(*, wall_over_radius: Amount) -> Amount:
    """Air beside one end of a hole that holds vapour back like wall, in radii: 0.785 to 0.822.

    Equation 4: pi/4 + (0.82168 - pi/4)(1 - exp(-4.25 (L/a)^0.76)). Both ends of it are classical
    (from memory), the curve between is ours, within 0.0003 of a refined numerical solution
    (computed): 0.02 % of a hole's conductance. Valid up to 2000.

    Raises:
        OutsideValidity: outside that range.
    """
    ratio = within("wall_over_radius", wall_over_radius, 0.0, 2001.0)
    return plain(np.pi / 4 + (0.82168 - np.pi / 4) * -np.expm1(-4.25 * ratio**0.76))


def hole_conductance_m3_s(
    *,
    diameter_m: Amount,
    wall_m: Amount,
    temp_c: Amount,
    pressure_pa: Amount = STANDARD_PRESSURE_PA,
) -> Amount:
    """One round hole through a wall, still air on both sides, m3/s: D pi a^2/(L + 2 d_e).

    Equations 3 and 4, with an end correction on both ends; 2 D a for a wall without thickness. The
    usual L + pi a/2 instead gives up to 3.2 % more (computed). Valid for 0.05-60 mm and walls of
    0-50 mm as far as diffusion goes; checked for 1-10 mm and 0.5-4 mm. D carries ±4 %.

    Raises:
        OutsideValidity: outside those ranges.
    """
    radius = within("diameter_m", diameter_m, *DIAMETER_M) / 2
    wall = within("wall_m", wall_m, *WALL_M)
    ends = 2 * end_length(wall_over_radius=wall / radius) * radius
    diffusivity = vapour_diffusivity_m2_s(temp_c=temp_c, pressure_pa=pressure_pa)
    return plain(diffusivity * np.pi * radius**2 / (wall + ends))


def group_conductance_m3_s(
    *,
    count: Amount,
    diameter_m: Amount,
    wall_m: Amount,
    spacing_m: Amount,
    temp_c: Amount,
    pressure_pa: Amount = STANDARD_PRESSURE_PA,
    film_m: Amount = ROOM_FILM_M,
) -> Amount:
    """Holes in a square pattern, m3/s: each hinders its neighbours; never more than N single ones.

    Equation 5: 1/G = 1/(N g) + r(N) - r(1)/N, r(N) = 1/(4 D R + D A/film), R = s sqrt(N/pi),
    A = N s^2, with s from centre to centre. ``film_m`` is the still air over the lid, 0.02 m by
    guess, infinity in a dead still room. One hole stands alone; no hole lets nothing out. In still
    air within 0.6 % of a matrix of point sources for 9-36 holes, 3-13 diameters apart (computed).
    Valid from 3 diameters (closer is refused, for more than one hole) and films from 1 mm.

    Raises:
        OutsideValidity: outside those ranges, or those of one hole.
    """
    number = within("count", count, *COUNT)
    film = within("film_m", film_m, 1e-3, np.inf)
    one = hole_conductance_m3_s(
        diameter_m=diameter_m, wall_m=wall_m, temp_c=temp_c, pressure_pa=pressure_pa
    )
    diffusivity = vapour_diffusivity_m2_s(temp_c=temp_c, pressure_pa=pressure_pa)
    spacing = _spacing(number, diameter_m, spacing_m)
    some = np.where(number > 0, number, 1.0)
    hindrance = _patch(some, spacing, film) - _patch(np.ones(()), spacing, film) / some
    resistance = 1 / (some * one) + np.where(some > 1, hindrance, 0.0) / diffusivity
    return plain(np.where(number > 0, 1 / resistance, 0.0))


def _spacing(count: Floats, diameter_m: Amount, spacing_m: Amount) -> Floats:
    """The spacing, refused where more than one hole stands nearer than was checked."""
    closest = np.asarray(diameter_m) * CLOSEST_SPACING * (1 - 1e-9)
    return within("spacing_m", spacing_m, np.where(count > 1, closest, 1e-6), 10.0)


def _patch(count: Floats, spacing: Floats, film: Floats) -> Floats:
    """Resistance of the air over a drilled patch, times the diffusivity, 1/m."""
    radius = spacing * np.sqrt(count / np.pi)
    return np.asarray(1 / (4 * radius + count * spacing**2 / film))


def mesh_row(
    *, diameter_m: Amount, open_fraction: Amount, aperture_m: Amount, thickness_m: Amount
) -> Row:
    """A round mesh window as a row of small round openings: phi pi R^2/w^2 of radius w/sqrt(pi).

    Part of equation 7: as much open area, and as many openings. Valid 5-200 mm across, apertures
    0.05-5 mm, 0.05-0.7 open, 0-5 mm thick; ours.

    Raises:
        OutsideValidity: outside those ranges.
    """
    radius = within("diameter_m", diameter_m, 0.005, 0.2) / 2
    aperture = within("aperture_m", aperture_m, 5e-5, 5e-3)
    share = within("open_fraction", open_fraction, 0.05, 0.7)
    return Row(
        count=plain(share * np.pi * radius**2 / aperture**2),
        diameter_m=plain(2 * aperture / np.sqrt(np.pi)),
        wall_m=plain(within("thickness_m", thickness_m, 0.0, 5e-3)),
    )


def crowding(*, open_fraction: Amount) -> Amount:
    """End length of openings side by side in a plate to that of one alone: 1 to nearly 0.

    Part of equation 7, 1 - 1.41 sqrt(phi) + 0.34 phi^1.5: two terms of Fok's series (from memory;
    the full series within 0.2 % of a numerical solution for round openings, computed). That it
    holds for square ones is a guess. Valid 0..0.7.

    Raises:
        OutsideValidity: outside that range.
    """
    share = within("open_fraction", open_fraction, 0.0, 0.7)
    return plain(1 - 1.41 * np.sqrt(share) + 0.34 * share**1.5)


def mesh_conductance_m3_s(
    *,
    diameter_m: Amount,
    open_fraction: Amount,
    aperture_m: Amount,
    thickness_m: Amount,
    temp_c: Amount,
    pressure_pa: Amount = STANDARD_PRESSURE_PA,
    outside_m_s: Amount = 0.0,
) -> Amount:
    """A round window with mesh, m3/s: the mesh, the room's air over it, the box's air under it.

    Equation 7: 1/G = 1/[n D pi a^2/(t + (pi/2) a (1 - 1.41 sqrt(phi) + 0.34 phi^1.5))]
    + 1/(k pi R^2) + 1/(4 D R), with k the room's air, ``outside_m_s`` (0 dead still, 0.001-0.005
    in a room) but at least 4 D/(pi R). The bracket is ``crowding``. Valid as ``mesh_row``, and up
    to 0.05 m/s. Known to a factor of 3, not better.

    Raises:
        OutsideValidity: outside those ranges.
    """
    row = mesh_row(
        diameter_m=diameter_m,
        open_fraction=open_fraction,
        aperture_m=aperture_m,
        thickness_m=thickness_m,
    )
    radius, small = np.asarray(diameter_m) / 2, row.diameter_m / 2
    diffusivity = vapour_diffusivity_m2_s(temp_c=temp_c, pressure_pa=pressure_pa)
    ends = np.pi / 2 * small * crowding(open_fraction=open_fraction)
    mesh = (row.wall_m + ends) / (row.count * diffusivity * np.pi * small**2)
    room_m_s = np.maximum(
        4 * diffusivity / (np.pi * radius), within("outside_m_s", outside_m_s, 0, 0.05)
    )
    around = 1 / (room_m_s * np.pi * radius**2) + 1 / (4 * diffusivity * radius)
    return plain(1 / (mesh + around))


def seam_conductance_m3_s(
    *,
    perimeter_m: Amount,
    gap_m: Amount,
    depth_m: Amount,
    temp_c: Amount,
    pressure_pa: Amount = STANDARD_PRESSURE_PA,
) -> Amount:
    """The gap of a lid that does not seal, m3/s: D P h/depth, the vapour's way being ``depth_m``.

    Equation 10. 0.65 m of 0.1 mm, 10 mm deep, let out as much as 3.6 holes of 3 mm (computed); how
    wide the gap of a real lid is, nobody tells. Valid 0-10 m, gaps 0-2 mm, 1-100 mm deep; ours.

    Raises:
        OutsideValidity: outside those ranges.
    """
    area = within("perimeter_m", perimeter_m, 0, 10) * within("gap_m", gap_m, 0, 0.002)
    diffusivity = vapour_diffusivity_m2_s(temp_c=temp_c, pressure_pa=pressure_pa)
    return plain(diffusivity * area / within("depth_m", depth_m, 1e-3, 0.1))


def approach_resistance_s_m3(
    *,
    headspace_m: Amount,
    length_m: Amount,
    width_m: Amount,
    temp_c: Amount,
    pressure_pa: Amount = STANDARD_PRESSURE_PA,
) -> Amount:
    """What the box's own air holds back on the way to all its vents, s/m3: H/(3 D l W).

    Equation 6, in series with all vents together; the 3 was tuned on solved boxes (computed).
    Valid for headspaces of 5-600 mm and sides of 20 mm to 2 m; ours.

    Raises:
        OutsideValidity: outside those ranges.
    """
    height = within("headspace_m", headspace_m, 0.005, 0.6)
    floor = within("length_m", length_m, 0.02, 2) * within("width_m", width_m, 0.02, 2)
    diffusivity = vapour_diffusivity_m2_s(temp_c=temp_c, pressure_pa=pressure_pa)
    return plain(height / (3 * diffusivity * floor))
