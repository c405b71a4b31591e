"""What holds of any box's weighings and waterings, however they come."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Amount, CareGiven, Fact, Withdrawn
from mancary.husbandry.water_days import lasting
from mancary.husbandry.water_loss import stretches_of

from .water_story import STEADY, entry, ledger, misted, water, weighed

grams = st.integers(1300, 1500).map(float)
works = st.one_of(
    st.builds(misted, st.integers(1, 60).map(float)),
    st.builds(lambda low: misted(low, low + 5), st.integers(1, 60).map(float)),
    st.builds(
        lambda low: CareGiven(box="A01", care="vegetable", amount=Amount(low=low, unit="g")),
        st.integers(1, 9).map(float),
    ),
    st.builds(lambda care: CareGiven(box="A01", care=care), st.sampled_from(["protein", "look"])),
)
stories = st.lists(
    st.tuples(st.floats(0.6, 6), st.one_of(st.builds(weighed, grams), works)), max_size=14
)


def story(steps: list[tuple[float, Fact]]) -> list[Entry]:
    at, found = 0.0, []
    for number, (days, fact) in enumerate(steps, start=1):
        at += days
        found.append(entry(number, at, fact))
    return found


@given(stories, grams, grams)
def test_added_water_is_conserved(
    steps: list[tuple[float, Fact]], first: float, last: float
) -> None:
    entries = story([(1, weighed(first)), *steps, (1, weighed(last))])
    found = stretches_of(ledger(entries))
    low = high = 0.0
    for _, fact in steps:
        if isinstance(fact, CareGiven) and fact.amount:
            low += fact.amount.low
            high += fact.amount.high or fact.amount.low
        elif isinstance(fact, CareGiven) and fact.care == "protein":
            high += 2.0
    assert sum(one.lost_low for one in found) == pytest.approx(first + low - last)
    assert sum(one.lost_high for one in found) == pytest.approx(first + high - last)


def test_a_pour_left_out_breaks_the_balance() -> None:
    """The sibling of the balance above: without one of its pours it does not come out."""
    short = ledger([one for one in STEADY if one.number != 3])
    assert sum(one.lost for one in stretches_of(short)) != sum(
        one.lost for one in stretches_of(ledger(STEADY))
    )


@given(stories, st.randoms(use_true_random=False))
def test_the_order_in_which_facts_come_in_does_not_matter(
    steps: list[tuple[float, Fact]], chance: random.Random
) -> None:
    entries = story([(1, weighed(1462, "just_right")), *steps])
    mixed = list(entries)
    chance.shuffle(mixed)
    assert water(mixed, 60) == water(entries, 60)


@given(stories, grams, st.integers(0, 20), st.sampled_from([None, "just_right", "too_dry"]))
def test_a_withdrawn_weighing_counts_for_nothing(
    steps: list[tuple[float, Fact]], wrong: float, place: int, mark: str | None
) -> None:
    entries = story([(1, weighed(1462, "just_right")), *steps])
    mistaken = entry(90, place + 0.5, weighed(wrong, mark))
    gone = entry(91, 60, Withdrawn(mistaken=mistaken.id, touches=("box:A01",)))
    assert water([*entries, mistaken, gone], 70) == water(entries, 70)


ends = st.tuples(st.floats(0, 20), st.floats(0, 20))


@settings(max_examples=200)
@given(st.floats(-5, 80), st.floats(0, 40), ends, st.floats(0.2, 6), ends)
def test_a_larger_reserve_never_lasts_shorter(
    grams_left: float,
    more: float,
    off: tuple[float, float],
    loss: float,
    loss_off: tuple[float, float],
) -> None:
    """At one loss. A weight that disagrees with the others may widen the range of the loss."""
    rate = (max(0.0, loss - loss_off[0]), loss, loss + loss_off[1])
    before, after = (
        lasting((middle - off[0], middle, middle + off[1]), rate)
        for middle in (grams_left, grams_left + more)
    )
    for least, most in zip(before, after, strict=True):
        assert most >= least - 1e-6
    assert before[0] <= before[1] + 1e-6
    assert before[1] <= before[2] + 1e-6
