"""Salts: names, order, units and refusals. Their figures are in the published tables."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.science.salts import SALTS, salt_rh, salt_uncertainty
from mancary.science.validity import OutsideValidity

temps = st.floats(10.0, 30.0)


@given(temps)
def test_the_salts_stand_from_dry_to_damp(temp_c: float) -> None:
    rhs = [float(salt_rh(salt=salt, temp_c=temp_c)) for salt in SALTS]
    assert rhs == sorted(rhs)
    assert 0.1 < rhs[0] < rhs[-1] < 1.0


@pytest.mark.parametrize("salt", SALTS)
def test_no_salt_leaps(salt: str) -> None:
    """Less than half a point a degree: no jump where two lines of a table meet."""
    along = np.asarray(salt_rh(salt=salt, temp_c=np.linspace(10, 30, 201)))
    assert np.abs(np.diff(along)).max() < 0.005 * 0.1
    assert 0.001 < salt_uncertainty(salt=salt) <= 0.005


def test_what_a_salt_says_is_a_fraction_and_a_float() -> None:
    assert type(salt_rh(salt="NaCl", temp_c=20)) is float
    assert salt_rh(salt="NaCl", temp_c=20) == pytest.approx(0.7548, abs=5e-5)


@pytest.mark.parametrize("salt", SALTS)
@pytest.mark.parametrize("temp_c", [9.9, 30.1, float("nan")])
def test_outside_ten_to_thirty_degrees_is_refused(salt: str, temp_c: float) -> None:
    with pytest.raises(OutsideValidity, match="between 10 and 30"):
        salt_rh(salt=salt, temp_c=temp_c)


def test_another_salt_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="'MgBr2' here; there are LiCl, MgCl2"):
        salt_rh(salt="MgBr2", temp_c=20.0)
    with pytest.raises(ValueError, match="no salt"):
        salt_uncertainty(salt="salt")
