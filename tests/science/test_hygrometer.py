"""Corrections of a hygrometer: against scipy's regression, and against truths drawn at random."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from mancary.science.hygrometer import correction
from mancary.science.salts import salt_rh
from mancary.science.validity import OutsideValidity

TRUE = np.array([float(salt_rh(salt=s, temp_c=20.0)) for s in ("MgCl2", "NaCl", "KCl", "K2CO3")])
READ = np.array([0.36, 0.79, 0.875, 0.47])


def test_three_or_more_points_are_least_squares() -> None:
    """scipy's linear regression as the reference: to rounding."""
    found = correction(true_rh=TRUE, reading_rh=READ)
    reference = stats.linregress(READ, TRUE)
    assert found.slope == pytest.approx(reference.slope, rel=1e-9)
    assert found.offset == pytest.approx(reference.intercept, rel=1e-9)
    assert found.slope_se == pytest.approx(reference.stderr, rel=1e-9)
    assert found.offset_se == pytest.approx(reference.intercept_stderr, rel=1e-9)
    assert "4 points" in found.said
    wrong = stats.linregress(TRUE, READ)
    assert found.slope != pytest.approx(wrong.slope, rel=1e-9)


@given(st.floats(-0.05, 0.05), st.floats(0.85, 1.2))
def test_two_points_are_a_line_without_an_error(offset: float, slope: float) -> None:
    true = np.array([0.33, 0.75])
    found = correction(true_rh=true, reading_rh=(true - offset) / slope)
    assert (found.offset, found.slope) == pytest.approx((offset, slope), abs=1e-9)
    assert (found.offset_se, found.slope_se, found.middle_se) == (None, None, None)
    assert found.standard_error(0.5) is None
    assert found.corrected((true - offset) / slope) == pytest.approx(true)
    assert "two points cannot tell" in found.said


def test_one_point_is_an_offset_and_says_so() -> None:
    found = correction(true_rh=0.755, reading_rh=0.79)
    assert found.offset == pytest.approx(-0.035)
    assert (found.slope, found.slope_assumed, found.points) == (1.0, True, 1)
    assert (found.offset_se, found.slope_se) == (None, None)
    assert "assumed to be 1" in found.said
    assert "not known" in found.said


def test_one_salt_read_thrice_is_an_offset_with_an_error() -> None:
    """The standard error of a mean, s/sqrt(3), textbook."""
    readings = np.array([0.78, 0.79, 0.80])
    found = correction(true_rh=np.full(3, 0.755), reading_rh=readings)
    assert found.slope_assumed
    assert found.offset == pytest.approx(-0.035)
    assert found.offset_se == pytest.approx(0.01 / np.sqrt(3))
    assert found.slope_se is None
    assert found.standard_error(0.2) == pytest.approx(0.01 / np.sqrt(3))


def test_a_corrected_reading_stays_a_humidity() -> None:
    found = correction(true_rh=0.755, reading_rh=0.70)
    assert found.corrected(0.99) == 1.0
    assert type(found.corrected(0.5)) is float
    assert found.corrected(np.array([0.2, 0.5])) == pytest.approx([0.255, 0.555])
    assert (found.lowest_reading, found.highest_reading) == (0.70, 0.70)


def test_errors_grow_away_from_the_salts() -> None:
    found = correction(true_rh=TRUE, reading_rh=READ)
    near, far = found.standard_error(found.middle_reading), found.standard_error(0.05)
    assert near is not None
    assert far is not None
    assert far > near
    assert found.standard_error(0.0) == pytest.approx(found.offset_se)


def test_standard_errors_hold_the_truth_as_often_as_they_should() -> None:
    """2,000 hygrometers with 1 point of noise on four salts: 95 % by Student's t on two degrees of
    freedom; the share's own spread is 0.5 %, so 93-97 % is four of it."""
    chance = np.random.default_rng(11)
    wide = float(stats.t.ppf(0.975, 2))
    held = []
    for _ in range(2000):
        true = -0.03 + 1.05 * READ + chance.normal(0, 0.01, 4)
        found = correction(true_rh=true, reading_rh=READ)
        assert found.slope_se is not None
        held.append(abs(found.slope - 1.05) <= wide * found.slope_se)
    assert 0.93 <= np.mean(held) <= 0.97


@pytest.mark.parametrize(
    ("true", "read", "said"),
    [
        ([0.33, 0.75], [0.5, 0.5], "slope is inf"),
        ([0.33, 0.75], [0.8, 0.3], "slope is -0.84"),
        ([0.33, 0.75], [0.50, 0.55], "slope is 8.4; it must lie between 0.5 and 2"),
        ([33.0, 75.0], [36.0, 79.0], "true_rh is 33; it must lie between 0 and 1"),
        ([0.33], [-0.1], "reading_rh"),
    ],
)
def test_a_worn_out_hygrometer_is_refused(true: list[float], read: list[float], said: str) -> None:
    with pytest.raises(OutsideValidity, match=said):
        correction(true_rh=np.array(true), reading_rh=np.array(read))


def test_truths_and_readings_must_pair() -> None:
    with pytest.raises(ValueError, match="2 truths and 1 readings"):
        correction(true_rh=np.array([0.3, 0.7]), reading_rh=0.4)
    with pytest.raises(ValueError, match="0 truths"):
        correction(true_rh=np.array([]), reading_rh=np.array([]))
    with pytest.raises(OutsideValidity, match="reading"):
        correction(true_rh=0.3, reading_rh=0.4).corrected(40.0)


def test_two_salts_read_again_are_no_third() -> None:
    found = correction(
        true_rh=np.array([0.755, 0.755, 0.33]), reading_rh=np.array([0.78, 0.78, 0.35])
    )
    assert (found.points, found.levels) == (3, 2)
    assert (found.offset_se, found.slope_se, found.middle_se) == (None, None, None)
    assert "two salts cannot tell" in found.said
    near = correction(
        true_rh=np.array([0.755, 0.75, 0.33]), reading_rh=np.array([0.78, 0.78, 0.35])
    )
    assert near.levels == 2  # one salt at two temperatures


def test_no_error_is_below_what_the_truths_own_does() -> None:
    """On an exact line: u/sqrt(3) in the middle, u/sqrt(Sxx) in the slope, textbook propagation."""
    read = np.array([0.35, 0.60, 0.78])
    bare = correction(true_rh=read - 0.02, reading_rh=read)
    assert bare.middle_se == pytest.approx(0, abs=1e-12)
    found = correction(true_rh=read - 0.02, reading_rh=read, true_se=0.003)
    assert found.middle_se == pytest.approx(0.003 / np.sqrt(3))
    assert found.slope_se == pytest.approx(0.003 / np.sqrt(np.sum((read - read.mean()) ** 2)))
    again = correction(true_rh=np.full(9, 0.755), reading_rh=np.full(9, 0.78), true_se=0.003)
    assert again.offset_se == pytest.approx(0.003)  # reading again does not better the salt
    assert correction(true_rh=TRUE, reading_rh=READ, true_se=1e-4) == correction(
        true_rh=TRUE, reading_rh=READ
    )


def test_the_floor_is_that_of_truths_drawn_at_random() -> None:
    """2,000 hygrometers without noise over four salts whose truths err by 0.3 points: the slope's
    spread, known to 1.6 % of itself from so many, within 7 %, four of it."""
    chance = np.random.default_rng(3)
    slopes = [
        correction(true_rh=READ + chance.normal(0, 0.003, 4), reading_rh=READ).slope
        for _ in range(2000)
    ]
    floor = correction(true_rh=READ, reading_rh=READ, true_se=0.003).slope_se
    assert floor is not None
    assert np.std(slopes) == pytest.approx(floor, rel=0.07)
    assert np.std(slopes) != pytest.approx(2 * floor, rel=0.07)
