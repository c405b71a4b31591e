"""What the vents of a box exchange with its room: rows of holes and mesh, and the air through them.

Ours: where no end is told, half of a row stands over each; with rows at two heights the lowest row
faces all the others, and each end gets of what comes through as much as of the still exchange.
"""

from math import ceil, pi, sqrt
from typing import Final

from msgspec import Struct

from mancary.husbandry.box_sketch import Sketch
from mancary.husbandry.vent_rows import Row
from mancary.science import vents as air_ways

_EDGE_M: Final = 0.01
"""Ours: a low or a high row sits a centimetre from the floor or from the lid."""
_SHELTERED_M_S, _STIRRED_M_S, _WINDY_M_S = 0.0, 0.003, 0.005
_LIVED_IN_M_S, _DRAUGHT_M_S = 0.03, 0.15
_LINES: Final = 2
_MESH: Final = {"fine": (0.36, 0.3e-3, 0.2e-3), "coarse": (0.59, 1.0e-3, 0.4e-3)}
"""Open share, aperture and thickness in m (ours: usual insect mesh and usual vent mesh)."""


class Exchange(Struct, frozen=True, kw_only=True):
    """Clean air the vents are worth at the damp and at the dry end, m3/s."""

    damp_m3_s: float
    dry_m3_s: float


def exchange(
    rows: tuple[Row, ...],
    sketch: Sketch,
    *,
    temp_c: float,
    rh_inside: float,
    rh_outside: float,
    speed_m_s: float,
    outside_temp_c: float | None = None,
) -> Exchange:
    """The exchange of all rows for the air inside (0..1) and the room's air moving at a speed.

    ``outside_temp_c`` is the room's where the box, ``temp_c``, is warmer: warm air rises.

    Raises:
        OutsideValidity: where the sums of ``science.vents`` do not hold.
    """
    low, high, share = _facing(rows)
    drive = air_ways.drive_pa(
        temp_in_c=temp_c,
        rh_in=rh_inside,
        temp_out_c=temp_c if outside_temp_c is None else outside_temp_c,
        rh_out=rh_outside,
        rise_m=_rise_m(low, high, sketch.headspace_m),
        air_speed_m_s=speed_m_s,
    )
    flow = air_ways.stack_flow_m3_s(
        drive_pa=drive,
        low=_as_one(low, share, sketch.wall_m),
        high=_as_one(high, share, sketch.wall_m),
        temp_c=temp_c,
    )
    still = [_still(row, sketch, temp_c, speed_m_s) for row in rows]
    worth = dict(zip(rows, still, strict=True))
    both = air_ways.exchange_m3_s(
        flow_m3_s=flow,
        low_m3_s=share * sum(worth[row] for row in low),
        high_m3_s=share * sum(worth[row] for row in high),
    )
    damp = sum(row.damp_part * one for row, one in zip(rows, still, strict=True)) / sum(still)
    return Exchange(damp_m3_s=float(both) * damp, dry_m3_s=float(both) * (1 - damp))


def spacing_m(row: Row, sketch: Sketch) -> float:
    """From centre to centre as the holes are drawn: over the lid, or in lines at both ends."""
    if row.height == "lid":
        return sqrt(sketch.length_m * sketch.width_m / row.count)
    ends = 2 if row.height == "side" else 1
    an_end = ceil(row.count / ends)
    closest = air_ways.CLOSEST_SPACING * row.mm / 1000
    lines = 1 if sketch.width_m / an_end >= closest else _LINES
    return sketch.width_m / ceil(an_end / lines)


def crowded(rows: tuple[Row, ...], sketch: Sketch) -> bool:
    """Whether holes stand nearer than three diameters, where the sums were not checked."""
    return any(
        not row.mesh
        and row.count > 1
        and spacing_m(row, sketch) < air_ways.CLOSEST_SPACING * row.mm / 1000 * (1 - 1e-9)
        for row in rows
    )


def _facing(rows: tuple[Row, ...]) -> tuple[tuple[Row, ...], tuple[Row, ...], float]:
    """The rows air may come in by, those it may leave by, and the share of each that does."""
    order = ("low", "side", "high", "lid")
    lowest = min(order.index(row.height) for row in rows)
    low = tuple(row for row in rows if order.index(row.height) == lowest)
    high = tuple(row for row in rows if order.index(row.height) > lowest)
    return (low, high, 1.0) if high else (rows, rows, 0.5)


def _rise_m(low: tuple[Row, ...], high: tuple[Row, ...], headspace_m: float) -> float:
    return max(0.0, _height_m(high, headspace_m) - _height_m(low, headspace_m))


def _height_m(rows: tuple[Row, ...], headspace_m: float) -> float:
    edge = min(_EDGE_M, headspace_m / 4)
    at = {"low": edge, "side": headspace_m / 2, "high": headspace_m - edge, "lid": headspace_m}
    return sum(at[row.height] * row.area_mm2 for row in rows) / sum(row.area_mm2 for row in rows)


def _still(row: Row, sketch: Sketch, temp_c: float, speed_m_s: float) -> float:
    """What a row exchanges without through-flow, m3/s."""
    if row.mesh:
        share, aperture, thickness = _MESH[row.mesh]
        window = air_ways.mesh_conductance_m3_s(
            diameter_m=row.mm / 1000,
            open_fraction=share,
            aperture_m=aperture,
            thickness_m=thickness,
            temp_c=temp_c,
            outside_m_s=_stirring(speed_m_s),
        )
        return row.count * float(window)
    closest = air_ways.CLOSEST_SPACING * row.mm / 1000
    made = air_ways.group_conductance_m3_s(
        count=row.count,
        diameter_m=row.mm / 1000,
        wall_m=sketch.wall_m,
        spacing_m=max(spacing_m(row, sketch), closest),
        temp_c=temp_c,
    )
    return float(made)


def _stirring(speed_m_s: float) -> float:
    """How well the room's air sweeps a mesh window, m/s; within the 0.001 to 0.005 of the sums."""
    if speed_m_s < _LIVED_IN_M_S:
        return _SHELTERED_M_S
    return _STIRRED_M_S if speed_m_s < _DRAUGHT_M_S else _WINDY_M_S


def _as_one(rows: tuple[Row, ...], share: float, wall_m: float) -> air_ways.Row:
    """The rows as equal openings of the kind that has the most area."""
    openings = [(_opening(row, wall_m), row) for row in rows]
    areas = [float(one.count) * pi / 4 * float(one.diameter_m) ** 2 for one, _ in openings]
    first = openings[areas.index(max(areas))][0]
    count = sum(areas) / (pi / 4 * float(first.diameter_m) ** 2)
    return air_ways.Row(
        count=share * count, diameter_m=float(first.diameter_m), wall_m=float(first.wall_m)
    )


def _opening(row: Row, wall_m: float) -> air_ways.Row:
    if not row.mesh:
        return air_ways.Row(count=row.count, diameter_m=row.mm / 1000, wall_m=wall_m)
    share, aperture, thickness = _MESH[row.mesh]
    window = air_ways.mesh_row(
        diameter_m=row.mm / 1000, open_fraction=share, aperture_m=aperture, thickness_m=thickness
    )
    return air_ways.Row(
        count=row.count * float(window.count),
        diameter_m=window.diameter_m,
        wall_m=window.wall_m,
    )
