"""A keeper is never told to pour more than the box can take, nor to rest on old weighings."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from msgspec.structs import replace

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Amount, CareGiven, Fact
from mancary.husbandry.states import Box
from mancary.husbandry.water import water_of_box
from mancary.husbandry.water_booked import day_number, ledger_of
from mancary.husbandry.water_due import mist_of
from mancary.husbandry.water_loss import LEARN_DAYS, loss_of
from mancary.husbandry.water_marks import assumed_reserve, marks_of, reserve_presets
from mancary.husbandry.water_state import BoxWater, pour_middle

from .water_story import BOX, FIRST, STEADY, entry, ledger, misted, told, water, weighed

POURED_ONCE = told(
    (-0.02, weighed(970, "too_dry")),
    (-0.01, misted(30)),
    (0, weighed(1000, "just_right")),
    (10, weighed(970)),
    (10.001, misted(30)),
)
"""Three grams a day, thirty grams between the marks, poured back and never weighed again."""


@pytest.mark.parametrize("days", [30, 55, 90, 99])
def test_no_more_than_the_reserve_is_ever_poured_however_long_ago_it_was_weighed(days: int) -> None:
    found = water(POURED_ONCE, days)
    assert found.pour_ml is not None
    assert found.pour_ml[1] <= 30
    assert pour_middle(found) <= 30
    mist = mist_of(found)
    assert mist is not None
    assert mist.amount_ml <= 30


def test_where_more_is_missing_than_the_reserve_that_is_said() -> None:
    found = water(POURED_ONCE, 55)
    assert found.pour_is_held
    assert any("its whole reserve and no more" in one for one in found.said)
    mist = mist_of(found)
    assert mist is not None
    assert "no more: weigh it" in mist.said
    assert not water(POURED_ONCE, 17).pour_is_held


def test_an_assumed_reserve_holds_the_pour_too() -> None:
    unmarked = told((0, weighed(1000, "just_right")), (10, weighed(970)))
    least, most = assumed_reserve(BOX)
    seen = water(unmarked, 60)  # the scale saw thirty grams gone, more than it may hold
    assert seen.pour_ml is not None
    assert seen.pour_ml[1] == pytest.approx(most)
    reckoned = water([*unmarked, entry(9, 10.1, misted(30))], 60)
    assert reckoned.pour_ml is not None
    assert reckoned.pour_ml[1] == pytest.approx((least + most) / 2)


def test_a_box_poured_back_after_its_reserve_ran_out_is_not_asked_for_again_the_next_day() -> None:
    """The scale never saw what was lost below the low mark; reckoning it drowned the box."""
    poured = [*POURED_ONCE, entry(20, 55, misted(30))]
    after = water(poured, 56)
    mist = mist_of(after)
    assert mist is not None
    assert mist.due > after.on
    assert mist.amount_ml < 15
    assert after.has_run_dry
    assert any("reckoned dry before it was last wetted" in one for one in after.questions)
    every_ten = [*POURED_ONCE, *(entry(30 + n, 18.9 + 9 * n, misted(27)) for n in range(4))]
    kept = water(every_ten, 47)
    assert not kept.has_run_dry


def test_a_box_measured_below_its_low_mark_is_poured_in_steps() -> None:
    found = water([*POURED_ONCE, entry(20, 30, weighed(930))], 30)
    assert found.pour_is_held
    assert pour_middle(found) == 30
    assert found.weight_now_g is not None
    assert found.weight_now_g[1] == pytest.approx(930, abs=1)


def test_old_weighings_no_longer_tell_the_loss_and_their_date_is_said() -> None:
    stale = water(POURED_ONCE, 10 + LEARN_DAYS + 1)
    assert stale.out_of_date
    assert stale.loss_over_days == 0
    assert not stale.loss_can_be_used
    assert stale.pour_ml is None
    assert mist_of(stale) is None
    last = (FIRST + timedelta(days=10)).date()
    assert any(f"Last weighed on {last}, 91 days ago" in one for one in stale.said)
    assert not any("It loses" in one for one in stale.said)
    fresh = water(POURED_ONCE, 10 + LEARN_DAYS)
    assert not fresh.out_of_date
    assert mist_of(fresh) is not None
    assert any(f"as weighed up to {last}" in one for one in fresh.said)


def test_the_days_count_from_the_evening_asked_for_not_from_the_newest_weighing() -> None:
    pair = ledger(told((0, weighed(1000)), (10, weighed(970)), (200, weighed(900))))
    newest = (FIRST + timedelta(days=200)).date()
    assert loss_of(pair, on=newest) is not None  # the long stretch ends now
    assert loss_of(pair, on=newest + timedelta(days=LEARN_DAYS + 1)) is None


def fed(weeks: int, *, since: float) -> list[Entry]:
    meal = CareGiven(box="A01", care="vegetable")
    return [entry(100 + n, since + 7 * n, meal) for n in range(weeks)]


def full(entries: list[Entry]) -> tuple[float, float]:
    marks = marks_of(ledger(entries), BOX)
    assert marks is not None
    return marks.full[0], marks.full[2]


MARKED = told((0, weighed(990, "too_dry")), (0.01, misted(10)), (0.02, weighed(1000, "just_right")))


def test_food_after_both_marks_does_not_touch_the_reserve_between_them() -> None:
    assert full([*MARKED, *fed(10, since=1)]) == pytest.approx(full(MARKED))
    found = water([*MARKED, *fed(10, since=1), entry(300, 69, weighed(995))], 69)
    assert not found.low_mark_is_assumed
    assert not any("No weight is marked" in one for one in found.basis)


def test_food_between_the_marks_makes_the_reserve_unsure_by_what_stays_of_it() -> None:
    """The sibling: four vegetables of 0-10 g, a tenth of which may stay as solids."""
    apart = [*told((0, weighed(1000, "just_right")), (30, weighed(990, "too_dry")))]
    low, high = full(apart)
    wide_low, wide_high = full([*apart, *fed(4, since=1)])
    assert wide_high == pytest.approx(high + 4, abs=1.2)
    assert wide_low > low - 0.5
    assert wide_high > high + 2


def test_a_low_mark_that_cannot_be_used_is_not_denied() -> None:
    apart = told((0, weighed(991, "too_dry")), (100, weighed(990, "just_right")))
    unsure = water([*apart, *fed(12, since=1)], 101)
    assert unsure.low_mark_is_assumed
    assert not any("No weight is marked" in one for one in unsure.basis)
    assert any("The weight marked as too dry on 2026-09-01" in one for one in unsure.basis)


def test_marks_further_apart_than_any_such_box_dries_out_are_asked_about() -> None:
    typo = told((0, weighed(1462, "just_right")), (5, weighed(1452)), (-9, weighed(143, "too_dry")))
    found = water([*typo, entry(9, -8, misted(1320))], 40)
    assert found.low_mark_is_assumed
    assert found.pour_ml is not None
    assert found.pour_ml[1] < 30
    assert any("mistyped" in one for one in found.questions)


def test_half_a_year_of_feeding_never_pours_more_than_the_assumed_reserve() -> None:
    story = [
        *told((0, weighed(1000, "just_right"))),
        *fed(26, since=1),
        entry(300, 178, weighed(1005)),
        entry(301, 185, weighed(1002)),
    ]
    found = water(story, 185)
    least, most = assumed_reserve(BOX)
    assert found.low_mark_is_assumed
    assert found.pour_ml is not None
    assert found.pour_ml[1] <= (least + most) / 2 + 1e-6
    assert found.reserve_g is not None
    assert found.reserve_g[1] <= most + 1e-6
    assert any("Mark it" in one for one in found.questions)


def with_litter(weeks: float = 24) -> BoxWater:
    grams = Amount(low=30, unit="g")
    litter = CareGiven(box="A01", care="leaf_litter", amount=grams)
    return water([*STEADY, entry(40, weeks, litter)], 25)


def test_litter_in_grams_leaves_the_whole_reserve_as_it_was() -> None:
    before, after = water(STEADY, 25), with_litter()
    assert after.full_g == pytest.approx(before.full_g)
    assert after.full_middle_g == pytest.approx(30)
    assert after.right_now_g == (1492, 1492)
    assert after.just_right_g == 1462  # as it was marked
    assert not after.pour_is_held
    assert after.pour_middle_ml == pytest.approx(before.pour_middle_ml)


def test_the_presets_of_an_assumed_reserve_are_named() -> None:
    def basis(box: Box) -> str:
        marked = ledger(told((0, weighed(1462, "just_right"))))
        found = water_of_box(marked, box, on=date(2026, 9, 2))
        return next(one for one in found.basis if "low mark is assumed" in one)

    bare = basis(Box("A01", first_told=""))
    for words in ("a box of 3 L, its size not told", "half of the floor damp", "0-3 cm of litter"):
        assert words in bare
    assert "6-30 g" in bare
    sized = Box(
        "A01", first_told="", length_cm=20, width_cm=13, height_cm=11, damp_share=0.4, litter_cm=2
    )
    assert reserve_presets(sized) == ()
    assert "not told" not in basis(replace_moss(sized))


def replace_moss(box: Box) -> Box:
    box.moss_share = 0.0
    return box


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Los_Angeles", "UTC"])
def test_days_and_evenings_are_the_keepers_own(zone: str) -> None:
    own = ZoneInfo(zone)
    bare = [
        replace(one, happened=day)
        for one, day in zip(
            told((0, weighed(1000)), (1, weighed(990))), ("2026-09-01", "2026-09-11"), strict=True
        )
    ]
    found = ledger_of(bare, "A01", own)
    midday = datetime(2026, 9, 1, 12, tzinfo=own).timestamp() / 86400
    assert found.weights[0].at == pytest.approx(midday)
    six = datetime(2026, 9, 12, 18, tzinfo=own).timestamp() / 86400
    assert found.evening(date(2026, 9, 12)) == pytest.approx(six)
    if zone != "UTC":
        assert abs(found.evening(date(2026, 9, 12)) - day_number(date(2026, 9, 12), UTC)) > 0.2
        assert found.evening(date(2026, 9, 12)) != pytest.approx(
            day_number(date(2026, 9, 12), UTC) + 0.75, abs=0.2
        )


def test_a_broken_series_still_has_no_marks() -> None:
    fact: Fact = CareGiven(box="A01", care="substrate_half")
    assert marks_of(ledger([*STEADY, entry(40, 24, fact)]), BOX) is None
