"""Flow through two rows, and its exchange with diffusion: limits, symmetry, a boundary-value
solver as an independent reference."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from mancary.science import box
from mancary.science.air import density_kg_m3, viscosity_pa_s
from mancary.science.validity import OutsideValidity
from mancary.science.vents import Row, drive_pa, exchange_m3_s, stack_flow_m3_s

flows = st.floats(0.0, 1e-3)
rows = st.floats(1e-9, 1e-5)


def exchange(flow: float, low: float, high: float) -> float:
    return float(exchange_m3_s(flow_m3_s=flow, low_m3_s=low, high_m3_s=high))


@given(flows, rows, rows)
def test_the_exchange_is_symmetric_and_bounded(flow: float, low: float, high: float) -> None:
    ours = exchange(flow, low, high)
    assert ours == pytest.approx(exchange(flow, high, low), rel=1e-12, abs=0)
    assert ours == exchange(-flow, low, high)
    assert max(flow, low + high) * (1 - 1e-12) <= ours <= (flow + low + high) * (1 + 1e-12)


@given(flows, flows, rows, rows)
def test_more_flow_never_takes_less(one: float, other: float, low: float, high: float) -> None:
    slow, fast = sorted((one, other))
    assert exchange(slow, low, high) <= exchange(fast, low, high) * (1 + 1e-12)


@given(rows, rows, st.floats(0, 1e-12))
def test_without_flow_it_is_diffusion_and_nothing_breaks(
    low: float, high: float, part: float
) -> None:
    assert exchange(0.0, low, high) == pytest.approx(low + high, rel=1e-15, abs=0)
    assert exchange(part * low, low, high) == pytest.approx(low + high, rel=1e-11, abs=0)
    assert exchange(5e-324, low, high) == pytest.approx(low + high, rel=1e-15, abs=0)


@given(rows, rows)
def test_with_much_flow_it_is_the_flow(low: float, high: float) -> None:
    """At fifty times the wider row, e^-50 is left of diffusion."""
    much = 50 * max(low, high)
    assert exchange(much, low, high) == pytest.approx(much, rel=1e-12, abs=0)
    assert exchange(1.0, 1e-300, high) == 1.0


@given(rows, rows, st.floats(0.01, 0.2))
def test_a_little_flow_changes_it_by_its_square(low: float, high: float, part: float) -> None:
    """(Q^2/12)(1/G_lo + 1/G_hi); the next term is x^2/60 of it: 0.07 % at x = 0.2."""
    flow = part * min(low, high)
    more = exchange(flow, low, high) - low - high
    first = flow**2 / 12 * (1 / low + 1 / high)
    assert more == pytest.approx(first, rel=1e-3, abs=1e-14 * (low + high))


def test_the_square_is_not_another_power() -> None:
    assert exchange(2e-8, 1e-7, 1e-7) - 2e-7 != pytest.approx(2e-8 / 12, rel=1e-3, abs=0)


@given(flows, rows)
def test_with_one_row_shut_there_is_the_other(flow: float, low: float) -> None:
    """One row alone: its diffusion; through-flow has no way out and must be given as none."""
    assert exchange(0.0, low, 0.0) == low
    assert exchange(flow, 0.0, 0.0) == flow


def solved(flow: float, low: float, high: float) -> float:
    """Vapour from a box of one unit to a room of none, through two plugs of air, by scipy.

    In units of the plug's length and of G: C'' = x C' with x = Q/G along the flow.
    """

    def outward(x: float, start: float, end: float) -> float:
        def slopes(_: np.ndarray, y: np.ndarray) -> np.ndarray:
            return np.vstack([y[1], x * y[1]])

        def ends(at_0: np.ndarray, at_1: np.ndarray) -> np.ndarray:
            return np.array([at_0[0] - start, at_1[0] - end])

        mesh = np.linspace(0, 1, 101)
        found = solve_bvp(slopes, ends, mesh, np.zeros((2, 101)), tol=1e-9, max_nodes=100_000)
        assert found.success
        return float(x * found.y[0, 0] - found.y[1, 0])

    in_low = -low * outward(flow / low, 0.0, 1.0)
    return in_low + high * outward(flow / high, 1.0, 0.0)


@pytest.mark.parametrize("flow", [0.02, 0.5, 1.0, 3.0, 8.0])
@pytest.mark.parametrize("high", [0.5, 1.0, 2.0])
def test_the_exchange_against_a_boundary_value_solver(flow: float, high: float) -> None:
    """Six digits, what the solver is asked for. Adding flow and diffusion would be up to 60 % off,
    taking the greater of both up to 20 %."""
    reference = solved(flow, 1.0, high)
    small = 1e-7
    ours = exchange(flow * small, small, high * small) / small
    assert ours == pytest.approx(reference, rel=1e-6, abs=0)
    assert ours * (1 + 3e-6) != pytest.approx(reference, rel=1e-6, abs=0)
    if 0.5 < flow < 8:
        assert flow + 1.0 + high != pytest.approx(reference, rel=0.05, abs=0)
        assert max(flow, 1.0 + high) != pytest.approx(reference, rel=0.005, abs=0)


def room(**changed: float) -> float:
    air = {"temp_in_c": 22.0, "rh_in": 0.95, "temp_out_c": 22.0, "rh_out": 0.40, "rise_m": 0.06}
    return float(drive_pa(**(air | changed)))


def test_what_drives_the_air() -> None:
    """Damp air alone, 6 cm: 3.8 mPa; a draught of 0.15 m/s alone: 4.0 mPa; they add."""
    assert room(rh_in=0.40) == 0.0
    assert room(rise_m=0.0) == 0.0
    lighter = float(density_kg_m3(temp_c=22.0, rh=0.4)) - float(density_kg_m3(temp_c=22.0, rh=0.95))
    assert room() == pytest.approx(lighter * 9.80665 * 0.06)
    draught = 0.5 * float(density_kg_m3(temp_c=22.0, rh=0.4)) * 0.3 * 0.15**2
    assert room(rise_m=0.0, air_speed_m_s=0.15) == pytest.approx(draught)
    assert room(air_speed_m_s=0.15) == pytest.approx(room() + draught)
    assert room(temp_in_c=25.0) > 2 * room()


HOLES = Row(count=10, diameter_m=0.003, wall_m=0.0015)


def flow(pressure: float, low: Row = HOLES, high: Row = HOLES) -> float:
    return float(stack_flow_m3_s(drive_pa=pressure, low=low, high=high, temp_c=22.0))


@given(st.floats(1e-9, 100), st.integers(1, 100), st.integers(1, 100), st.floats(0.0005, 0.01))
def test_the_flow_solves_its_equation(
    pressure: float, low: int, high: int, diameter: float
) -> None:
    """Drive = R Q + K Q^2, put in again: to rounding, also where K Q is a trifle beside R."""
    a, wall, rho = diameter / 2, 0.001, float(density_kg_m3(temp_c=22.0, rh=0.5))
    mu = float(viscosity_pa_s(temp_c=22.0))
    q = flow(
        pressure,
        Row(count=low, diameter_m=diameter, wall_m=wall),
        Row(count=high, diameter_m=diameter, wall_m=wall),
    )
    friction = (3 * mu / a**3 + 8 * mu * wall / (math.pi * a**4)) * (1 / low + 1 / high)
    jet = 0.5 * rho / (0.6 * math.pi * a**2) ** 2 * (1 / low**2 + 1 / high**2)
    assert friction * q + jet * q**2 == pytest.approx(pressure, rel=1e-9, abs=0)


@given(st.floats(0, 10), st.floats(0, 10))
def test_more_drive_more_flow(one: float, other: float) -> None:
    weak, strong = sorted((one, other))
    assert flow(weak) <= flow(strong)


def test_no_drive_or_no_row_no_flow() -> None:
    none = Row(count=0, diameter_m=0.003, wall_m=0.0015)
    assert flow(0.0) == 0.0
    assert flow(0.01, low=none) == 0.0
    assert flow(0.01, high=none) == 0.0
    two = Row(count=np.array([0.0, 10.0]), diameter_m=0.003, wall_m=0.0015)
    many = np.asarray(stack_flow_m3_s(drive_pa=0.01, low=two, high=HOLES, temp_c=22.0))
    assert many.tolist() == [0.0, flow(0.01)]


def test_which_row_is_low_makes_no_difference() -> None:
    wide = Row(count=4, diameter_m=0.006, wall_m=0.002)
    assert flow(0.01, HOLES, wide) == pytest.approx(flow(0.01, wide, HOLES), rel=1e-12, abs=0)


def test_the_box_offers_the_same_flow() -> None:
    assert box.stack_flow_m3_s is stack_flow_m3_s


@pytest.mark.parametrize("low", [-1e-9, 2.0, math.nan])
def test_an_exchange_outside_its_range_is_refused(low: float) -> None:
    with pytest.raises(OutsideValidity, match="low_m3_s"):
        exchange(1e-7, low, 1e-7)


def test_a_drive_outside_its_range_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="rise_m"):
        room(rise_m=6.0)
    with pytest.raises(OutsideValidity, match="air_speed_m_s"):
        room(air_speed_m_s=15.0)
    with pytest.raises(OutsideValidity, match="drive_pa"):
        flow(-0.01)
    with pytest.raises(OutsideValidity, match="diameter_m"):
        flow(0.01, low=Row(count=1, diameter_m=3.0, wall_m=0.001))
