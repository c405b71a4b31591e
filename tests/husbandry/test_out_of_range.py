"""A shelf out of range: between which looks, how far, and never longer than the looks tell."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from mancary.husbandry.out_of_range import Look, spells

START = date(2026, 6, 1)


def look(week: int, low: float, high: float) -> Look:
    return Look(day=START + timedelta(weeks=week), lowest_c=low, highest_c=high)


def test_a_spell_lies_between_the_looks_around_it() -> None:
    told = [look(0, 20, 24), look(1, 20, 29), look(2, 21, 31), look(3, 20, 25)]
    (hot,) = spells(told, low_c=18, high_c=28)
    assert (hot.too, hot.after, hot.found, hot.last) == ("hot", START, told[1].day, told[2].day)
    assert (hot.worst_c, hot.past_c, hot.looks) == (31, 3, 2)
    assert hot.at_most_days == 14
    assert not hot.going_on


def test_without_a_look_before_it_nothing_bounds_how_long_it_was() -> None:
    (cold,) = spells([look(0, 12, 20)], low_c=18, high_c=28)
    assert (cold.too, cold.after, cold.at_most_days, cold.going_on) == ("cold", None, None, True)


def test_touching_a_bound_is_within_it() -> None:
    assert spells([look(0, 18, 28)], low_c=18, high_c=28) == []
    assert len(spells([look(0, 17.9, 28.1)], low_c=18, high_c=28)) == 2


LOOKS = st.lists(
    st.tuples(st.floats(5, 25), st.floats(0, 15)).map(lambda one: (one[0], one[0] + one[1])),
    max_size=12,
)


@given(LOOKS, st.randoms())
def test_every_look_past_a_bound_is_in_one_spell_whatever_the_order(
    told: list[tuple[float, float]],
    order: object,
) -> None:
    looks = [look(week, low, high) for week, (low, high) in enumerate(told)]
    shuffled = list(looks)
    order.shuffle(shuffled)  # type: ignore[attr-defined]
    found = spells(shuffled, low_c=15, high_c=25)
    assert found == spells(looks, low_c=15, high_c=25)
    for too, past in (
        ("hot", [one.day for one in looks if one.highest_c > 25]),
        ("cold", [one.day for one in looks if one.lowest_c < 15]),
    ):
        mine = [spell for spell in found if spell.too == too]
        assert sum(spell.looks for spell in mine) == len(past)
        for spell in mine:
            assert {spell.found, spell.last} <= set(past)
            assert spell.past_c >= 0
            if spell.after:
                assert spell.after < spell.found
                assert spell.after not in past
        assert [spell.going_on for spell in mine[:-1]] == [False] * len(mine[:-1])


def by(instrument: str, day: int, high: float) -> Look:
    return Look(day=START + timedelta(days=day), lowest_c=20, highest_c=high, instrument=instrument)


def test_another_instrument_does_not_end_a_spell() -> None:
    told = [one for day in range(10) for one in (by("L1", day, 36), by("L2", day, 24))]
    (hot,) = spells(told, low_c=18, high_c=28)
    assert (hot.looks, hot.found, hot.last) == (10, START, START + timedelta(days=9))
    assert hot.going_on
    assert hot.after is None  # the one that found it had not looked before
    one_only = [Look(day=one.day, lowest_c=20, highest_c=one.highest_c) for one in told]
    assert len(spells(one_only, low_c=18, high_c=28)) > 1


def test_spells_of_two_instruments_over_each_other_are_one() -> None:
    told = [by("L1", day, 36 if 2 <= day <= 6 else 24) for day in range(12)]
    told += [by("L2", day, 40 if 5 <= day <= 9 else 24) for day in range(12)]
    (hot,) = spells(told, low_c=18, high_c=28)
    days = [START + timedelta(days=n) for n in (1, 2, 9)]
    assert [hot.after, hot.found, hot.last] == days
    assert (hot.worst_c, hot.past_c, hot.looks, hot.going_on) == (40, 12, 10, False)


def test_an_instrument_no_longer_read_holds_no_spell_open() -> None:
    told = [by("old", 0, 24), by("old", 7, 31), *(by("L1", day, 24) for day in range(8, 40))]
    (hot,) = spells(told, low_c=18, high_c=28)
    assert not hot.going_on
    assert spells(told[:10], low_c=18, high_c=28)[0].going_on
