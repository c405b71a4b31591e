"""A standing is the same however its facts came in."""

from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, Fact, Founded, SeenInBox, Withdrawn
from mancary.husbandry.order import key_of
from mancary.husbandry.standing import Standing, advance, fold, pack, unpack

from .strategies import entries

UTC = ZoneInfo("UTC")


def entry(number: int, happened: str, fact: Fact) -> Entry:
    typed = "2026-11-01T12:00:00.000Z"
    return Entry(id=f"{number:032x}", happened=happened, typed=typed, fact=fact, number=number)


def numbered(told: list[Entry]) -> list[Entry]:
    return [
        Entry(id=e.id, happened=e.happened, typed=e.typed, fact=e.fact, number=n)
        for n, e in enumerate(told, start=1)
    ]


def about_a01(told: list[Entry]) -> list[Entry]:
    return [e for e in numbered(told) if "box:A01" in e.fact.subjects()]


@settings(max_examples=200)
@given(st.lists(entries(), max_size=20), st.integers(0, 20))
def test_advancing_is_folding_or_says_that_it_cannot(told: list[Entry], cut: int) -> None:
    told = about_a01(told)
    standing = fold("A01", told[:cut], UTC)
    fresh = told[cut:]
    if advance(standing, fresh, UTC):
        assert standing == fold("A01", told, UTC)
    else:
        earliest = min(key_of(e, UTC) for e in fresh)
        assert earliest < fold("A01", told[:cut], UTC).latest


@given(st.lists(entries(), max_size=20))
def test_a_cached_standing_comes_back_as_it_was(told: list[Entry]) -> None:
    standing = fold("A01", about_a01(told), UTC)
    assert unpack(pack(standing)) == standing


def test_the_order_of_happening_counts_and_not_that_of_writing() -> None:
    late = [
        entry(1, "2026-03-10", CareGiven(box="A01", care="protein")),
        entry(2, "2026-03-02", CareGiven(box="A01", care="protein")),
    ]
    assert fold("A01", late, UTC).given == {"protein": "2026-03-10"}


def test_a_withdrawn_fact_no_longer_counts_until_the_withdrawal_is_withdrawn() -> None:
    told = [
        entry(1, "2026-03-01", SeenInBox(box="A01", word="mould")),
        entry(2, "2026-03-02", Withdrawn(mistaken=f"{1:032x}", touches=("box:A01",))),
    ]
    assert fold("A01", told, UTC).seen == {}
    told.append(entry(3, "2026-03-03", Withdrawn(mistaken=f"{2:032x}", touches=("box:A01",))))
    assert list(fold("A01", told, UTC).seen) == ["mould"]


def test_a_second_colony_does_not_inherit_what_the_first_was_given() -> None:
    told = [
        entry(1, "2025-01-01", Founded(colony="A01.1", box="A01", line="x")),
        entry(2, "2025-02-01", CareGiven(box="A01", care="protein")),
        entry(3, "2026-01-01", Founded(colony="A01.2", box="A01", line="y")),
    ]
    assert fold("A01", told[:2], UTC).given == {"protein": "2025-02-01"}
    assert fold("A01", told, UTC).given == {}


def test_a_box_nobody_wrote_about_stands_empty() -> None:
    assert fold("A01", [], UTC) == Standing("A01")
