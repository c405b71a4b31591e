"""Each kind of sight: chances that sum to one, none that is nought, and which way it points."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import nbinom

from mancary.science.belief import believe, observe
from mancary.science.belief_evidence import (
    Dead,
    Estimate,
    Evidence,
    FullCount,
    IndexCount,
    LeftOver,
    RangeCount,
    ShareCount,
    Young,
    negative_binomial,
)
from mancary.science.belief_model import BeliefModel, sizes
from mancary.science.belief_state import History, Visit
from mancary.science.validity import Floats, OutsideValidity

MODEL = BeliefModel()
SIZES = sizes(MODEL.shape[2])
SOME = slice(0, 49)
"""Cells of up to 450 animals: counts to 5,000 hold all but a hundred-thousandth of their chances."""


def told(evidence: Evidence) -> Floats:
    return np.broadcast_to(evidence.likelihood(MODEL), MODEL.shape)


@given(st.integers(0, 3000), st.floats(1e-3, 5000), st.floats(0.2, 200))
@settings(max_examples=200)
def test_the_negative_binomial_is_that_of_another_program(
    count: int, mean: float, k: float
) -> None:
    """Logarithms of gammas of some thousands carry 1e-12 of 1e4; the smallest are compared not."""
    ours = float(negative_binomial(count, np.array([mean]), k)[0])
    assert ours == pytest.approx(nbinom.pmf(count, k, k / (k + mean)), rel=1e-7, abs=1e-200)


def test_a_k_that_is_a_little_off_is_told_from_it() -> None:
    ours = float(negative_binomial(7, np.array([12.0]), 2.5)[0])
    assert ours != pytest.approx(nbinom.pmf(7, 2.501, 2.501 / 14.501), rel=1e-7)


def test_no_animals_give_no_count_but_nought() -> None:
    assert negative_binomial(0, np.array([0.0]), 2.5).tolist() == [1.0]
    assert negative_binomial(3, np.array([0.0]), 2.5).tolist() == [0.0]


@pytest.mark.parametrize(
    ("kind", "slack"),
    [
        # odd counts are held as likely as 1/(y + 1), cut where the grid ends: 1 to a few per cent
        (FullCount, 0.002),
        (IndexCount, 1e-4),
        (lambda count: ShareCount(count, 0.3), 0.002),
        (lambda count: Dead(count, 4.0), 1e-4),
    ],
)
def test_the_chances_of_all_counts_sum_to_one(
    kind: Callable[[int], Evidence], slack: float
) -> None:
    total = sum(kind(count).likelihood(MODEL)[..., SOME.start : SOME.stop] for count in range(5000))
    assert np.asarray(total) == pytest.approx(1.0, abs=slack)
    fewer = sum(kind(count).likelihood(MODEL)[..., SOME.start : SOME.stop] for count in range(1))
    assert np.asarray(total - fewer).min() < 1 - slack


def test_what_is_seen_or_not_sums_to_one() -> None:
    assert told(Young(seen=True)) + told(Young(seen=False)) == pytest.approx(1.0)
    assert told(LeftOver(0.0)) + told(LeftOver(1.0)) == pytest.approx(1.0)
    part = told(LeftOver(0.4)) + told(LeftOver(0.6))
    assert part.max() <= 1.0 + 1e-12


def test_estimates_of_one_size_sum_to_one() -> None:
    sharp = sum(Estimate(mid, 5.0).likelihood(MODEL)[0, 0, 36] for mid in np.arange(0.0, 600.0))
    odd = 0.02 * (np.log(600) + 0.58) / 9.16
    assert sharp == pytest.approx(0.98 + odd, abs=0.001)


SIGHTS = st.one_of(
    st.integers(0, 100_000).map(FullCount),
    st.integers(0, 100_000).map(IndexCount),
    st.builds(ShareCount, st.integers(0, 100_000), st.floats(0.01, 1.0)),
    st.builds(
        lambda low, more, full: RangeCount(low, low + more, full),
        st.integers(0, 500),
        st.integers(0, 200),
        st.booleans(),
    ),
    st.booleans().map(Young),
    st.builds(Dead, st.integers(0, 100_000), st.floats(0.0, 60.0)),
    st.builds(LeftOver, st.floats(0.0, 1.0), st.floats(1.0, 500.0)),
    st.builds(Estimate, st.floats(0.0, 5000.0), st.floats(0.01, 500.0)),
)


@given(SIGHTS)
@settings(max_examples=80, deadline=None)
def test_no_sight_rules_any_size_out(sight: Evidence) -> None:
    """Nought of anything least of all: an empty-looking box may be full of young."""
    chances = told(sight)
    assert np.isfinite(chances).all()
    assert chances.min() > 0


@pytest.mark.parametrize("nought", [IndexCount(0), FullCount(0), ShareCount(0, 0.3)])
def test_the_fewer_there_are_the_likelier_none_is_found(nought: Evidence) -> None:
    assert (np.diff(told(nought), axis=2) <= 1e-15).all()


def test_none_under_the_hide_happens_to_a_colony_that_is_well() -> None:
    assert told(IndexCount(0))[..., -1].min() > 0.02
    assert told(IndexCount(0))[..., 0] == pytest.approx(1.0, abs=1e-5)


@given(st.integers(1, 200), st.integers(1, 200))
@settings(max_examples=30, deadline=None)
def test_a_greater_count_speaks_for_a_greater_colony(count: int, more: int) -> None:
    """Odds of two counts rise with the size, up to what is held odd; nought may be a false one."""
    few, many = told(IndexCount(count)), told(IndexCount(count + more))
    odds = np.log(many[:, :, 1:] / few[:, :, 1:])
    sure = (few[:, :, 1:] > 1e-4) & (many[:, :, 1:] > 1e-4)
    rising = np.diff(odds, axis=2)[sure[:, :, 1:] & sure[:, :, :-1]]
    assert (rising > -1e-3).all()


def test_signs_point_the_right_way() -> None:
    young = told(Young(seen=True))
    assert (np.diff(young, axis=2) >= 0).all()
    assert (np.diff(young, axis=1) >= 0).all()
    left, cleared = told(LeftOver(1.0)), told(LeftOver(0.0))
    assert (np.diff(left, axis=2) <= 0).all()
    assert (np.diff(cleared, axis=2) >= 0).all()
    many_dead = told(Dead(5, 4.0)) / told(Dead(0, 4.0))
    assert (np.diff(many_dead, axis=1) <= 1e-12).all(), "shrinking regimes first"
    assert (np.diff(many_dead, axis=2) >= -1e-12).all()


def test_hungrier_mouths_need_fewer_animals_to_leave_nothing() -> None:
    few, many = told(LeftOver(0.0, feeders=10.0)), told(LeftOver(0.0, feeders=100.0))
    assert (few >= many).all()
    assert (few > many).any()


def test_three_weeks_of_the_dead_are_as_good_as_more() -> None:
    assert told(Dead(2, 3.0)) == pytest.approx(told(Dead(2, 9.0)))
    assert told(Dead(2, 1.0)) != pytest.approx(told(Dead(2, 3.0)), rel=0.01)


@pytest.mark.parametrize("full", [True, False])
@pytest.mark.parametrize(("low", "high"), [(0, 0), (3, 9), (20, 60), (100, 900)])
def test_a_range_is_the_sum_of_its_counts(*, low: int, high: int, full: bool) -> None:
    """Beyond 25 every fourth per cent is summed, straight between: to 0.003."""
    kind = FullCount if full else IndexCount
    whole = np.asarray(sum(told(kind(count)) for count in range(low, high + 1)))
    ours = told(RangeCount(low, high, full))
    near = 1e-9 if high <= 25 else 0.003
    assert ours == pytest.approx(whole, rel=near, abs=near)
    if high > low:
        short = whole - sum(told(kind(high - n)) for n in range(max(1, (high - low) // 20)))
        assert ours != pytest.approx(short, rel=near, abs=near)


def test_the_whole_litter_searched_is_a_full_count() -> None:
    assert told(ShareCount(40, 1.0)) == pytest.approx(told(FullCount(40)))


def test_an_estimate_is_greatest_near_its_middle() -> None:
    chances = told(Estimate(100.0, 15.0))[0, 0]
    # density in N: the width of cells joins in, so the top may lie a cell below
    assert SIZES[chances.argmax()] == pytest.approx(100.0, rel=0.15)
    blunt = told(Estimate(100.0, 60.0))[0, 0]
    assert chances.max() / chances[20] > 3 * blunt.max() / blunt[20]


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: IndexCount(-1),
        lambda: FullCount(200_000),
        lambda: ShareCount(3, 0.0),
        lambda: RangeCount(5, 4, full=True),
        lambda: Dead(1, -1.0),
        lambda: LeftOver(1.2),
        lambda: LeftOver(0.5, feeders=0.0),
        lambda: Estimate(10.0, 0.0),
    ],
)
def test_what_cannot_be_is_refused(wrong: Callable[[], Evidence]) -> None:
    with pytest.raises(OutsideValidity):
        wrong()


def test_a_count_of_the_whole_box_against_all_that_was_seen_before_is_settled_by_a_second() -> None:
    """One such count may be a slip of the pen or a sudden loss; two alike are no slip."""
    model = BeliefModel()
    many = [Visit(week=week, evidence=(RangeCount(200, 2000, full=True),)) for week in (4, 8, 12)]
    before = believe(History(visits=tuple(many), week=13), model)
    once = observe(before, model, [FullCount(2)])
    twice = observe(once, model, [FullCount(2)])
    chances = [
        float(one.by_size[SIZES < 5].sum() / one.by_size.sum()) for one in (before, once, twice)
    ]
    assert chances[0] < 0.01
    assert 0.02 < chances[1] < 0.98
    assert chances[2] > 0.95
