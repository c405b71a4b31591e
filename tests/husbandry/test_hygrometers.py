"""What a salt test teaches; readings here are made from a known line, never a check of the salts."""

import pytest

from mancary.husbandry.facts.instruments import Salt, SaltReading
from mancary.husbandry.hygrometers import salt_line, salt_point
from mancary.husbandry.refusal import Refusal

EXACT = 1e-9
"""Only rounding of doubles: the points lie on the line by construction."""


def shown_by(salt: Salt, *, too_much: float = 0.04, steep: float = 1.0) -> SaltReading:
    """A hygrometer that shows ``too_much + steep * truth``."""
    truth = salt_point(SaltReading(salt=salt, reading_rh=0.5, temp_c=21)).true_rh
    return SaltReading(salt=salt, reading_rh=too_much + steep * truth, temp_c=21)


def test_two_salts_give_the_line_back_without_an_error() -> None:
    line = salt_line((shown_by("NaCl", steep=0.9), shown_by("MgCl2", steep=0.9)))
    assert line.corrected(0.04 + 0.9 * 0.6) == pytest.approx(0.6, abs=EXACT)
    assert line.standard_error(0.6) is None
    assert "two points cannot tell" in line.error_said


def test_a_slightly_other_line_does_not_pass() -> None:
    line = salt_line((shown_by("NaCl", steep=0.901), shown_by("MgCl2", steep=0.9)))
    assert line.corrected(0.04 + 0.9 * 0.6) != pytest.approx(0.6, abs=EXACT)


def test_three_salts_tell_an_error_and_that_it_is_rough() -> None:
    low = shown_by("NaBr", too_much=0.03)
    line = salt_line((shown_by("NaCl"), shown_by("MgCl2"), low))
    error = line.standard_error(0.6)
    assert error is not None
    assert 0 < error < 0.02
    assert "rough" in line.error_said


def test_one_salt_gives_an_offset_only() -> None:
    line = salt_line((shown_by("NaCl"),))
    assert line.corrected(0.6) == pytest.approx(0.56, abs=EXACT)
    assert line.off_said(0.6) == "at 60 % it shows 4 points too much"
    assert "offset only" in line.error_said


def test_one_that_shows_too_little_says_so() -> None:
    line = salt_line((shown_by("NaCl", too_much=-0.01),))
    assert line.off_said(0.6) == "at 60 % it shows 1 point too little"


def test_the_span_that_was_tested_is_told_from_what_lies_outside() -> None:
    line = salt_line((shown_by("NaCl"), shown_by("MgCl2")))
    assert not line.is_outside(0.6)
    assert line.is_outside(0.9)
    assert line.is_outside(0.2)


def test_salts_that_make_no_line_are_refused_with_what_to_do() -> None:
    flat = SaltReading(salt="NaCl", reading_rh=0.55, temp_c=21)
    with pytest.raises(Refusal, match="read again"):
        salt_line((flat, SaltReading(salt="MgCl2", reading_rh=0.54, temp_c=21)))


def test_a_reading_far_off_is_refused_as_too_soon() -> None:
    with pytest.raises(Refusal, match="too soon"):
        salt_line((SaltReading(salt="NaCl", reading_rh=0.45, temp_c=21),))


def test_a_reading_that_is_no_share_is_refused() -> None:
    with pytest.raises(Refusal, match="between 0 and 100"):
        salt_line((shown_by("NaCl"),)).corrected(60)


def test_two_readings_over_one_salt_far_apart_are_refused() -> None:
    def over(*shown: float) -> tuple[SaltReading, ...]:
        return tuple(SaltReading(salt="NaCl", reading_rh=one, temp_c=21) for one in shown)

    with pytest.raises(Refusal, match="8 points apart over one salt"):
        salt_line(over(0.72, 0.80))
    assert len(salt_line(over(0.74, 0.76)).points) == 2


def test_a_salt_read_again_is_no_third_salt() -> None:
    """The review's case: NaCl 78, NaCl 78, MgCl2 35."""
    table = SaltReading(salt="NaCl", reading_rh=0.78, temp_c=20)
    line = salt_line((table, table, SaltReading(salt="MgCl2", reading_rh=0.35, temp_c=20)))
    assert line.standard_error(0.6) is None
    assert "two salts cannot tell" in line.error_said
    assert "standard error" not in line.error_said


def test_three_salts_on_an_exact_line_err_at_least_as_their_truths_do() -> None:
    line = salt_line((shown_by("NaCl"), shown_by("MgCl2"), shown_by("NaBr")))
    truths = [point.true_error for point in line.points]
    error = line.standard_error(line.line.middle_reading)
    assert error is not None
    assert min(truths) / 3**0.5 <= error <= max(truths)


def test_far_beyond_the_test_the_nearest_offset_is_kept() -> None:
    """NaCl shown 77, KCl 82: a slope of 1.9, which would make 14 % of a reading of 45 %."""
    line = salt_line(
        (
            SaltReading(salt="NaCl", reading_rh=0.77, temp_c=20),
            SaltReading(salt="KCl", reading_rh=0.82, temp_c=20),
        )
    )
    low = line.corrected(0.77)
    assert low == pytest.approx(0.755, abs=0.005)
    assert line.corrected(0.45) == pytest.approx(0.45 - (0.77 - low))
    carried = float(line.line.corrected(0.45))
    assert carried < 0.15
    assert line.ends(0.45) == (carried, line.corrected(0.45))
    assert line.corrected(0.90) == pytest.approx(0.90 + line.corrected(0.82) - 0.82)
    assert line.ends(0.80) == (line.corrected(0.80), line.corrected(0.80))
