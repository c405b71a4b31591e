"""Where somebody or a colony can come to harm, the usual caution stands beside the fact."""

import re

import pytest

from mancary import handbook
from mancary.husbandry.cautions import cautions
from mancary.husbandry.facts import (
    Amount,
    BatchMade,
    BoxDescribed,
    CareGiven,
    Counted,
    Ended,
    Fact,
    SeenInBox,
    Taken,
    Vent,
)


@pytest.mark.parametrize(
    ("fact", "word"),
    [
        (CareGiven(box="A", care="substrate_half"), "mask"),
        (CareGiven(box="A", care="leaf_litter"), "spores"),
        (CareGiven(box="A", care="protein", what="shrimp"), "allergy"),
        (BatchMade(batch="L", what="leaves", treatment="as_found"), "landowner"),
        (BoxDescribed(box="A", vents=(Vent(count=3, size_mm=3),)), "clamp"),
        (BoxDescribed(box="A", warmer_c=8), "never below"),
        (BoxDescribed(box="A", warmer_c=8), "first without animals"),
        (CareGiven(box="A", care="calcium"), "quicklime"),
        (BatchMade(batch="C", what="calcium", name="builders lime"), "slaked"),
        (Taken(colony="A.1", box="A", animals=3), "authority"),
        (Ended(colony="A.1", box="A"), "8 weeks"),
        (Counted(box="A", low=0, high=0), "8 weeks"),
        (SeenInBox(box="A", word="none_seen"), "8 weeks"),
        (SeenInBox(box="A", word="violet_sheen"), "iridovirus"),
        (SeenInBox(box="A", word="springtails_gone"), "first alarm"),
    ],
)
def test_the_caution_of_a_fact(fact: Fact, word: str) -> None:
    assert any(word in line for line in cautions([fact]))


def test_an_ordinary_evening_is_not_full_of_warnings() -> None:
    ordinary: list[Fact] = [
        CareGiven(box="A", care="mist", amount=Amount(low=20, unit="mL")),
        CareGiven(box="A", care="vegetable"),
        SeenInBox(box="A", word="young_seen"),
        Counted(box="A", low=10, high=49, how="band", band="tens"),
    ]
    assert cautions(ordinary) == ()


def test_the_same_caution_is_said_once() -> None:
    facts: list[Fact] = [CareGiven(box=b, care="substrate_half") for b in "ABC"]
    assert len(cautions(facts)) == 1


def test_no_page_calls_anything_legal() -> None:
    calls = re.compile(r"(?i)\b(?:is|are|it)\s+(?:legal|permit(?:s|ted)|allowed)\b")
    told = [
        f"{slug}: {page.notes}"
        for slug in handbook.species_slugs()
        if calls.search((page := handbook.page(slug)).notes)
    ]
    assert told == []


def test_a_warmed_box_with_new_vents_has_both_cautions() -> None:
    both = BoxDescribed(box="A", warmer_c=8, vents=(Vent(count=3, size_mm=3),))
    assert [word in " ".join(cautions([both])) for word in ("clamp", "thermostat")] == [True, True]
    assert cautions([BoxDescribed(box="A", warmer_c=0)]) == ()


def test_lime_is_asked_about_and_the_lime_tree_is_not() -> None:
    assert "quicklime" in cautions([BatchMade(batch="S", what="other", name="slaked lime")])[0]
    assert cautions([BatchMade(batch="S", what="other", name="limestone")]) == ()
    leaves = BatchMade(batch="L", what="leaves", name="lime", treatment="bought_clean")
    assert not any("quicklime" in line for line in cautions([leaves]))
