"""What a count is said to tell: each way with its range, its basis and its sentence."""

import pytest

from mancary.husbandry.count_told import count_told, counted_said
from mancary.husbandry.facts import Counted


def test_marks_give_chapmans_estimate() -> None:
    """(200 + 1)(150 + 1)/(30 + 1) - 1 = 978.06, worked by hand from Chapman's formula (1951)."""
    told = count_told(Counted(box="A01", how="marks", low=0, marked=200, caught=150, recaptured=30))
    assert told.estimate == pytest.approx(978.06, abs=0.01)  # the formula's own rounding
    assert told.estimate is not None
    assert told.estimate != pytest.approx(200 * 150 / 30, abs=0.01)  # not Petersen's 1000
    assert told.high is not None
    assert told.low < told.estimate < told.high
    assert told.range_is == "95 %"
    assert "moult" in told.said


def test_passes_that_rise_have_no_upper_bound_and_say_so() -> None:
    told = count_told(Counted(box="A01", how="removals", low=0, catches=(3, 6, 9)))
    assert told.low >= 18
    assert told.high is None
    assert "no upper bound" in told.said


def test_scoops_scale_with_their_share() -> None:
    told = count_told(Counted(box="A01", how="scoop", low=0, samples=(5, 3, 7), share=0.05))
    assert told.estimate == pytest.approx(15 / 0.15)
    assert told.high is not None
    assert told.low < 100 < told.high


def test_one_hide_gives_no_estimate() -> None:
    told = count_told(Counted(box="A01", how="one_hide", low=12, high=12))
    assert told.estimate is None
    assert told.low == 12
    assert "same hide" in told.said


def test_none_found_is_not_an_end() -> None:
    told = count_told(Counted(box="A01", how="full", low=0, high=0))
    assert "8 weeks" in told.said


@pytest.mark.parametrize(
    ("fact", "words"),
    [
        (Counted(box="A", how="scoop", low=0, samples=(5, 3), share=0.1),
         "scoop 5 and 3, each 10 % of the box"),
        (Counted(box="A", how="removals", low=0, catches=(25, 12, 5)), "passes of 25, 12 and 5"),
        (Counted(box="A", how="marks", low=0, marked=9, caught=8, recaptured=2),
         "9 marked, then 2 of 8 caught had a mark"),
        (Counted(box="A", how="full", low=37, high=37), "37 in the whole box"),
        (Counted(box="A", how="one_hide", low=50), "at least 50 under one hide"),
        (Counted(box="A", how="not_said", low=4, high=6), "4-6"),
        (Counted(box="A", how="band", low=10, high=49, band="tens"), "tens (10-49)"),
    ],
)  # fmt: skip
def test_what_was_counted_is_said_as_it_was(fact: Counted, words: str) -> None:
    assert counted_said(fact) == words
