"""The 3 L box of the computed check values, for the tests that need one."""

from typing import Any

from mancary.science.box import BoxAir, air_and_loss
from mancary.science.vents import (
    Row,
    drive_pa,
    exchange_m3_s,
    group_conductance_m3_s,
    seam_conductance_m3_s,
    stack_flow_m3_s,
)

SMALL: dict[str, Any] = {"length_m": 0.2, "width_m": 0.125, "headspace_m": 0.08, "damp_share": 0.5}
ROOM: dict[str, Any] = {"temp_c": 22.0, "rh_outside": 0.4}
HOLE: dict[str, Any] = {"diameter_m": 0.003, "wall_m": 0.0015}


def with_vents(damp: float, dry: float, **other: Any) -> BoxAir:
    return air_and_loss(
        **{**ROOM, **SMALL, "vents_damp_m3_s": damp, "vents_dry_m3_s": dry, **other}
    )


def drilled(
    holes: int,
    *,
    rise: float = 0.0,
    speed: float = 0.0,
    seam_mm: float = 0.0,
    box_c: float = 22.0,
    rh: float = 0.4,
    vents_times: float = 1.0,
) -> BoxAir:
    """The 3 L box of the check values: half of the holes at each end, four passes for the flow."""
    half = 0.5 * float(
        group_conductance_m3_s(count=holes, spacing_m=0.025, temp_c=box_c, film_m=0.02, **HOLE)
    )
    seam = seam_conductance_m3_s(perimeter_m=0.65, gap_m=seam_mm / 1e3, depth_m=0.01, temp_c=22.0)
    row = Row(count=holes / 2, **HOLE)
    rh_in = 0.95
    for _ in range(4):
        drive = drive_pa(
            temp_in_c=box_c, rh_in=rh_in, temp_out_c=22.0, rh_out=rh, rise_m=rise,
            air_speed_m_s=speed,
        )  # fmt: skip
        flow = stack_flow_m3_s(drive_pa=drive, low=row, high=row, temp_c=box_c)
        vents = exchange_m3_s(flow_m3_s=flow, low_m3_s=half, high_m3_s=half) + seam
        share = float(vents) * vents_times / 2
        air = with_vents(share, share, temp_c=box_c, rh_outside=rh, outside_temp_c=22.0)
        rh_in = float((air.rh_damp + air.rh_dry) / 2)
    return air
