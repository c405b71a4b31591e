"""Air that moves through a low and a high row of openings, and the vapour it takes along.

What drives it (warm or damp air rising, a draught across the openings), what holds it back, and
the exchange when through-flow and diffusion work together: they do not simply add. Everything in
metres, pascals, m3/s; floats or arrays. All of it is modelled, none measured on a box.
"""

from dataclasses import dataclass

import numpy as np

from mancary.science.air import STANDARD_PRESSURE_PA, density_kg_m3, viscosity_pa_s
from mancary.science.validity import Amount, Floats, plain, within

GRAVITY_M_S2 = 9.80665
"""Standard gravity, m/s2 (exact by definition)."""

DISCHARGE = 0.6
"""Share of a sharp-edged opening that a fast jet fills (from memory)."""

WIND_PRESSURE_SHARE = 0.3
"""Difference of pressure coefficients between two rows in a draught; an engineering guess."""

RISE_M = (0.0, 2.0)
AIR_SPEED_M_S = (0.0, 3.0)
COUNT = (0.0, 1e6)
DIAMETER_M = (5e-5, 0.06)
WALL_M = (0.0, 0.05)
FLOW_M3_S = (-1.0, 1.0)
CONDUCTANCE_M3_S = (0.0, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Equal openings at one height: how many, how wide (m), through how thick a wall (m)."""

    count: Amount
    diameter_m: Amount
    wall_m: Amount


def drive_pa(
    *,
    temp_in_c: Amount,
    rh_in: Amount,
    temp_out_c: Amount,
    rh_out: Amount,
    rise_m: Amount,
    air_speed_m_s: Amount = 0.0,
    pressure_pa: Amount = STANDARD_PRESSURE_PA,
) -> Amount:
    """Pressure that moves air through two rows, Pa: |rho_in - rho_out| g dz + 0.5 rho dCp u^2.

    ``rise_m`` is the height of one row above the other, ``air_speed_m_s`` that of the room's air
    at the box. Equation 8, first part; the chimney term is textbook, dCp = 0.3 is a guess. Valid
    0-2 m and 0-3 m/s (ours); temperatures and humidities as for ``density_kg_m3``.

    Raises:
        OutsideValidity: outside those ranges.
    """
    inside = density_kg_m3(temp_c=temp_in_c, rh=rh_in, pressure_pa=pressure_pa)
    outside = density_kg_m3(temp_c=temp_out_c, rh=rh_out, pressure_pa=pressure_pa)
    stack = np.abs(inside - outside) * GRAVITY_M_S2 * within("rise_m", rise_m, *RISE_M)
    speed = within("air_speed_m_s", air_speed_m_s, *AIR_SPEED_M_S)
    return plain(stack + 0.5 * outside * WIND_PRESSURE_SHARE * speed**2)


def stack_flow_m3_s(
    *,
    drive_pa: Amount,
    low: Row,
    high: Row,
    temp_c: Amount,
    pressure_pa: Amount = STANDARD_PRESSURE_PA,
) -> Amount:
    """Air through a low and a high row in series under a pressure, m3/s; none if one is empty.

    Equation 8: drive = R Q + K Q^2, solved exactly. A row has R = (3 mu/a^3 + 8 mu L/(pi a^4))/N,
    creeping flow through an orifice (Sampson, seen second-hand; the sum with the tube's part is
    Dagan 1982, from memory), and K = 0.5 rho/(0.6 A N)^2, a jet's. Rows of unlike openings are
    taken together as they stand in series. Valid 0..1000 Pa, openings 0.05-60 mm, walls 0-50 mm.

    Raises:
        OutsideValidity: outside those ranges.
    """
    drive = within("drive_pa", drive_pa, 0.0, 1000.0)
    density = density_kg_m3(temp_c=temp_c, rh=0.5, pressure_pa=pressure_pa)
    creeping = _creeping(low, temp_c) + _creeping(high, temp_c)
    jet = _jet(low, density) + _jet(high, density)
    flow = 2 * drive / (creeping + np.sqrt(creeping**2 + 4 * jet * drive))
    return plain(np.where((_count(low) > 0) & (_count(high) > 0), flow, 0.0))


def exchange_m3_s(*, flow_m3_s: Amount, low_m3_s: Amount, high_m3_s: Amount) -> Amount:
    """Clean air that through-flow and diffusion bring together, m3/s.

    Equation 9, the exact answer of one-dimensional advection and diffusion in both rows:
    G = Q [1 + 1/(e^(Q/G_lo) - 1) + 1/(e^(Q/G_hi) - 1)]. It goes to G_lo + G_hi without flow, to Q
    with much; the first correction is (Q^2/12)(1/G_lo + 1/G_hi). It never falls below either, nor
    rises above their sum. Which way the air flows makes no difference, nor which row is which.
    Computed here against a boundary-value solver. Valid up to 1 m3/s each; ours. A row of no
    conductance lets no air through: give no flow then.

    Raises:
        OutsideValidity: outside that range, or a conductance below zero.
    """
    flow = np.abs(within("flow_m3_s", flow_m3_s, *FLOW_M3_S))
    low = within("low_m3_s", low_m3_s, *CONDUCTANCE_M3_S)
    high = within("high_m3_s", high_m3_s, *CONDUCTANCE_M3_S)
    return plain(flow + _against_flow(flow, low) + _against_flow(flow, high))


def _against_flow(flow: Floats, conductance: Floats) -> Floats:
    """What diffusion still brings against a flow: G x/(e^x - 1) with x = Q/G, and G at x = 0."""
    with np.errstate(divide="ignore", over="ignore", invalid="ignore", under="ignore"):
        x = np.minimum(np.where(conductance > 0, flow / conductance, 0.0), 700.0)
        return np.asarray(conductance * np.where(x > 0, x / np.expm1(x), 1.0))


def _count(row: Row) -> Floats:
    return within("count", row.count, *COUNT)


def _shared(row: Row) -> Floats:
    """The count, with one for an empty row: its flow is set to nothing afterwards."""
    count = _count(row)
    return np.where(count > 0, count, 1.0)


def _creeping(row: Row, temp_c: Amount) -> Floats:
    """Pa per m3/s that friction takes in a row."""
    radius = within("diameter_m", row.diameter_m, *DIAMETER_M) / 2
    wall = within("wall_m", row.wall_m, *WALL_M)
    one = viscosity_pa_s(temp_c=temp_c) * (3 / radius**3 + 8 * wall / (np.pi * radius**4))
    return np.asarray(one / _shared(row))


def _jet(row: Row, density: Amount) -> Floats:
    """Pa per (m3/s)^2 that the jet's speed takes in a row."""
    area = np.pi * (np.asarray(row.diameter_m) / 2) ** 2 * _shared(row)
    return np.asarray(0.5 * density / (DISCHARGE * area) ** 2)
