"""The keepers' guide says what the handbook holds."""

import re
from pathlib import Path

import pytest

from mancary import handbook
from mancary.handbook import confidence
from mancary.handbook.words import KIND_OF

GUIDE = (Path(__file__).parents[2] / "docs" / "guide" / "handbook.md").read_text(encoding="utf-8")


def test_every_letter_is_explained_with_its_kind() -> None:
    told = dict(re.findall(r"^\| ([A-Z]) \| ([a-z ]+) \|", GUIDE, re.MULTILINE))
    assert told == KIND_OF


def test_every_care_group_is_listed_with_its_pages() -> None:
    for group in handbook.groups():
        assert f"| {group.name} | {group.members} |" in GUIDE


@pytest.mark.parametrize(
    ("typed", "sure"),
    [
        ("porcellio  LAEVIS", confidence.EXACT),
        ("dwarf white", confidence.TRADE_NAME),
        ("Merulanella sp. Ember Bee", confidence.FORMER_NAME),
        ("P. dilatatus", confidence.ABBREVIATION),
        ("laevis dairy cow", confidence.BARE_EPITHET),
        ("Cubaris Emperor Bee", confidence.OTHER_GENUS),
    ],
)
def test_the_examples_of_the_name_finder_are_as_sure_as_told(typed: str, sure: float) -> None:
    line = next(line for line in GUIDE.splitlines() if f"`{typed}`" in line)
    assert line.endswith(f"| {sure:.2f} |")
    assert handbook.find(typed)[0].confidence == sure


def test_the_counts_of_pages_hold() -> None:
    ranks = [handbook.page(slug).rank for slug in handbook.species_slugs()]
    said = "132 pages: {} species, {} undescribed trade forms and {} colour morphs"
    counts = (ranks.count(rank) for rank in ("species", "undescribed", "morph"))
    assert said.format(*counts) in GUIDE
