"""An absence: chances from ranges, and visits before any low estimate is over."""

from datetime import date, timedelta
from itertools import pairwise
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.husbandry.absence import (
    LEAST_GAP_DAYS,
    LONGEST_DAYS,
    RISK,
    Reserve,
    absence_days,
    chance_used_up,
    days_at,
    shortened,
    visits,
)
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.warming import drying_factor

LEAVING = date(2026, 7, 1)
RANGES = st.tuples(st.floats(1, 60), st.floats(0, 60)).map(
    lambda one: Reserve(low_days=one[0], high_days=one[0] + one[1], basis="x")
)


def test_the_ends_of_the_range_are_its_5_and_95_percent_points() -> None:
    """Against the normal distribution of Python's statistics module, a general reference."""
    reserve = Reserve(low_days=7, high_days=28, basis="x")
    assert chance_used_up(reserve, 7) == pytest.approx(0.05, abs=1e-9)
    assert chance_used_up(reserve, 28) == pytest.approx(0.95, abs=1e-9)
    assert chance_used_up(reserve, 14) == pytest.approx(0.5, abs=1e-9)  # the geometric middle
    assert NormalDist().inv_cdf(0.95) == pytest.approx(1.6448536269514722, abs=1e-12)


@given(RANGES, st.floats(0.01, 0.99))
def test_the_days_at_a_risk_are_the_inverse_of_the_chance(reserve: Reserve, risk: float) -> None:
    if reserve.high_days > reserve.low_days * 1.01:
        assert chance_used_up(reserve, days_at(reserve, risk)) == pytest.approx(risk, abs=1e-6)


@given(RANGES, st.floats(0.5, 100), st.floats(0, 50))
def test_longer_away_and_hotter_never_make_it_safer(
    reserve: Reserve, days: float, more: float
) -> None:
    chance = chance_used_up(reserve, days)
    assert 0 <= chance <= chance_used_up(reserve, days + more) <= 1
    assert chance_used_up(shortened(reserve, 1.4, "hot"), days) >= chance


@given(st.dictionaries(st.sampled_from("ABCDEFGH"), RANGES), st.integers(1, 60))
def test_no_box_waits_until_its_risk_is_passed_and_no_visit_is_idle(
    reserves: dict[str, Reserve], days: int
) -> None:
    walk = sorted(reserves)
    back = LEAVING + timedelta(days=days)
    found = visits(reserves, walk, leaving=LEAVING, back=back)
    assert all(visit.boxes and LEAVING < visit.day < back for visit in found)
    for box, reserve in reserves.items():
        wetted = [LEAVING, *(v.day for v in found if box in v.boxes), back]
        gaps = [(after - before).days for before, after in pairwise(wetted)]
        assert max(gaps) <= LEAST_GAP_DAYS or chance_used_up(reserve, max(gaps)) <= RISK + 1e-9
    days_of_all = [LEAVING, *(visit.day for visit in found)]
    assert all((after - before).days >= LEAST_GAP_DAYS for before, after in pairwise(days_of_all))
    assert [visit.day for visit in found] == sorted({visit.day for visit in found})


def test_boxes_that_last_are_not_visited_and_others_together() -> None:
    reserves = {
        "A": Reserve(low_days=5, high_days=5, basis="x"),
        "B": Reserve(low_days=7, high_days=7, basis="x"),
        "C": Reserve(low_days=30, high_days=60, basis="x"),
    }
    found = visits(reserves, ["A", "B", "C"], leaving=LEAVING, back=LEAVING + timedelta(days=14))
    assert [(v.day.day, v.boxes) for v in found] == [(6, ("A", "B")), (11, ("A", "B"))]
    assert all("C" not in visit.boxes for visit in found)


@pytest.mark.parametrize(
    ("days", "said"), [(0, "not after"), (LONGEST_DAYS + 1, "no plan is made")]
)
def test_what_is_no_absence_is_refused(days: int, said: str) -> None:
    with pytest.raises(Refusal, match=said):
        absence_days(LEAVING, LEAVING + timedelta(days=days))


def test_heat_shortens_as_the_saturation_pressure_does() -> None:
    """28 °C over 22 °C: 3782.9 / 2644.8 Pa, steam tables as in psychrolib 2.5.0 (second-hand for
    22 °C; 28 °C from memory), so 1.430; 1 % covers the digits remembered."""
    factor, why = drying_factor(6)
    assert factor == pytest.approx(1.430, rel=0.01)
    assert "1.4 times" in why
    assert drying_factor(0) == (1.0, "")
    with pytest.raises(Refusal):
        drying_factor(-1)
