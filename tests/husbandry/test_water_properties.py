"""What holds of any box's weighings and waterings, however they come."""

import random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Amount, CareGiven, Fact, Withdrawn
from mancary.husbandry.water_loss import asked, loss_of, stretches_of
from mancary.husbandry.water_state import Explained

from .water_story import STEADY, entry, ledger, misted, told, water, weighed

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


@settings(max_examples=200)
@given(stories, grams, st.integers(1, 30), st.sampled_from([None, Explained(1.0, 1.5, 2.2, ())]))
def test_a_heavier_last_weight_never_shortens_the_days(
    steps: list[tuple[float, Fact]], last: float, more: int, explained: Explained | None
) -> None:
    """Both weights must be believed: a jump is asked about, and teaches nothing."""
    begun = [(1, weighed(1400, "too_dry")), (1, misted(50)), (1, weighed(1450, "just_right"))]
    light, heavy = (story([*begun, *steps, (3, weighed(weight))]) for weight in (last, last + more))
    assume(asked(ledger(light)).keys() == asked(ledger(heavy)).keys())
    before, after = water(light, 99, explained), water(heavy, 99, explained)
    assume(before.days is not None)
    assert before.days is not None
    assert after.days is not None
    assert after.days[0] >= before.days[0] - 1e-6
    assert after.days[1] >= before.days[1] - 1e-6


def test_the_range_of_the_loss_holds_for_invented_keepers() -> None:
    """Drawn true losses, weighed to whole grams; the air differs between stretches by 10 %."""
    chance = random.Random(4)
    held = 0
    for _ in range(300):
        loss, grams_now, at = chance.uniform(0.3, 4), 1500.0, 0.0
        facts: list[tuple[float, Fact]] = [(0, weighed(round(grams_now)))]
        for _ in range(chance.randint(1, 4)):
            days = chance.uniform(3, 14)
            grams_now -= loss * days * chance.gauss(1, 0.1)
            at += days
            facts.append((at, weighed(round(grams_now + chance.gauss(0, 0.3)))))
        found = loss_of(ledger(told(*facts)))
        assert found is not None
        held += found.low <= loss * chance.gauss(1, 0.1) <= found.high
    assert held / 300 >= 0.9  # wide on purpose: the air allowance is for rooms that change more
