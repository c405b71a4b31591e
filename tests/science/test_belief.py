"""The filter: what must not matter does not, what was taken is known, fast species are followed."""

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mancary.science.belief import (
    advance,
    beliefs,
    believe,
    observe,
    p_growing,
    regime_weights,
    size,
    start,
)
from mancary.science.belief_evidence import Dead, Evidence, FullCount, IndexCount, LeftOver, Young
from mancary.science.belief_model import BeliefModel, sizes, with_top
from mancary.science.belief_state import Belief, History, Visit
from mancary.science.belief_taking import left_by, removal, take_out
from mancary.science.risk import p_below
from mancary.science.validity import OutsideValidity

MODEL = BeliefModel()
FLOAT32 = 2e-6
"""Chances in float32 carry seven figures; a few dozen sums of them lose one."""

EVIDENCE = st.one_of(
    st.integers(0, 60).map(IndexCount),
    st.integers(0, 400).map(FullCount),
    st.booleans().map(Young),
    st.builds(Dead, st.integers(0, 6), st.floats(1.0, 8.0)),
    st.floats(0.0, 1.0).map(LeftOver),
)
VISITS = st.lists(
    st.tuples(st.integers(0, 6), st.lists(EVIDENCE, max_size=3), st.sampled_from([0.0, 0.0, 8.0])),
    min_size=1,
    max_size=6,
)


def history(
    told: list[tuple[int, list[Evidence], float]], founders: tuple[int, int] | None = None
) -> History:
    week, visits = 0, []
    for gap, evidence, taken in told:
        week += gap
        visits.append(Visit(week=week, evidence=tuple(evidence), taken=taken))
    return History(visits=tuple(visits), week=week + 2, founders=founders)


def seen(counts: list[int], every: int, founders: tuple[int, int] | None = None) -> History:
    return history([(every, [FullCount(count)], 0.0) for count in counts], founders)


@given(VISITS, st.sampled_from([None, (10, 12), (200, 900)]))
@settings(max_examples=30, deadline=None)
def test_whatever_is_seen_the_belief_is_one(
    told: list[tuple[int, list[Evidence], float]], founders: tuple[int, int] | None
) -> None:
    last = believe(history(told, founders), MODEL)
    assert last.shares.sum(dtype=float) == pytest.approx(1.0, abs=1e-5)
    assert last.shares.min() >= 0
    held = size(last)
    assert 0 <= held.low <= held.mid <= held.high < 6000
    assert regime_weights(last).sum() == pytest.approx(1.0)
    assert 0 <= p_growing(last, MODEL) <= 1


@given(VISITS)
@settings(max_examples=20, deadline=None)
def test_visit_by_visit_is_the_same_as_from_the_start(
    told: list[tuple[int, list[Evidence], float]],
) -> None:
    """Acceptance (iv), to the last bit."""
    whole = history(told)
    now, week = start(MODEL), 0
    for visit in whole.visits:
        now = observe(advance(now, MODEL, visit.week - week), MODEL, visit.evidence)
        now, week = left_by(now, visit), visit.week
    now = advance(now, MODEL, whole.week - week)
    rebuilt = believe(whole, MODEL)
    assert np.array_equal(now.shares, rebuilt.shares)
    assert now.log_evidence == rebuilt.log_evidence
    assert not np.array_equal(advance(now, MODEL, 1).shares, rebuilt.shares)


@given(VISITS, st.integers(0, 5))
@settings(max_examples=20, deadline=None)
def test_an_empty_visit_changes_nothing(
    told: list[tuple[int, list[Evidence], float]], place: int
) -> None:
    """Acceptance (iii)."""
    plain = history(told)
    at = min(place, len(told) - 1)
    week = plain.visits[at].week + 1
    later = [one for one in plain.visits if one.week > week]
    before = [one for one in plain.visits if one.week <= week]
    emptied = replace(plain, visits=(*before, Visit(week=week), *later))
    one, other = believe(plain, MODEL), believe(emptied, MODEL)
    assert np.abs(one.shares - other.shares).max() < FLOAT32


def test_looking_and_seeing_none_is_no_empty_visit() -> None:
    looked = history([(3, [IndexCount(9)], 0.0), (2, [IndexCount(0)], 0.0)])
    blank = history([(3, [IndexCount(9)], 0.0), (2, [], 0.0)])
    one, other = believe(looked, MODEL), believe(blank, MODEL)
    assert np.abs(one.shares - other.shares).max() > 100 * FLOAT32
    assert size(one).mid < size(other).mid


def test_neither_the_order_of_sights_nor_that_of_colonies_matters() -> None:
    """Acceptance (ii): sights of one visit to rounding, colonies to the last bit."""
    sights: tuple[Evidence, ...] = (IndexCount(4), Young(seen=True), Dead(2, 3.0), LeftOver(1.0))
    each = [
        believe(History(visits=(Visit(week=5, evidence=order),), week=9), MODEL)
        for order in permutations(sights)
    ]
    for one in each:
        assert np.abs(one.shares - each[0].shares).max() < FLOAT32
    colonies = [seen([30 + n, 20 + 5 * n], 4) for n in range(6)]
    forth = [p_below(believe(one, MODEL), MODEL) for one in colonies]
    back = [p_below(believe(one, MODEL), MODEL) for one in reversed(colonies)]
    assert forth == back[::-1]
    assert len(set(forth)) == len(forth)


@pytest.mark.parametrize("taken", [1.0, 6.0, 20.0])
def test_taking_out_is_conditioning_on_there_having_been_so_many(taken: float) -> None:
    """Against a million sizes drawn even in ln N over their cells; 4 errors of 0.0005."""
    before = believe(seen([25, 18], 4), MODEL)
    chance = np.random.default_rng(5)
    cell = chance.choice(68, 1_000_000, p=before.by_size / before.by_size.sum())
    drawn = sizes(68)[cell] * np.exp(chance.uniform(-0.065, 0.065, cell.size)) - taken
    left = drawn[drawn >= 0]
    after = take_out(before, taken)
    edges = np.concatenate([[0.5], np.exp(np.arange(67) * 0.13 + 0.065)])
    share = np.histogram(left, edges)[0] / left.size
    assert after.by_size[1:] == pytest.approx(share, abs=0.002)
    assert after.by_size[0] == pytest.approx((left < 0.5).mean(), abs=0.002)
    assert np.exp(after.log_evidence - before.log_evidence) == pytest.approx(
        left.size / drawn.size, abs=0.002
    )
    if taken > 1:
        careless = np.histogram(np.maximum(drawn, 0.6), edges)[0] / drawn.size
        assert after.by_size[1:] != pytest.approx(careless, abs=0.002)


def test_what_is_put_in_is_there() -> None:
    back = take_out(start(MODEL, (40, 40)), -60.0)
    assert size(back).mid == pytest.approx(100.0, rel=0.07)
    assert size(take_out(start(MODEL, (0, 0)), -12.0)).mid == pytest.approx(12.0, rel=0.07)
    assert removal(68, 0.0).diagonal() == pytest.approx(1.0)


def test_more_taken_than_can_have_been_tells_nothing() -> None:
    few = start(MODEL, (3, 3))
    assert take_out(few, 50.0) is few
    assert take_out(few, 0.0) is few


def test_a_colony_all_taken_is_gone_and_breaks_no_sum() -> None:
    gone = take_out(start(MODEL, (1, 1)), 1.0)
    assert gone.by_size[0] == pytest.approx(1.0)
    assert regime_weights(gone) == pytest.approx(MODEL.regime_weights, abs=1e-6)
    assert p_growing(gone, MODEL) == 0


def test_founders_are_where_they_were_counted() -> None:
    told = size(start(MODEL, (12, 12)))
    assert told.low > 10
    assert told.mid == pytest.approx(12, rel=0.07)
    assert told.high < 14
    wide = size(start(MODEL, (10, 1000)))
    assert wide.low < 70
    assert wide.high > 900
    for wrong in ((-1, 3), (5, 4), (2, 6000)):
        with pytest.raises(OutsideValidity):
            start(MODEL, wrong)


def test_unknown_colonies_begin_at_any_size() -> None:
    """ln N about 4 with 1.5: a 90 % interval of 4.6 to 640."""
    told = size(start(MODEL))
    assert told.mid == pytest.approx(np.exp(4.0), rel=0.05)
    assert (told.low, told.high) == pytest.approx((4.6, 640.0), rel=0.15)


@pytest.mark.parametrize("times", [1, 2])
def test_empty_searches_do_not_outweigh_animals_seen_later(times: int) -> None:
    last = believe(seen([0] * times, 3), MODEL)
    assert p_below(last, MODEL) > 0.7
    seen_again = observe(last, MODEL, [FullCount(6)])
    assert seen_again.by_size[0] < 0.05


def test_a_colony_is_not_called_gone_for_empty_hides_alone() -> None:
    one, many = (believe(history([(3, [IndexCount(0)], 0.0)] * n), MODEL) for n in (1, 8))
    assert one.by_size[0] < many.by_size[0] < 0.99
    assert size(one).mid > size(many).mid


SURGE = [15, 22, 31, 44, 64, 91, 131, 188, 269]
"""15 animals growing by 0.12 of ln N a week, every three weeks; 697 after eight weeks more."""


def test_a_fast_species_is_followed_only_when_its_top_is_known() -> None:
    grown = replace(seen(SURGE, 3, (15, 15)), week=27 + 8)
    fast = with_top(MODEL, 0.12)
    known, fixed = size(believe(grown, fast)), size(believe(grown, MODEL))
    assert known.low < 697 < known.high
    assert not fixed.low < 697 < fixed.high
    assert believe(grown, fast).log_evidence > believe(grown, MODEL).log_evidence + 5


def test_a_slow_species_is_not_held_to_grow_faster_than_it_can() -> None:
    grown = replace(seen([60, 66], 6), week=40)
    slow = with_top(MODEL, 0.01)
    assert size(believe(grown, slow)).high < size(believe(grown, MODEL)).high / 1.5


def test_growth_and_decline_are_told_apart() -> None:
    up, down = (believe(seen(counts, 4), MODEL) for counts in ([20, 30, 45, 65], [65, 45, 30, 20]))
    assert p_growing(up, MODEL) > 0.9
    assert p_growing(down, MODEL) < 0.2


def test_beliefs_are_told_after_each_visit_and_at_the_last_week() -> None:
    told = list(beliefs(seen([20, 30], 4), MODEL))
    assert len(told) == 3
    assert np.array_equal(advance(told[1], MODEL, 2).shares, told[2].shares)
    assert all(isinstance(one, Belief) for one in told)


@pytest.mark.parametrize("weeks", [(5, 3), (-1,), (12,)])
def test_visits_out_of_order_are_refused(weeks: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="order"):
        History(visits=tuple(Visit(week=week) for week in weeks), week=10)


def test_weeks_that_cannot_be_are_refused() -> None:
    for weeks in (-1, 6000):
        with pytest.raises(OutsideValidity):
            advance(start(MODEL), MODEL, weeks)
    with pytest.raises(OutsideValidity):
        take_out(start(MODEL), 6000.0)
