"""Vents at one end of a box: the loss follows the end they stand over."""

from dataclasses import replace
from typing import Literal

import pytest

from mancary.husbandry.box_air import Place, modelled
from mancary.husbandry.facts import Vent
from mancary.husbandry.states import Box

BOX = Box(
    "A01", "", length_cm=20, width_cm=12.5, height_cm=12, substrate_cm=4, litter_cm=0,
    damp_share=0.5, wall_mm=1.5,
)  # fmt: skip
STILL = Place(22, 0.4, "cupboard")
End = Literal["damp", "dry", "not_said"]


def grams(end: End, *, count: int = 20) -> float:
    vents = (Vent(count=count, size_mm=3, place="lid", end=end),)
    found = modelled(replace(BOX, vents=vents), STILL)
    assert found
    return found.g_per_day


REL = 0.02
"""The solved headspace had lone holes; ours hinder each other, which moves the ratio by 1 to 2 %."""


def test_holes_at_the_dry_end_lose_less_as_in_a_solved_headspace() -> None:
    """20 holes of 3 mm: 0.688 g a day all at the dry end, 0.778 spread over the lid, and 0.777 all at
    the moist end (a 3-D solution, computed). The two zones give 0.804 there, 3.4 % more, as the
    specification says of them: held to the two zones, and to the solution within that."""
    assert grams("dry") / grams("not_said") == pytest.approx(0.688 / 0.778, rel=REL)
    assert grams("damp") / grams("not_said") == pytest.approx(0.804 / 0.773, rel=REL)
    assert grams("damp") / grams("not_said") == pytest.approx(0.777 / 0.778, rel=0.034 + REL)


def test_the_tolerance_tells_one_end_from_the_lid() -> None:
    assert grams("not_said") / grams("not_said") != pytest.approx(0.688 / 0.778, rel=REL)
    assert grams("dry", count=22) / grams("not_said") != pytest.approx(0.688 / 0.778, rel=REL)


def test_half_of_a_row_at_each_end_is_the_row_untold() -> None:
    """Two rows of ten in one lid against one of twenty: ten stand wider apart, under 1.5 %."""
    halves = (
        Vent(count=10, size_mm=3, place="lid", end="damp"),
        Vent(count=10, size_mm=3, place="lid", end="dry"),
    )
    found = modelled(replace(BOX, vents=halves), STILL)
    assert found
    assert found.g_per_day == pytest.approx(grams("not_said"), rel=0.015)
    assert found.g_per_day != pytest.approx(grams("dry"), rel=0.015)


def test_ends_untold_are_said_as_assumed() -> None:
    told = modelled(replace(BOX, vents=(Vent(count=9, size_mm=3, place="high", end="dry"),)), STILL)
    untold = modelled(replace(BOX, vents=(Vent(count=9, size_mm=3, place="high"),)), STILL)
    assert told
    assert untold
    assert "vents in the sides half at each end" in untold.assumed
    assert "vents in the sides half at each end" not in told.assumed
