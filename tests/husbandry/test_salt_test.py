"""What the guide of the salt test says, held against the physics it rests on."""

import pytest

from mancary.husbandry.cautions import SALTS, cautions
from mancary.husbandry.facts import HygrometerChecked
from mancary.husbandry.facts.instruments import SaltReading
from mancary.husbandry.salt_test import PERCENT_A_KELVIN, STEPS, salt_truths
from mancary.husbandry.telling import told
from mancary.science.air import saturation_pressure_pa

CHECKED = HygrometerChecked(
    instrument="H1", readings=(SaltReading(salt="NaCl", reading_rh=0.785, temp_c=21),)
)


def off_by_one_kelvin(temp_c: float) -> float:
    """Per cent of its reading that a sensor 1 K warmer than the salt loses."""
    there = float(saturation_pressure_pa(temp_c=temp_c))
    warmer = float(saturation_pressure_pa(temp_c=temp_c + 1))
    return (1 - there / warmer) * 100


@pytest.mark.parametrize("temp_c", [15.0, 20.0, 25.0])
def test_a_sensor_a_kelvin_off_is_worth_what_is_said(temp_c: float) -> None:
    """Said to the whole per cent, so half of one either way."""
    assert off_by_one_kelvin(temp_c) == pytest.approx(PERCENT_A_KELVIN, abs=0.5)
    assert off_by_one_kelvin(temp_c) != pytest.approx(PERCENT_A_KELVIN + 1, abs=0.5)


def test_the_points_over_table_salt_are_as_said() -> None:
    truth = next(one for one in salt_truths((20.0,)) if one.salt == "NaCl").true_rh[0]
    assert 4 <= truth * off_by_one_kelvin(20) <= 5
    assert any("4 to 5 points" in step.how for step in STEPS)


def test_no_lithium_salt_is_offered() -> None:
    assert not [one for one in salt_truths() if one.salt.startswith("Li")]


def test_a_checked_hygrometer_is_told_with_its_caution() -> None:
    assert told(CHECKED) == "hygrometer H1 checked: NaCl 78.5 %"
    assert cautions([CHECKED]) == (SALTS,)
