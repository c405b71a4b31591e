"""Ranges hold their middles, move the right way, and hold simulated truths as often as they say."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.science.counting import (
    Estimate,
    chapman,
    likeliest_removal,
    negative_binomial,
    poisson_interval,
    removal,
    scale_up,
    schnabel,
    schumacher,
)
from mancary.science.validity import OutsideValidity

SMALL = st.integers(1, 60)
FEW_COUNTS = st.lists(st.integers(0, 60), min_size=1, max_size=8)
CATCHES = st.lists(st.integers(0, 40), min_size=2, max_size=5)
SHARES = st.floats(0.01, 1.0)


def in_order(told: Estimate) -> None:
    assert 0 <= told.low <= told.estimate <= told.high
    assert told.standard_error >= 0
    assert told.said.endswith(".")
    assert ("no upper bound" in told.said) == math.isinf(told.high) or "Nothing" in told.said


@given(marked=SMALL, caught=SMALL, data=st.data())
def test_marks_hold_their_middle(marked: int, caught: int, data: st.DataObject) -> None:
    back = data.draw(st.integers(0, min(marked, caught)))
    told = chapman(marked=marked, caught=caught, recaptured=back)
    in_order(told)
    assert told.low >= marked + caught - back
    assert math.isinf(told.high) == (back == 0)
    if back:
        fewer = chapman(marked=marked, caught=caught, recaptured=back - 1)
        assert fewer.estimate > told.estimate
        assert fewer.low >= told.low
        assert fewer.high >= told.high


@given(catches=CATCHES)
def test_removals_hold_their_middle(catches: list[int]) -> None:
    told = removal(catches=catches)
    in_order(told)
    assert told.low >= sum(catches)
    assert 0 <= told.share_taken <= 1
    if not told.falls:
        assert math.isinf(told.high)


@given(catches=CATCHES)
def test_removal_finds_the_greatest_weighted_likelihood(catches: list[int]) -> None:
    """Against every size up to 4000, by the likelihood averaged over even chances."""
    told = removal(catches=catches)
    taken, passes = sum(catches), len(catches)
    tries_less = sum(left * c for left, c in enumerate(reversed(catches)))
    sizes = range(taken, 4000)
    weighted = [
        math.lgamma(n + 1) - math.lgamma(n - taken + 1)
        + math.lgamma(passes * n - tries_less - taken + 1) - math.lgamma(passes * n - tries_less + 2)
        for n in sizes
    ]  # fmt: skip
    if told.estimate < 4000:
        assert weighted[int(told.estimate) - taken] == pytest.approx(max(weighted), abs=1e-8)
    else:
        assert weighted[-1] == max(weighted)


@given(counts=FEW_COUNTS, share=SHARES)
def test_samples_hold_their_middle(counts: list[int], share: float) -> None:
    told = scale_up(counts=counts, sampled_share=share)
    in_order(told)
    assert told.low >= sum(counts)
    assert math.isfinite(told.high)
    twice = scale_up(counts=[2 * c for c in counts], sampled_share=share)
    assert twice.estimate == pytest.approx(2 * told.estimate)
    assert twice.low >= told.low


def test_nearly_all_searched_leaves_little_open() -> None:
    """Twenty in 19/20 of the box: the rest may be a clump, but not thousands."""
    assert scale_up(counts=[20], sampled_share=0.95).high < 60
    assert scale_up(counts=[20], sampled_share=0.5).high > 60


def test_a_whole_search_leaves_nothing_open() -> None:
    told = scale_up(counts=[17], sampled_share=1.0)
    assert (told.low, told.estimate, told.high, told.standard_error) == (17, 17, 17, 0)
    assert scale_up(counts=[17], sampled_share=0.99).high > 17


@given(count=st.integers(0, 500))
def test_poisson_holds_its_count(count: int) -> None:
    low, high = poisson_interval(count=count)
    assert low <= count < high
    below = poisson_interval(count=max(count - 1, 0))
    assert below[0] <= low
    assert below[1] <= high


@given(counts=st.lists(st.integers(0, 30), min_size=2, max_size=12))
def test_negative_binomial_is_likeliest(counts: list[int]) -> None:
    """No k near the answer is likelier, by the likelihood written out."""
    told = negative_binomial(counts=counts)
    assert told.mean == pytest.approx(sum(counts) / len(counts))

    def likely(k: float) -> float:
        return sum(
            math.lgamma(c + k) - math.lgamma(k) + k * math.log(k / (k + told.mean))
            + c * math.log(told.mean / (k + told.mean))
            for c in counts
        )  # fmt: skip

    if 1e-3 < told.k < 1e3:
        assert likely(told.k) >= max(likely(told.k * 1.05), likely(told.k / 1.05)) - 1e-9
    assert math.isinf(told.k) or np.var(counts) > told.mean


LOOKS = st.lists(st.tuples(st.integers(1, 20), st.floats(0, 1)), min_size=3, max_size=7)


@given(looks=LOOKS)
def test_repeated_marks_hold_their_middle(looks: list[tuple[int, float]]) -> None:
    caught = [many for many, _ in looks]
    back, marks = [], 0
    for many, share in looks:
        back.append(int(share * min(many, marks)))
        marks += many - back[-1]
    in_order(schnabel(caught=caught, recaptured=back, released=caught))
    if sum(back):
        in_order(schumacher(caught=caught, recaptured=back, released=caught))


def test_the_sentences_a_keeper_needs() -> None:
    assert "moult" in chapman(marked=20, caught=20, recaptured=9).said
    assert "Few marked ones" in chapman(marked=20, caught=20, recaptured=3).said
    assert "Few marked ones" not in chapman(marked=20, caught=20, recaptured=9).said
    assert "fall too little" in removal(catches=[16, 15]).said
    assert "Too few were taken" in removal(catches=[5, 2]).said
    assert "young ones" in removal(catches=[60, 20, 5]).said
    assert "One sample cannot" in scale_up(counts=[9], sampled_share=0.1).said
    assert "not nothing" in scale_up(counts=[0, 0], sampled_share=0.1).said
    assert "One sample held most" in scale_up(counts=[30, 1, 2], sampled_share=0.1).said
    assert "all there are" in scale_up(counts=[3, 4], sampled_share=1.0).said


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: chapman(marked=10, caught=8, recaptured=9),
        lambda: chapman(marked=0, caught=8, recaptured=0),
        lambda: chapman(marked=10, caught=-1, recaptured=0),
        lambda: removal(catches=[5, -1]),
        lambda: removal(catches=[5, 20_000]),
        lambda: scale_up(counts=[3], sampled_share=0.0),
        lambda: scale_up(counts=[3], sampled_share=1.2),
        lambda: poisson_interval(count=-1),
        lambda: schnabel(caught=[9, 9], recaptured=[1, 0], released=[9, 9]),
    ],
)
def test_refused_outside(wrong: Callable[[], object]) -> None:
    with pytest.raises(OutsideValidity):
        wrong()


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        (lambda: removal(catches=[5]), "2 or more"),
        (lambda: removal(catches=[5.5, 2]), "whole"),  # type: ignore[list-item]
        (lambda: scale_up(counts=[], sampled_share=0.2), "1 or more"),
        (lambda: chapman(marked=10, caught=8, recaptured=0.5), "whole"),  # type: ignore[arg-type]
        (lambda: negative_binomial(counts=[3]), "2 or more"),
        (lambda: likeliest_removal(catches=[5, 5]), "do not fall"),
        (lambda: schnabel(caught=[9, 9], recaptured=[0, 0, 0], released=[9, 9]), "one length"),
        (lambda: schnabel(caught=[9, 9], recaptured=[0, 0], released=[0, 9]), "nothing was"),
        (lambda: schumacher(caught=[9, 9], recaptured=[0, 1], released=[9, 9]), "three looks"),
    ],
)
def test_refused_as_no_answer(wrong: Callable[[], object], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        wrong()
