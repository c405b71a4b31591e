"""How long a reserve lasts: equation 14 against an integrated equation, and its limits."""

from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from mancary.science.air import vapour_density_kg_m3
from mancary.science.box import GRAMS_A_DAY, BoxAir, days_until
from mancary.science.validity import OutsideValidity
from tests.science.check_box import ROOM, drilled, with_vents


def dried(start: float, stop: float, full_wet: float, air: BoxAir) -> float:
    """Days by integrating the water, both zones' balance solved anew while the wet floor shrinks."""
    full = float(vapour_density_kg_m3(temp_c=22.0, rh=1.0))
    vent = float(air.air_changes_per_day) * 0.002 / 86400 / 2
    mixing, floor = float(air.mixing_m3_s), float(air.surface_m3_s)

    def slope(_: float, water: np.ndarray[Any, Any]) -> list[float]:
        wet = floor * float(np.clip(water[0] / full_wet, 1e-12, 1.0))
        flows = np.array([[wet + mixing + vent, -mixing], [-mixing, mixing + vent]])
        both = np.linalg.solve(flows, [wet * full + vent * 0.4 * full, vent * 0.4 * full])
        return [-GRAMS_A_DAY * wet * (full - float(both[0]))]

    def gone(_: float, water: np.ndarray[Any, Any]) -> float:
        return float(water[0]) - stop

    gone.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(slope, (0, 1e5), [start], events=gone, rtol=1e-9, atol=1e-9, max_step=20.0)
    return float(found.t_events[0][0])


def days(start: float, stop: float, full_wet: float, air: BoxAir) -> float:
    return float(
        days_until(
            start_g=start, stop_g=stop, full_wet_g=full_wet, vents_m3_s=air.vents_m3_s,
            surface_m3_s=air.surface_m3_s, **ROOM,
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    ("start", "stop", "full_wet"),
    [(300, 3, 150), (100, 3, 150), (300, 200, 150), (60, 59, 60), (20, 5, 1e-6)],
)
def test_days_of_drying_agree_with_an_integrated_equation(
    start: float, stop: float, full_wet: float
) -> None:
    # the integrator's own steps, made small, err by a few millionths where the floor turns dry
    air = drilled(20)
    assert days(start, stop, full_wet, air) == pytest.approx(
        dried(start, stop, full_wet, air), rel=1e-5
    )


def test_the_integral_would_notice_a_wet_mark_misplaced() -> None:
    air = drilled(20)
    assert days(300, 3, 145, air) != pytest.approx(dried(300, 3, 150, air), rel=1e-5)


def test_a_loss_in_proportion_to_what_is_left_is_not_meant() -> None:
    """It would give days without the plateau that vents make: more than half too many here."""
    air = drilled(20)
    proportional = 300 / float(air.loss_g_per_day) * np.log(300 / 3)
    assert days(300, 3, 150, air) < 0.5 * proportional


def test_days_add_up_and_start_with_the_boxs_own_loss() -> None:
    air = drilled(20)
    first, second = days(300, 120, 150, air), days(120, 20, 150, air)
    assert first + second == pytest.approx(days(300, 20, 150, air), rel=1e-12)
    assert days(300, 299, 150, air) == pytest.approx(1 / float(air.loss_g_per_day), rel=1e-9)
    assert days(50, 50, 150, air) == 0.0


def test_a_box_that_loses_nothing_lasts_for_ever() -> None:
    assert days(50, 10, 20, with_vents(0.0, 0.0)) == np.inf


@pytest.mark.parametrize(("start", "stop"), [(50, 0), (50, 60), (-1, -2), (0, 0)])
def test_no_end_without_water_and_none_above_the_start(start: float, stop: float) -> None:
    with pytest.raises(OutsideValidity):
        days(start, stop, 20, drilled(20))
