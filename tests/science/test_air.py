"""Moist air: inverse, monotone, units, refusals; and against two reference programs."""

import math
from collections.abc import Callable
from importlib import import_module

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.science import air
from mancary.science.validity import Amount, OutsideValidity

temps = st.floats(-19.9, 60.0)
rhs = st.floats(0.01, 1.0)


@given(temps, rhs)
def test_the_dew_point_is_the_inverse_of_saturation(temp_c: float, rh: float) -> None:
    """At the dew point the air's own vapour saturates it: to 1e-9, Newton's end, where ice and
    water differ by no more than 2e-6 of the pressure at the triple point itself."""
    dew = float(air.dew_point_c(temp_c=temp_c, rh=rh))
    vapour = rh * float(air.saturation_pressure_pa(temp_c=temp_c))
    near = 1e-4 if abs(dew - air.TRIPLE_POINT_C) < 1e-3 else 1e-9
    assert math.isclose(float(air.saturation_pressure_pa(temp_c=dew)), vapour, rel_tol=near)


@given(temps)
def test_saturated_air_is_at_its_dew_point(temp_c: float) -> None:
    assert float(air.dew_point_c(temp_c=temp_c, rh=1.0)) == pytest.approx(temp_c, abs=1e-6)


@given(temps, rhs, rhs)
def test_damper_air_has_the_higher_dew_point(temp_c: float, one: float, other: float) -> None:
    dry, damp = sorted((one, other))
    assert air.dew_point_c(temp_c=temp_c, rh=dry) <= air.dew_point_c(temp_c=temp_c, rh=damp)
    assert air.dew_point_c(temp_c=temp_c, rh=damp) <= temp_c


@given(temps, temps, rhs)
def test_warmer_air_holds_more_and_lets_more_through(one: float, other: float, rh: float) -> None:
    cold, warm = sorted((one, other))
    for law in (air.vapour_density_kg_m3, air.humidity_ratio, air.vapour_deficit_pa):
        assert law(temp_c=cold, rh=rh) <= law(temp_c=warm, rh=rh) * (1 + 1e-9)
    assert air.saturation_pressure_pa(temp_c=cold) <= air.saturation_pressure_pa(temp_c=warm)
    assert air.vapour_diffusivity_m2_s(temp_c=cold) <= air.vapour_diffusivity_m2_s(temp_c=warm)


@given(temps, rhs)
def test_damp_air_is_lighter(temp_c: float, rh: float) -> None:
    dry = air.density_kg_m3(temp_c=temp_c, rh=0.0)
    assert air.density_kg_m3(temp_c=temp_c, rh=rh) < dry


@given(temps, st.floats(5e4, 1.1e5))
def test_diffusivity_goes_with_one_over_pressure(temp_c: float, pressure_pa: float) -> None:
    thin = float(air.vapour_diffusivity_m2_s(temp_c=temp_c, pressure_pa=pressure_pa))
    full = float(air.vapour_diffusivity_m2_s(temp_c=temp_c))
    assert thin * pressure_pa == pytest.approx(full * 101325)


def test_deficit_and_vapour_add_up_to_saturation() -> None:
    """C R_v T is the vapour's pressure; the deficit is the rest."""
    vapour = float(air.vapour_density_kg_m3(temp_c=22, rh=0.4)) * 461.523 * 295.15
    deficit = float(air.vapour_deficit_pa(temp_c=22, rh=0.4))
    assert vapour + deficit == pytest.approx(float(air.saturation_pressure_pa(temp_c=22)))
    assert vapour / deficit == pytest.approx(0.4 / 0.6)


def test_floats_give_a_float_and_arrays_an_array() -> None:
    assert type(air.saturation_pressure_pa(temp_c=22)) is float
    assert type(air.dew_point_c(temp_c=22, rh=0.5)) is float
    temps_c, humidities = np.array([[15.0], [25.0]]), np.array([0.3, 0.6, 0.9])
    many = np.asarray(air.dew_point_c(temp_c=temps_c, rh=humidities))
    assert many.shape == (2, 3)
    assert many[1, 2] == air.dew_point_c(temp_c=25.0, rh=0.9)


@pytest.mark.parametrize(
    ("law", "temp_c", "rh", "said"),
    [
        (air.dew_point_c, 22.0, 0.0, r"rh is 0; it must lie between 0\.001 and 1"),
        (air.dew_point_c, 61.0, 0.5, "temp_c is 61; it must lie between -20 and 60"),
        (air.vapour_density_kg_m3, 22.0, 40.0, "rh is 40; it must lie between 0 and 1"),
        (air.vapour_density_kg_m3, 22.0, -0.1, "rh"),
        (air.vapour_deficit_pa, 22.0, 1.01, "rh"),
        (air.humidity_ratio, math.nan, 0.5, "temp_c is nan"),
        (air.density_kg_m3, -40.0, 0.5, "temp_c"),
    ],
)
def test_outside_its_range_a_sum_is_refused(
    law: Callable[..., Amount], temp_c: float, rh: float, said: str
) -> None:
    with pytest.raises(OutsideValidity, match=said):
        law(temp_c=temp_c, rh=rh)


def test_a_refusal_names_the_element_that_lies_outside() -> None:
    with pytest.raises(OutsideValidity) as refused:
        air.saturation_pressure_pa(temp_c=np.array([20.0, 21.0, 250.0, 300.0]))
    assert (refused.value.quantity, refused.value.value) == ("temp_c", 250.0)
    assert (refused.value.low, refused.value.high) == (-100.0, 200.0)
    with pytest.raises(OutsideValidity, match="pressure_pa is 1013"):
        air.vapour_diffusivity_m2_s(temp_c=20.0, pressure_pa=1013.0)
    with pytest.raises(OutsideValidity, match="temp_c"):
        air.viscosity_pa_s(temp_c=293.15)


def test_the_ends_of_a_range_belong_to_it() -> None:
    assert float(air.saturation_pressure_pa(temp_c=200.0)) > 1.5e6
    assert air.vapour_density_kg_m3(temp_c=22.0, rh=0.0) == 0


@pytest.mark.parametrize("temp_c", [-15.0, 0.0, 5.0, 15.0, 22.0, 30.0, 45.0])
def test_against_psychrolib(temp_c: float) -> None:
    """The same ASHRAE equations: to 1e-6. Its dew point stops at 0.001 C, hence 0.002 C."""
    psychrolib = import_module("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    ours = float(air.saturation_pressure_pa(temp_c=temp_c))
    assert ours == pytest.approx(psychrolib.GetSatVapPres(temp_c), rel=1e-6)
    assert ours * 1.00001 != pytest.approx(psychrolib.GetSatVapPres(temp_c), rel=1e-6)
    theirs = psychrolib.GetHumRatioFromRelHum(temp_c, 0.6, 101325)
    assert air.humidity_ratio(temp_c=temp_c, rh=0.6) == pytest.approx(theirs, rel=1e-6)
    theirs = psychrolib.GetTDewPointFromRelHum(temp_c, 0.6)
    assert air.dew_point_c(temp_c=temp_c, rh=0.6) == pytest.approx(theirs, abs=2e-3)
    assert air.dew_point_c(temp_c=temp_c, rh=0.602) != pytest.approx(theirs, abs=2e-3)


@pytest.mark.parametrize("temp_c", [10.0, 15.0, 20.0, 25.0, 30.0])
def test_against_real_moist_air(temp_c: float) -> None:
    """CoolProp's real gas: vapour pressure 0.5 % higher (enhancement), density within 0.06 %
    (compressibility), viscosity within 0.3 % at most of Sutherland's dry air when half damp."""
    props = import_module("CoolProp.HumidAirProp").HAPropsSI
    state = ("T", temp_c + 273.15, "P", 101325, "R", 0.5)
    density = (1 + props("W", *state)) / props("Vda", *state)
    ours = float(air.density_kg_m3(temp_c=temp_c, rh=0.5))
    assert ours == pytest.approx(density, rel=6e-4)
    assert ours * 1.0015 != pytest.approx(density, rel=6e-4)
    ours = float(air.humidity_ratio(temp_c=temp_c, rh=0.5))
    assert ours == pytest.approx(props("W", *state), rel=5e-3)
    assert ours * 0.994 != pytest.approx(props("W", *state), rel=5e-3)
    ours = float(air.viscosity_pa_s(temp_c=temp_c))
    assert ours == pytest.approx(props("mu", *state), rel=3e-3)
    assert ours * 1.007 != pytest.approx(props("mu", *state), rel=3e-3)
