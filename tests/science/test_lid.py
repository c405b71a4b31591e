"""The cold lid: when it gets wet, conservation of vapour, limits, and what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.science.air import dew_point_c, vapour_density_kg_m3
from mancary.science.lid import condensed_g_per_day, wet_from_c
from mancary.science.validity import OutsideValidity


def condensed(colder_c: float, *, vents: float = 8e-7, damp: float = 0.5) -> float:
    return float(
        condensed_g_per_day(
            temp_c=22.0,
            colder_c=colder_c,
            rh_outside=0.4,
            length_m=0.2,
            width_m=0.125,
            headspace_m=0.08,
            damp_share=damp,
            vents_m3_s=vents,
        )
    )


def test_at_95_percent_a_lid_one_kelvin_cooler_is_wet() -> None:
    """climate.md equation 17, as stated there; at 90 % (1.7 °C) it would not be."""
    assert wet_from_c(temp_c=22.0, rh=0.95) < 1.0
    assert wet_from_c(temp_c=22.0, rh=0.90) > 1.0


@given(st.floats(5.0, 40.0), st.floats(0.05, 1.0))
def test_the_mark_is_the_dew_point(temp_c: float, rh: float) -> None:
    colder = float(wet_from_c(temp_c=temp_c, rh=rh))
    assert temp_c - colder == pytest.approx(float(dew_point_c(temp_c=temp_c, rh=rh)), abs=1e-9)
    assert colder >= 0


@given(st.floats(0.0, 10.0), st.floats(0.0, 10.0))
def test_a_colder_lid_takes_more(one: float, other: float) -> None:
    assert condensed(min(one, other)) <= condensed(max(one, other))


def test_a_lid_as_warm_as_the_air_stays_dry() -> None:
    assert condensed(0.0) == 0
    assert condensed(10.0) > 0


def test_more_air_dries_the_lid_and_a_wetter_floor_wets_it() -> None:
    assert condensed(2.0, vents=8e-6) < condensed(2.0) < condensed(2.0, damp=1.0)


def test_what_leaves_the_floor_is_on_the_lid_or_out_of_the_vents() -> None:
    """Balance by hand: floor and lid as 1.4 times diffusion over half the headspace, to 1e-9."""
    diffusivity, area, film = 21.78e-6 * (295.15 / 273.15) ** 1.81, 0.025, 0.04 / 1.4
    lid, floor, vents = diffusivity * area / film, diffusivity * area / film / 2, 8e-7
    full, room = (float(vapour_density_kg_m3(temp_c=22.0, rh=rh)) for rh in (1.0, 0.4))
    cold = float(vapour_density_kg_m3(temp_c=20.0, rh=1.0))
    inside = (floor * full + lid * cold + vents * room) / (floor + lid + vents)
    risen = 8.64e7 * floor * (full - inside)
    out = 8.64e7 * vents * (inside - room)
    assert condensed(2.0) + out == pytest.approx(risen, rel=1e-9)
    assert condensed(2.0) * 1.001 + out != pytest.approx(risen, rel=1e-9)


def test_outside_its_range_it_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="colder_c"):
        condensed(10.1)
    with pytest.raises(OutsideValidity, match="temp_c"):
        wet_from_c(temp_c=45.0, rh=0.9)
