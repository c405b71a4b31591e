"""The words of a box's water: amounts a cup can pour, days as far as they can be told."""

from datetime import date
from zoneinfo import ZoneInfo

import pytest
from msgspec.structs import replace

from mancary.husbandry.water_booked import ledger_of
from mancary.husbandry.water_due import mist_of
from mancary.husbandry.water_said import full_said, said_of
from mancary.husbandry.water_state import BoxWater, pour_middle, weight_said, whole

from .water_story import BOX, STEADY, entry, water, weighed

ON = date(2026, 11, 26)


def poured(low: float, high: float) -> BoxWater:
    return replace(water(STEADY, 25), pour_ml=(low, high), pour_middle_ml=(low + high) / 2)


@pytest.mark.parametrize(
    ("low", "high", "task", "sentence"),
    [
        (0.49, 18, "9 mL (0-18 by the scale)", "Pour 9 mL this evening (0-18 by the scale"),
        (0.95, 3.5, "2 mL (1-4 by the scale)", "Pour 2 mL this evening"),
        (8.9, 9.1, "9 mL", "Pour 9 mL this evening"),
        (0.1, 1.2, "pour nothing: just right", "Pour nothing this evening"),
    ],
)
def test_what_is_poured_is_whole_millilitres_and_said_to_be_for_this_evening(
    low: float, high: float, task: str, sentence: str
) -> None:
    found = poured(low, high)
    mist = mist_of(found)
    assert mist is not None
    assert mist.said == task
    assert mist.amount_ml == pour_middle(found)
    assert any(sentence in one for one in said_of(found))


def test_the_round_and_the_water_page_give_the_same_range_of_days() -> None:
    found = water(STEADY, 25)
    mist = mist_of(found)
    assert mist is not None
    assert found.full_days is not None
    assert mist.every_range == found.full_days
    assert mist.every_range[0] < mist.every_days < mist.every_range[1]
    assert any(full_said(found.full_days) in one for one in said_of(found))


@pytest.mark.parametrize(
    ("days", "words"),
    [
        ((0.2, 56), "less than a day to more than 8 weeks"),
        ((1.1, 24), "1-24 days"),
        ((0.3, 4), "less than a day to 4 days"),
        ((56, 56), "more than 8 weeks"),
        ((1.0, 1.2), "1 day"),
    ],
)
def test_days_are_said_so_that_a_keeper_can_use_them(days: tuple[float, float], words: str) -> None:
    assert full_said(days) == words


def test_a_range_too_wide_to_plan_by_is_said_to_be_and_a_narrow_one_is_not() -> None:
    found = water(STEADY, 25)
    asked = "too uncertain to plan by"
    assert not any(asked in one for one in said_of(found))
    assert any(asked in one for one in said_of(replace(found, full_days=(2.0, 24.0))))


def test_weights_have_no_more_decimals_than_a_kitchen_scale() -> None:
    assert weight_said(907.18474) == "907.2"
    assert weight_said(1462) == "1462"
    assert whole((0.27, 12.4)) == "0-12"


def test_a_weighing_short_after_midnight_is_of_the_keepers_day() -> None:
    """0.58 on the 26th in Stockholm is the 25th in UTC."""
    told = [entry(1, 0, weighed(1400))]
    late = [replace(told[0], happened="2026-11-25T23:58:00.000Z")]
    (weight,) = ledger_of(late, BOX.code, ZoneInfo("Europe/Stockholm")).weights
    assert weight.day == ON
