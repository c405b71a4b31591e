"""The loss, the reserve, the pour and the questions of one box, from its weighings."""

from dataclasses import replace
from datetime import date

import pytest

from mancary.husbandry.facts import Amount, CareGiven, Fact, Founded, Moved, Taken
from mancary.husbandry.states import Box
from mancary.husbandry.water import water_of_box
from mancary.husbandry.water_due import mist_of
from mancary.husbandry.water_loss import loss_of
from mancary.husbandry.water_marks import FLOOR_MM, MOSS_MM, assumed_reserve
from mancary.husbandry.water_now import MOST_DAYS
from mancary.husbandry.water_state import Explained

from .water_story import BOX, STEADY, entry, ledger, misted, told, water, weighed


def test_loss_reserve_days_and_pour_of_a_steady_box() -> None:
    found = water(STEADY, 25)
    assert found.loss_g_per_day is not None
    assert found.reserve_g is not None
    assert found.days is not None
    assert found.pour_ml is not None
    assert found.loss_middle_g_per_day == pytest.approx(2.0, rel=0.01)
    assert found.loss_g_per_day[0] < 2 < found.loss_g_per_day[1]
    assert found.reserve_g[0] < 20 < found.reserve_g[1]  # 10 g of 30 lost in five days
    assert found.days[0] < 10 < found.days[1]
    assert found.pour_ml[0] < 10 < found.pour_ml[1]
    assert not found.low_mark_is_assumed
    assert any("Pour" in one for one in found.said)


def test_the_reserve_is_never_more_than_from_just_right() -> None:
    wet = [*STEADY, entry(20, 24.9, weighed(1490)), entry(21, 24.8, misted(40))]
    found = water(wet, 25)
    assert found.reserve_g is not None
    assert found.days is not None
    assert found.reserve_g[1] <= 30 + 1e-6
    assert found.pour_ml == (0.0, 0.0)
    assert found.too_wet_g is not None
    assert found.too_wet_g[0] == pytest.approx(28, abs=2)
    assert any(one.startswith("Too wet") and "Pour nothing" in one for one in found.said)
    mist = mist_of(found)
    assert mist is not None
    assert mist.amount_ml == 0
    assert "too wet" in mist.said


def test_days_are_never_counted_beyond_eight_weeks() -> None:
    slow = told(
        (0, weighed(1400, "too_dry")),
        (1, misted(80)),
        (1.1, weighed(1480, "just_right")),
        (40, weighed(1476)),
    )
    found = water(slow, 40)
    assert found.days is not None
    assert found.days[1] == MOST_DAYS
    assert found.days_open_ended
    assert any("more than" in one for one in found.said)


def test_too_little_loss_is_said() -> None:
    found = water(told((0, weighed(1462, "just_right")), (2, weighed(1462))), 2)
    assert not found.loss_can_be_told
    assert any("Too little was lost" in one for one in found.said)
    assert found.factor is None
    assert water(STEADY, 25).loss_can_be_told


def test_misting_without_an_amount_is_not_learnt_from_and_is_said() -> None:
    unsaid = told(
        (0, weighed(1462, "just_right")),
        (10, weighed(1442)),
        (12, misted(None)),
        (20, weighed(1460)),
    )
    loss = loss_of(ledger(unsaid))
    assert loss is not None
    assert loss.days == pytest.approx(10)
    found = water(unsaid, 20)
    assert any("without an amount" in one for one in found.basis)
    later = water([*unsaid, entry(30, 22, misted(None))], 23)
    assert later.reserve_g is None
    assert mist_of(later) is None
    assert any("without an amount" in one for one in later.questions)


@pytest.mark.parametrize(
    "fact",
    [
        CareGiven(box="A01", care="substrate_half"),
        CareGiven(box="A01", care="leaf_litter"),
        Moved(colony="A01.1", from_box="A01", to_box="A02"),
        Founded(colony="A01.2", box="A01", line="x"),
        Taken(colony="A01.1", box="A01"),
        Taken(colony="A01.1", box="A01", animals=40),
    ],
)
def test_what_changes_the_box_ends_its_marks(fact: Fact) -> None:
    found = water([*STEADY, entry(40, 24, fact)], 25)
    assert found.just_right_g is None
    assert found.reserve_g is None
    assert mist_of(found) is None
    assert any("Weigh it again" in one for one in found.questions)
    assert found.loss_middle_g_per_day == pytest.approx(2.0, rel=0.01)  # the loss is still known


def test_litter_in_grams_shifts_the_marks_instead() -> None:
    litter = CareGiven(box="A01", care="leaf_litter", amount=Amount(low=12, unit="g"))
    before, after = water(STEADY, 25), water([*STEADY, entry(40, 24, litter)], 25)
    assert after.reserve_g == pytest.approx(before.reserve_g)
    assert after.pour_ml == pytest.approx(before.pour_ml)
    assert before.low_mark_g is not None
    assert after.low_mark_g is not None
    assert after.low_mark_g[0] == before.low_mark_g[0] + 12


def test_a_weight_that_jumps_is_asked_about_and_not_learnt_from() -> None:
    risen = [*STEADY, entry(50, 25, weighed(1475))]
    found = water(risen, 25)
    assert any("13 g more" in one for one in found.questions)
    assert found.loss_middle_g_per_day == pytest.approx(2.0, rel=0.01)
    fallen = water([*STEADY, entry(50, 24, weighed(1390))], 25)
    assert any("spilt" in one for one in fallen.questions)
    assert fallen.loss_middle_g_per_day == pytest.approx(2.0, rel=0.01)
    assert not water([*STEADY, entry(50, 25, weighed(1452))], 25).questions


def test_marks_that_contradict_each_other_are_asked_about() -> None:
    found = water([*STEADY, entry(60, 21, weighed(1461, "too_dry"))], 25)
    assert found.low_mark_is_assumed is False
    odd = water([*STEADY, entry(60, 20.01, weighed(1463, "too_dry"))], 25)
    assert odd.low_mark_is_assumed
    assert any("mistyped" in one for one in odd.questions)


def test_without_a_low_mark_the_reserve_is_assumed_and_said_to_be() -> None:
    found = water([one for one in STEADY if one.number != 7], 21)
    least, most = assumed_reserve(BOX)
    assert 0 < least < most
    assert found.low_mark_is_assumed
    assert found.low_mark_g == pytest.approx((1462 - most, 1462 - least))
    assert any("assumed" in one for one in found.basis)


def test_a_small_box_is_assumed_to_take_what_practice_pours() -> None:
    """5-15 mL in a small box: common practice, no source; the assumption was made from it."""
    least, most = assumed_reserve(Box("A01", first_told="", litres=3, damp_share=0.5, litter_cm=0))
    assert 4 <= least <= 7
    assert 12 <= most <= 18


def test_moss_adds_to_the_assumed_reserve_over_the_floor_it_covers() -> None:
    bare = Box("A01", first_told="", litres=3, damp_share=0.5, litter_cm=0)
    mossy = replace(bare, moss_share=0.25)
    none, some = assumed_reserve(bare), assumed_reserve(mossy)
    share_of_damp = 0.25 / 0.5
    assert some[0] - none[0] == pytest.approx(none[0] / FLOOR_MM[0] * share_of_damp * MOSS_MM[0])
    assert some[1] - none[1] == pytest.approx(none[1] / FLOOR_MM[1] * share_of_damp * MOSS_MM[1])
    assert assumed_reserve(replace(bare, moss_share=0.0)) == none


def test_moss_is_said_where_it_is_told_and_where_it_is_not() -> None:
    def assumed(box: Box) -> str:
        marked = ledger(told((0, weighed(1462, "just_right"))))
        found = water_of_box(marked, box, on=date(2026, 9, 2))
        return next(one for one in found.basis if "low mark is assumed" in one)

    assert "moss is not told and not counted" in assumed(BOX)
    assert "moss on 30% of the floor" in assumed(replace(BOX, moss_share=0.3))


def test_the_round_says_what_makes_the_scale_less_sure() -> None:
    sure = mist_of(water(STEADY, 25))
    little = mist_of(water(told((0, weighed(1462, "just_right")), (2, weighed(1462))), 2))
    jumped = mist_of(water([*STEADY, entry(50, 25, weighed(1475))], 25))
    assert sure is not None
    assert little is not None
    assert jumped is not None
    assert ";" not in sure.why
    assert "too little was lost" in little.why
    assert "jumped" in jumped.why


def test_the_factor_is_told_and_narrows_the_range() -> None:
    explained = Explained(0.7, 1.05, 1.6, ("22 °C",))
    found = water(STEADY, 25, explained)
    assert found.factor == pytest.approx(1.9, abs=0.1)
    assert any("lid seam, draught or fan" in one for one in found.said)
    short = told((0, weighed(1462, "just_right")), (1, weighed(1461)))
    alone, both = water(short, 2), water(short, 2, explained)
    assert alone.loss_g_per_day is not None
    assert both.loss_g_per_day is not None
    assert (both.loss_g_per_day[1] - both.loss_g_per_day[0]) < (
        alone.loss_g_per_day[1] - alone.loss_g_per_day[0]
    )
    assert both.factor is None  # one gram in a day is too little to speak of


def test_vents_alone_give_a_loss_but_no_task() -> None:
    once = told((0, weighed(1462, "just_right")))
    found = water(once, 3, Explained(0.7, 1.05, 1.6, ()))
    assert found.loss_g_per_day == (0.7, 1.6)
    assert mist_of(found) is None
    assert water(once, 3).loss_g_per_day is None


def test_the_day_it_is_due_stays_whenever_it_is_asked() -> None:
    days = [mist_of(water(STEADY, on)) for on in (21, 24, 27, 30, 33, 60)]
    assert len({one.due for one in days if one}) == 1
    first = days[0]
    assert first is not None
    assert first.due < first.latest
    assert date(2026, 9, 21) < first.due < date(2026, 10, 6)  # 15 days at two grams a day
    amounts = [one.amount_ml for one in days if one]
    assert amounts == sorted(amounts)
    assert amounts[0] < amounts[-1]


def test_bare_days_widen_the_range() -> None:
    bare = [
        entry(1, 0, weighed(1462), happened="2026-09-01"),
        entry(2, 0, weighed(1458), happened="2026-09-03"),
    ]
    exact = told((0, weighed(1462)), (2, weighed(1458)))
    wide, narrow = loss_of(ledger(bare)), loss_of(ledger(exact))
    assert wide is not None
    assert narrow is not None
    assert wide.high > narrow.high


def test_a_weight_of_some_month_has_no_place_in_a_rate() -> None:
    vague = [entry(1, 0, weighed(1462), happened="2026-09"), *told((30, weighed(1440)))]
    assert len(ledger(vague).weights) == 1
    assert loss_of(ledger(vague)) is None


def test_an_old_mark_is_asked_for_anew() -> None:
    late = [*STEADY, entry(70, 100, weighed(1440))]
    assert any("long ago" in one for one in water(late, 130).questions)
    assert not any("long ago" in one for one in water(STEADY, 25).questions)


def test_a_full_reserve_lasts_from_just_right_to_the_low_mark() -> None:
    found = water(STEADY, 25)
    assert found.full_days is not None
    assert found.full_days[0] < 15 < found.full_days[1]  # thirty grams at two a day
    assert found.lasts_days == pytest.approx(15, rel=0.05)
