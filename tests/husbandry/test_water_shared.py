"""Boxes of one make: which they are, what they share, and the words for it."""

from dataclasses import replace

import pytest

from mancary.husbandry.facts import Vent
from mancary.husbandry.states import Box
from mancary.husbandry.water import water_of_box
from mancary.husbandry.water_due import mist_of
from mancary.husbandry.water_shared import Shared, Taught, make_of, plain_make, shared_among
from mancary.husbandry.water_state import Explained

from .water_story import BOX, FIRST, ledger, told, weighed

LID, SIDE = Vent(count=20, size_mm=3, place="lid"), Vent(count=6, size_mm=4, place="side")
CLEAR = Taught(rate=2.0, rate_sd=0.1, model=1.0)
SILENT = Taught(rate=None, rate_sd=None, model=1.0)


def box(make: str, *vents: Vent) -> Box:
    return Box("A01", first_told="", make=make, vents=vents)


def test_makes_are_compared_tidily_and_with_their_vents() -> None:
    assert plain_make("Clear  Box, 3 L") == plain_make("clear box 3l")
    assert make_of(box("Clear Box 3 L", LID, SIDE)) == make_of(box("clear box, 3l", SIDE, LID))
    assert make_of(box("Clear box", LID)) != make_of(box("Clear box", SIDE))
    assert make_of(box("Clear box", LID)) != make_of(box("Blue box", LID))
    assert make_of(box("", LID)) is None
    assert make_of(box("Clear box")) is None


def test_a_silent_box_gets_its_makes_factor_with_the_spread_between_boxes() -> None:
    found = shared_among({"A": CLEAR, "B": replace(CLEAR, rate=2.2), "C": SILENT}, "clear")
    low, middle, high = found["C"].factor
    assert middle == pytest.approx(2.1, rel=0.15)
    assert (found["C"].others, found["C"].own_tells) == (2, False)
    assert high / low > found["A"].factor[2] / found["A"].factor[0] * 1.5
    assert (found["A"].others, found["A"].own_tells) == (1, True)


def test_a_box_with_many_weighings_keeps_its_own() -> None:
    odd = Taught(rate=4.0, rate_sd=0.05, model=1.0)
    found = shared_among({"A": CLEAR, "B": CLEAR, "C": CLEAR, "D": odd}, "clear")
    assert found["D"].factor[1] == pytest.approx(4.0, rel=0.03)


def test_nobody_else_heard_is_nothing_shared() -> None:
    assert shared_among({"A": CLEAR}, "clear") == {}
    assert "A" not in shared_among({"A": CLEAR, "B": SILENT}, "clear")
    assert shared_among({"A": SILENT, "B": SILENT}, "clear") == {}


SHARED = Shared((1.1, 1.6, 2.4), (1.3, 1.6, 2.0), others=7, own_tells=False, words="clear box")
ONCE = told((0, weighed(1462, "just_right")))


def test_a_box_weighed_once_goes_by_its_make_and_says_so() -> None:
    explained = Explained(0.8, 1.2, 1.8, ())
    alone = water_of_box(ledger(ONCE), BOX, on=FIRST.date(), explained=explained)
    found = water_of_box(ledger(ONCE), BOX, on=FIRST.date(), explained=explained, shared=SHARED)
    assert mist_of(alone) is None
    assert found.factor == 1.6
    assert found.loss_middle_g_per_day == pytest.approx(1.6 * 1.2)
    assert any(
        "From 7 boxes of the same make: 1.6 times" in one
        and "1.1-2.4; its own weighings do not tell yet" in one
        for one in found.said
    )
    assert any("clear box" in one for one in found.basis)
    assert found.loss_can_be_used
    assert not found.loss_can_be_told
    mist = mist_of(found)
    assert mist is not None
    assert "7 of its make" in mist.why
