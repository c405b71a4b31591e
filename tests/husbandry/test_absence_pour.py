"""What a stand-in pours: never more than a box has lost and one reserve, at no visit."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from mancary.husbandry.absence import Reserve, Visit, is_wide, shortened, visits
from mancary.husbandry.absence_pour import pour_on, with_pours

LEAVING = date(2026, 12, 1)
SMALL = (5.0, 15.0)
UNWEIGHED = Reserve(low_days=7, high_days=28, basis="x", grams=6, g_per_day=0.5)
WEIGHED = replace(UNWEIGHED, by_scale=True)

RESERVES = st.builds(
    Reserve,
    low_days=st.floats(0.5, 30),
    high_days=st.floats(30, 56),
    basis=st.just("x"),
    grams=st.floats(0, 60),
    g_per_day=st.floats(0, 6),
    by_scale=st.booleans(),
)
BANDS = st.sampled_from([SMALL, (20.0, 50.0), (50.0, 150.0), None])


@given(
    st.dictionaries(st.sampled_from("ABCDEF"), st.tuples(RESERVES, BANDS), min_size=1),
    st.integers(2, 60),
)
def test_at_no_visit_has_more_been_poured_than_was_lost_and_one_reserve(
    told: dict[str, tuple[Reserve, tuple[float, float] | None]], days: int
) -> None:
    reserves = {box: reserve for box, (reserve, _) in told.items()}
    usual = {box: band for box, (_, band) in told.items() if band}
    wanted = visits(reserves, sorted(told), leaving=LEAVING, back=LEAVING + timedelta(days=days))
    found, pours = with_pours(wanted, reserves, usual, leaving=LEAVING)
    assert set(pours) == {box for visit in found for box in visit.boxes}
    for box, pour in pours.items():
        reserve, poured = reserves[box], 0.0
        for visit in (one for one in found if box in one.boxes):
            poured += pour.high_ml
            lost = reserve.g_per_day * (visit.day - LEAVING).days
            assert poured <= lost + (0 if reserve.by_scale else reserve.grams) + 1e-6
        assert 1 <= pour.low_ml <= pour.high_ml <= usual.get(box, (0, 10**6))[1]


def test_the_cap_is_reached_so_that_one_millilitre_more_would_break_it() -> None:
    pour = pour_on(UNWEIGHED, SMALL, [7])
    assert pour
    assert (pour.low_ml, pour.high_ml) == (5, 9)  # half a gram on seven days and the reserve of 6
    assert pour.high_ml + 1 > 7 * UNWEIGHED.g_per_day + UNWEIGHED.grams
    assert pour.said == "5-9 mL at one end"


def test_a_weighed_box_gets_what_it_has_lost_and_no_more() -> None:
    pour = pour_on(WEIGHED, SMALL, [8])
    assert pour
    assert pour.said == "4 mL at one end"
    hot = pour_on(shortened(WEIGHED, 2.0, "hot"), SMALL, [8])
    assert hot
    assert hot.high_ml == 8


def test_no_pour_is_more_than_the_handbooks_most_for_the_size() -> None:
    thirsty = replace(WEIGHED, g_per_day=9.0)
    pour = pour_on(thirsty, SMALL, [8])
    assert pour
    assert pour.high_ml == 15


def test_visits_too_early_for_a_millilitre_fall_away() -> None:
    slow = replace(WEIGHED, g_per_day=0.2)
    wanted = [Visit(day=LEAVING + timedelta(days=day), boxes=("A",)) for day in (4, 8)]
    found, pours = with_pours(wanted, {"A": slow}, {"A": SMALL}, leaving=LEAVING)
    assert [(visit.day.day, visit.boxes) for visit in found] == [(9, ("A",))]
    assert pours["A"].high_ml == 1
    none, nothing = with_pours(
        wanted, {"A": replace(slow, g_per_day=0.01)}, {"A": SMALL}, leaving=LEAVING
    )
    assert (none, nothing) == ((), {})


@pytest.mark.parametrize(
    ("low", "high", "wide"), [(2, 10, False), (2, 10.1, True), (0, 3, True), (0.5, 90, True)]
)
def test_a_range_of_more_than_five_times_tells_no_visit_days(
    low: float,
    high: float,
    wide: bool,  # noqa: FBT001
) -> None:
    assert is_wide(low, high) is wide
