"""Short words as written on paper, read piece by piece; what is not understood is refused."""

import pytest

from mancary.husbandry.facts import CareGiven, Counted, Fact, Noted, SeenInBox, Weighed
from mancary.husbandry.refusal import Refusal
from mancary.usecases.paper_words import facts_on_paper, is_not_reached, pieces


def seen(word: str, **more: object) -> Fact:
    return SeenInBox(box="B1", word=word, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("dead 2, mould", [seen("dead", animals=2), seen("mould")]),
        ("3 dead", [seen("dead", animals=3)]),
        ("dead 3-5", [seen("dead", note="3-5")]),
        ("37 counted", [Counted(box="B1", how="not_said", low=37, high=37)]),
        ("count 37", [Counted(box="B1", how="not_said", low=37, high=37)]),
        ("tens", [Counted(box="B1", how="band", low=10, high=49, band="tens")]),
        ("1462 g", [Weighed(box="B1", gross_g=1462)]),
        ("1,48 kg", [Weighed(box="B1", gross_g=1480)]),
        ("left over half", [seen("left_over", share=0.5, note="left over half")]),
        ("mites,young", [seen("mites"), seen("young_seen")]),
        ("", []),
        (" , ;", []),
        ("not reached", []),
        ('"smells, of earth", wet', [Noted(what="box", code="B1", text="smells, of earth"), seen("wet")]),
        ("note lid cracked", [Noted(what="box", code="B1", text="lid cracked")]),
    ],
)  # fmt: skip
def test_the_words_of_the_sheet_are_understood(text: str, facts: list[Fact]) -> None:
    assert facts_on_paper("B1", text) == facts


def test_a_care_may_say_its_amount_with_a_decimal_comma() -> None:
    (fact,) = facts_on_paper("B1", "mist 20,5 ml")
    assert isinstance(fact, CareGiven)
    assert fact.amount
    assert (fact.care, fact.amount.low) == ("mist", 20.5)


@pytest.mark.parametrize(
    "piece",
    ["not dead", "no mould", "mould gone", "gravid gnats", "dead 2 big ones", "-3 dead", "37", "sparkle",
     "weigh ten", "count xyz"],
)  # fmt: skip
def test_no_piece_is_guessed_at_and_the_refusal_names_box_and_piece(piece: str) -> None:
    with pytest.raises(Refusal) as told:
        facts_on_paper("B1", f"wet, {piece}")
    assert f"Box B1, '{piece}'" in str(told.value)


def test_pieces_are_parted_by_commas_that_are_not_decimal() -> None:
    assert pieces("1,48 kg, dead 2,mould; wet") == ["1,48 kg", "dead 2", "mould", "wet"]


def test_a_lid_that_stayed_on_is_told() -> None:
    assert is_not_reached("Not reached")
    assert not is_not_reached("note not reached the moss")
