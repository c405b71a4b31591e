"""The water of a box of the book, and the misting it calls for on the round."""

from datetime import UTC, date, datetime, timedelta

import pytest

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, CareGiven, ShelfRead, Shelved, Vent, Weighed
from mancary.husbandry.refusal import UnknownSubject
from mancary.husbandry.tasks import tasks_of
from mancary.husbandry.wants import wants
from mancary.usecases.noting import correct_noted, facts_for
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.standings import register_of, standing_of
from mancary.usecases.tray import amount_for, amount_of, tray_of
from mancary.usecases.water import mist_by_scale, pours_told, water_of

TODAY = date(2026, 11, 1)


def note(book: Book, pen: Pen, on: str, *words: str) -> str:
    recorded = write(book, facts_for("A01", *words), pen=pen, happened=on)
    return recorded.entries[0].id


@pytest.fixture
def weighed(book: Book, pen: Pen) -> Book:
    """A box that loses two grams a day, thirty grams from just right to too dry."""
    vents = (Vent(count=24, size_mm=3, place="lid"),)
    described = BoxDescribed(box="A01", litres=3, damp_share=0.5, vents=vents)
    write(book, [described], pen=pen, happened="2026-08-01")
    note(book, pen, "2026-10-01", "weigh", "1462 g just right")
    note(book, pen, "2026-10-16", "weigh", "1432 too dry")
    note(book, pen, "2026-10-16", "mist", "30 mL")
    note(book, pen, "2026-10-26", "weigh", "1442")
    return book


def test_weighings_become_loss_reserve_and_pour(weighed: Book) -> None:
    water = water_of(weighed, "a01", on=TODAY)
    assert water.loss_g_per_day is not None
    assert water.loss_g_per_day[0] < 2 < water.loss_g_per_day[1]
    assert water.pour_ml is not None
    assert water.pour_ml[0] <= 30 == water.pour_ml[1]  # 32 g gone, but no more than the reserve
    assert water.just_right_g == 1462
    assert not water.low_mark_is_assumed
    assert water.factor is not None
    assert any("times what its vents explain" in one for one in water.said)


def test_a_withdrawn_weighing_no_longer_counts(weighed: Book, pen: Pen) -> None:
    before = water_of(weighed, "A01", on=TODAY)
    wrong = note(weighed, pen, "2026-10-28", "weigh", "1390 just right")
    assert water_of(weighed, "A01", on=TODAY) != before
    withdraw(weighed, wrong, why="slip", pen=pen)
    assert water_of(weighed, "A01", on=TODAY) == before


def test_what_was_weighed_later_is_not_known_before(weighed: Book) -> None:
    assert water_of(weighed, "A01", on=date(2026, 10, 2)).weighings == 1
    assert water_of(weighed, "A01", on=date(2026, 9, 1)).weighings == 0


def test_the_shelfs_readings_go_into_what_the_vents_explain(weighed: Book, pen: Pen) -> None:
    write(weighed, [Shelved(box="A01", shelf="S1")], pen=pen, happened="2026-08-01")
    before = water_of(weighed, "A01", on=TODAY)
    hot = ShelfRead(shelf="S1", lowest_c=28, highest_c=30)
    write(weighed, [hot], pen=pen, happened="2026-10-30")
    after = water_of(weighed, "A01", on=TODAY)
    assert before.model_g_per_day is not None
    assert after.model_g_per_day is not None
    assert after.model_g_per_day[1] > before.model_g_per_day[1]
    assert any("29.0 °C" in one for one in after.basis)


def test_a_damper_shelf_and_a_warmer_box_change_what_the_vents_explain(
    weighed: Book, pen: Pen
) -> None:
    def explained() -> tuple[float, str]:
        water = water_of(weighed, "A01", on=TODAY)
        assert water.model_g_per_day is not None
        return water.model_g_per_day[1], " | ".join(water.basis)

    write(weighed, [Shelved(box="A01", shelf="S1")], pen=pen, happened="2026-08-01")
    read = ShelfRead(shelf="S1", lowest_c=22, highest_c=22)
    write(weighed, [read], pen=pen, happened="2026-10-29")
    usual, words = explained()
    assert "40 % humidity in the room, assumed" in words
    damp = ShelfRead(shelf="S1", lowest_c=22, highest_c=22, rh_lowest=0.6, rh_highest=0.7)
    write(weighed, [damp], pen=pen, happened="2026-10-30")
    damper, words = explained()
    assert damper < 0.7 * usual
    assert "65 % humidity in the room (60 to 70 %), read 2026-10-30" in words
    write(weighed, [BoxDescribed(box="A01", warmer_c=2)], pen=pen, happened="2026-10-30")
    warmer, words = explained()
    assert warmer > 1.2 * damper
    assert "the box 2 °C warmer than its shelf, as told" in words


def test_a_box_without_vents_told_goes_by_its_scale_alone(book: Book, pen: Pen) -> None:
    write(book, [BoxDescribed(box="A01", litres=3)], pen=pen, happened="2026-08-01")
    note(book, pen, "2026-10-01", "weigh", "1462 just right")
    note(book, pen, "2026-10-11", "weigh", "1442")
    water = water_of(book, "A01", on=TODAY)
    assert water.model_g_per_day is None
    assert water.loss_can_be_told


def test_an_unknown_box_is_refused(book: Book) -> None:
    with pytest.raises(UnknownSubject):
        water_of(book, "Z99", on=TODAY)


def test_a_corrected_weight_keeps_its_mark_until_told_otherwise(book: Book, pen: Pen) -> None:
    write(book, [BoxDescribed(box="A01", litres=3)], pen=pen)
    (fact,) = facts_for("A01", "weigh", "1426 just right")
    first = write(book, [fact], pen=pen).entries[0]
    better = correct_noted(book, first.id, "weigh", "1462", why="slip", pen=pen).entries[0]
    assert better.fact == Weighed(box="A01", gross_g=1462, mark="just_right")
    bare = correct_noted(book, better.id, "weigh", "1462 no mark", why="", pen=pen).entries[0]
    assert bare.fact == Weighed(box="A01", gross_g=1462)


def test_the_scales_misting_stands_in_the_rhythms_place(weighed: Book) -> None:
    register = register_of(weighed)
    standing = standing_of(weighed, "A01")
    mist = mist_by_scale(weighed, register, standing, on=TODAY, zone=UTC)
    assert mist is not None
    told = wants(standing, handbook.rhythms("porcellio-scaber"), {}, on=TODAY, zone=UTC)
    tasks = tasks_of(
        standing, told, handbook.efforts(), species="porcellio-scaber", start=TODAY,
        end=TODAY + timedelta(days=28), zone=UTC, by_scale=mist,
    )  # fmt: skip
    first, *later = [one for one in tasks if one.care == "mist"]
    assert (first.due, first.latest) == (mist.due, mist.latest)
    assert first.amount_ml == mist.amount_ml
    assert "by the scale" in first.why
    assert all(one.amount_ml is None for one in later)
    amount = amount_of(first, 3.0)
    assert amount is not None
    assert (amount.unit, amount.middle, amount.said) == ("mL", mist.amount_ml, mist.said)
    assert [amount_of(one, 3.0) for one in later] == [amount_for("mist", 3.0) for _ in later]
    (item,) = tray_of([("mist", amount.middle, amount.unit)])
    assert "scale" in item.basis


def test_a_box_without_a_mark_costs_no_look_at_its_entries(book: Book, pen: Pen) -> None:
    write(book, [BoxDescribed(box="A01", litres=3)], pen=pen)
    write(book, [CareGiven(box="A01", care="mist"), Weighed(box="A01", gross_g=1400)], pen=pen)
    register, standing = register_of(book), standing_of(book, "A01")
    book.close()  # any look at it would be refused now
    assert mist_by_scale(book, register, standing, on=TODAY, zone=UTC) is None


def test_a_weight_marked_just_now_counts_on_this_evening(weighed: Book, pen: Pen) -> None:
    now = datetime(2026, 11, 1, 12, tzinfo=UTC).isoformat(timespec="milliseconds")
    note(weighed, pen, now.replace("+00:00", "Z"), "weigh", "1430")
    water = water_of(weighed, "A01", on=TODAY)
    assert water.newest_g == 1430
    assert any(one.startswith("Too dry") for one in water.said)


def test_what_the_round_told_to_pour_is_known_for_writing_it_down(weighed: Book, pen: Pen) -> None:
    write(weighed, [BoxDescribed(box="A02", litres=3)], pen=pen, happened="2026-08-01")
    told = pours_told(weighed, ["A01", "A02"], on=TODAY)
    assert list(told) == ["A01"]
    assert told["A01"].unit == "mL"
    assert told["A01"].low == 30
    assert pours_told(weighed, ["A02"], on=TODAY) == {}
    mist = CareGiven(box="A01", care="mist", amount=told["A01"])
    write(weighed, [mist], pen=pen, happened=TODAY.isoformat())
    after = water_of(weighed, "A01", on=TODAY + timedelta(days=1))
    assert after.reserve_g is not None
    assert after.reserve_g[1] > 20
