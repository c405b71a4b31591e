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
