"""Humidity over saturated salts against published tables, in per cent.

How each figure was seen is said in brackets; each tolerance has its reason and fails beside it.
"""

import math

import numpy as np
import pytest

from mancary.science.air import saturation_pressure_pa
from mancary.science.salts import SALTS, salt_rh, salt_uncertainty

SALT_TEMPS = (15.0, 20.0, 25.0, 30.0)

GREENSPAN = {
    "LiCl": (11.31, 11.31, 11.30, 11.29),
    "MgCl2": (33.30, 33.07, 32.79, 32.45),
    "K2CO3": (43.15, 43.16, 43.17, 43.18),
    "NaBr": (60.68, 59.14, 57.57, 56.03),
    "NaCl": (75.61, 75.48, 75.30, 75.09),
    "KCl": (85.92, 85.11, 84.35, 83.63),
    "K2SO4": (97.89, 97.60, 97.30, 97.01),
}
"""Greenspan's polynomials worked out (coefficients second-hand; NaBr's row from memory)."""

PADFIELD = {
    "LiCl": (11.3, 11.3, 11.3),
    "MgCl2": (33.3, 33.1, 32.8),
    "K2CO3": (43.1, 43.2, 43.2),
    "NaBr": (60.7, 59.1, 57.6),
    "NaCl": (75.6, 75.7, 75.3),
    "KCl": (85.9, 85.1, 84.3),
    "K2SO4": (97.9, 97.6, 97.3),
}
"""padfield.org, after Greenspan (seen): 15, 20 and 25 C."""

CRC = {
    "NaCl": (69.20, 25.0),
    "KCl": (49.38, 159.0),
    "MgCl2": (29.26, 34.0),
    "K2SO4": (86.75, 34.0),
    "LiCl": (14.53, -75.0),
    "NaBr": (20.49, 308.0),
}
"""A exp(B/T), CRC Handbook as two pages print it (seen)."""


def percent(salt: str, temp_c: float) -> float:
    return 100 * float(salt_rh(salt=salt, temp_c=temp_c))


@pytest.mark.parametrize("salt", SALTS)
def test_salts_against_greenspan(salt: str) -> None:
    """To the printed 0.01 point, half of it and a hair for figures that end in five."""
    for temp_c, value in zip(SALT_TEMPS, GREENSPAN[salt], strict=True):
        assert percent(salt, temp_c) == pytest.approx(value, abs=0.0051)
        assert percent(salt, temp_c) + 0.011 != pytest.approx(value, abs=0.0051)


@pytest.mark.parametrize("salt", SALTS)
def test_salts_against_padfield(salt: str) -> None:
    """To the printed 0.1 point, half of it and a hair. NaCl at 20 C, 75.7, is out of line with its
    neighbours 75.6 and 75.3 (75.47 from memory) and is not held to."""
    for temp_c, value in zip(SALT_TEMPS, PADFIELD[salt], strict=False):
        if (salt, temp_c) == ("NaCl", 20.0):
            assert percent(salt, temp_c) != pytest.approx(value, abs=0.06)
            continue
        assert percent(salt, temp_c) == pytest.approx(value, abs=0.06)
        assert percent(salt, temp_c) + 0.12 != pytest.approx(value, abs=0.06)


def test_the_signs_in_circulation_fail() -> None:
    """With a minus before the linear term LiCl has 10.98 at 20 C; the table has 11.3."""
    wrong = 11.2323 - 0.00824245 * 20 - 2.1489e-4 * 400
    assert wrong == pytest.approx(10.98, abs=0.005)
    assert wrong != pytest.approx(PADFIELD["LiCl"][1], abs=0.06)
    wrong = 43.1315 - 0.00147523 * 25
    assert wrong != pytest.approx(PADFIELD["K2CO3"][2], abs=0.06)


@pytest.mark.parametrize("salt", CRC)
def test_salts_against_the_rounded_exponentials(salt: str) -> None:
    """Rounded, within 2 % of the humidity: they tell salts apart, they calibrate nothing."""
    a, b = CRC[salt]
    value = a * math.exp(b / 298.15)
    assert percent(salt, 25.0) == pytest.approx(value, rel=0.02)
    assert percent(salt, 25.0) * 1.045 != pytest.approx(value, rel=0.02)


def test_salts_against_another_program() -> None:
    """aquasol 1.8.2 at 25 C (computed): NaCl 75.27, KCl 84.27, within 0.1 point, the
    uncertainty of either; its LiCl of 10.62 disagrees with the table and is not used."""
    assert percent("NaCl", 25.0) == pytest.approx(75.27, abs=0.1)
    assert percent("KCl", 25.0) == pytest.approx(84.27, abs=0.1)
    assert percent("NaCl", 25.0) + 0.15 != pytest.approx(75.27, abs=0.1)
    assert percent("LiCl", 25.0) != pytest.approx(10.62, abs=0.1)


def test_how_well_the_salts_are_known() -> None:
    """Greenspan's uncertainties at 20-25 C in points (memory), exact as copied; Padfield's table
    (seen) lies within each, and half a point of rounding."""
    known = {
        "LiCl": 0.3, "MgCl2": 0.2, "K2CO3": 0.4, "NaBr": 0.4, "NaCl": 0.15, "KCl": 0.3, "K2SO4": 0.5,
    }  # fmt: skip
    for salt, points in known.items():
        assert 100 * salt_uncertainty(salt=salt) == pytest.approx(points, rel=1e-9)
        assert abs(percent(salt, 25.0) - PADFIELD[salt][2]) <= points + 0.05
    assert 100 * salt_uncertainty(salt="NaCl") != pytest.approx(0.2, rel=1e-9)


def test_a_sensor_one_kelvin_warmer_reads_six_per_cent_low() -> None:
    """5.9 % of the reading (computed, 25 C), 4.4 points at 75 %: printed to 0.1."""
    low = 1 - float(saturation_pressure_pa(temp_c=25.0)) / float(
        saturation_pressure_pa(temp_c=26.0)
    )
    at_20 = 1 - float(saturation_pressure_pa(temp_c=20.0)) / float(
        saturation_pressure_pa(temp_c=21.0)
    )
    assert 100 * np.mean([low, at_20]) == pytest.approx(5.9, abs=0.1)
    assert 75 * low == pytest.approx(4.4, abs=0.1)
    assert 75 * 1.5 * low != pytest.approx(4.4, abs=0.1)
