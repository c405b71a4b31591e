"""New vents, another shelf and old weighings: what of the past still teaches."""

from datetime import date, timedelta

import pytest

from mancary.book import Book
from mancary.husbandry.facts import (
    BoxDescribed,
    BoxRetired,
    CareGiven,
    ShelfRead,
    Shelved,
    Vent,
    Weighed,
)
from mancary.husbandry.water_state import BoxWater
from mancary.usecases.away import plan_absence
from mancary.usecases.noting import facts_for
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.water import water_of

ON = date(2026, 10, 15)


def vents(count: int) -> tuple[Vent, ...]:
    return (Vent(count=count, size_mm=3, place="lid"),)


@pytest.fixture
def weighed(book: Book, pen: Pen) -> Book:
    """Twenty holes, a gram a day for a fortnight."""
    described = BoxDescribed(box="A01", litres=3, damp_share=0.5, litter_cm=2, vents=vents(20))
    write(book, [described, Shelved(box="A01", shelf="S1")], pen=pen, happened="2026-08-01")
    for day, grams in (("2026-10-01", 1000), ("2026-10-08", 993), ("2026-10-15", 986)):
        write(book, [Weighed(box="A01", gross_g=grams)], pen=pen, happened=day)
    return book


def loss(water: BoxWater) -> float:
    assert water.loss_middle_g_per_day is not None
    return water.loss_middle_g_per_day


def test_weighings_before_new_vents_are_set_against_the_old_vents(weighed: Book, pen: Pen) -> None:
    before = water_of(weighed, "A01", on=ON)
    write(weighed, [BoxDescribed(box="A01", vents=vents(120))], pen=pen, happened="2026-10-15")
    after = water_of(weighed, "A01", on=ON + timedelta(days=1))
    assert before.model_g_per_day is not None
    assert after.model_g_per_day is not None
    more = after.model_g_per_day[0] / before.model_g_per_day[0]
    assert more > 3
    assert after.factor == pytest.approx(before.factor, rel=0.02)
    assert loss(after) == pytest.approx(more * loss(before), rel=0.05)
    assert not any("covered or clogged" in one for one in after.said)
    assert any("in its own days" in one for one in after.basis)
    assert not any("in its own days" in one for one in before.basis)


def test_a_change_between_two_weighings_parts_them(weighed: Book, pen: Pen) -> None:
    write(weighed, [BoxDescribed(box="A01", vents=vents(60))], pen=pen, happened="2026-10-11")
    found = water_of(weighed, "A01", on=ON)
    assert found.loss_over_days == pytest.approx(7)
    assert found.loss_to == date(2026, 10, 8)
    assert any("told anew on 2026-10-11" in one for one in found.basis)


def test_without_a_model_a_change_begins_a_new_series(book: Book, pen: Pen) -> None:
    write(book, [BoxDescribed(box="A01", litres=3, litter_cm=1)], pen=pen, happened="2026-08-01")
    for day, grams in (("2026-10-01", 1000), ("2026-10-08", 993)):
        write(book, [Weighed(box="A01", gross_g=grams)], pen=pen, happened=day)
    assert water_of(book, "A01", on=ON).loss_can_be_told
    write(book, [BoxDescribed(box="A01", litter_cm=4)], pen=pen, happened="2026-10-09")
    found = water_of(book, "A01", on=ON)
    assert found.loss_g_per_day is None
    assert any("told anew on 2026-10-09" in one for one in found.basis)


def climate(book: Book, pen: Pen, shelf: str, day: str, warmth: float, rh: float) -> None:
    read = ShelfRead(shelf=shelf, lowest_c=warmth, highest_c=warmth, rh_lowest=rh, rh_highest=rh)
    write(book, [read], pen=pen, happened=day)


def test_a_box_moved_to_a_hotter_shelf_is_told_to_lose_more(weighed: Book, pen: Pen) -> None:
    climate(weighed, pen, "S1", "2026-10-10", 18, 0.6)
    before = water_of(weighed, "A01", on=ON)
    climate(weighed, pen, "S2", "2026-10-14", 28, 0.3)
    write(weighed, [Shelved(box="A01", shelf="S2")], pen=pen, happened="2026-10-15")
    after = water_of(weighed, "A01", on=ON + timedelta(days=1))
    assert after.factor == pytest.approx(before.factor, rel=0.02)
    assert loss(after) > 2.5 * loss(before)


def test_another_season_on_the_same_shelf_counts_too(weighed: Book, pen: Pen) -> None:
    climate(weighed, pen, "S1", "2026-10-10", 18, 0.6)
    before = water_of(weighed, "A01", on=ON)
    climate(weighed, pen, "S1", "2026-10-31", 26, 0.3)  # the heating is on
    later = water_of(weighed, "A01", on=date(2026, 12, 20))
    assert later.factor == pytest.approx(before.factor, rel=0.02)
    assert loss(later) > 2 * loss(before)


def test_a_shelf_read_for_the_first_time_is_taken_to_have_been_so(weighed: Book, pen: Pen) -> None:
    before = water_of(weighed, "A01", on=ON)
    climate(weighed, pen, "S1", "2026-10-20", 28, 0.3)
    after = water_of(weighed, "A01", on=date(2026, 10, 21))
    assert loss(after) == pytest.approx(loss(before), rel=0.1)


def test_boxes_out_of_use_and_old_weighings_do_not_teach_their_make(book: Book, pen: Pen) -> None:
    for number in range(1, 5):
        described = BoxDescribed(
            box=f"A0{number}", litres=3, damp_share=0.5, vents=vents(24), make="Clear box"
        )
        write(book, [described], pen=pen, happened="2023-01-01")
    rows = {"A01": "2023-01", "A02": "2026-10", "A03": "2026-10"}
    for box, month in rows.items():
        for day, grams in ((1, 1500), (11, 1480)):
            fact = Weighed(box=box, gross_g=grams)
            write(book, [fact], pen=pen, happened=f"{month}-{day:02}")
    write(
        book, [Weighed(box="A04", gross_g=1462, mark="just_right")], pen=pen, happened="2026-10-14"
    )
    assert water_of(book, "A04", on=ON).make_boxes == 2
    write(book, [BoxRetired(box="A03")], pen=pen, happened="2026-10-14")
    assert water_of(book, "A04", on=ON).make_boxes == 1


def settled(book: Book, pen: Pen) -> None:
    from mancary.usecases import colony_work

    colony_work.found(book, "A01", "cubaris-murina", as_bought="x", pen=pen, happened="2023-01-01")


def test_an_absence_does_not_rest_on_weighings_of_three_years_ago(book: Book, pen: Pen) -> None:
    described = BoxDescribed(box="A01", litres=3, damp_share=0.5, vents=vents(40))
    write(book, [described], pen=pen, happened="2023-01-01")
    settled(book, pen)
    told = (
        ("2023-01-02", "weigh", "1000 just right"),
        ("2023-01-17", "weigh", "970 too dry"),
        ("2023-01-17", "mist", "30 mL"),
        ("2023-02-01", "weigh", "970"),
    )
    for day, word, amount in told:
        write(book, facts_for("A01", word, amount), pen=pen, happened=day)

    def box(leaving: date) -> tuple[str, str]:
        found = plan_absence(book, leaving=leaving, back=leaving + timedelta(days=14))
        return found.boxes[0].rests_on, found.boxes[0].reserve.basis

    assert box(date(2023, 2, 5))[0] == "weighings"
    assert "its weighings of 2023-01-02 to 2023-02-01" in box(date(2023, 2, 5))[1]
    assert box(date(2026, 7, 1))[0] == "model"


def test_an_absence_says_weighings_where_a_box_rests_on_those_of_its_make(
    book: Book, pen: Pen
) -> None:
    for number in range(1, 5):
        described = BoxDescribed(
            box=f"A0{number}", litres=3, damp_share=0.5, litter_cm=2, vents=vents(24), make="Clear"
        )
        write(book, [described], pen=pen, happened="2023-01-01")
    settled(book, pen)
    for number in range(2, 5):
        for day, grams in (("01", 1500), ("08", 1486), ("15", 1472)):
            fact = Weighed(box=f"A0{number}", gross_g=grams)
            write(book, [fact], pen=pen, happened=f"2026-10-{day}")
    for day, words in (("2026-09-01", "1430 too dry"), ("2026-10-14", "1462 just right")):
        write(book, facts_for("A01", "weigh", words), pen=pen, happened=day)
        write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened=day)
    found = plan_absence(book, leaving=ON, back=ON + timedelta(days=14)).boxes[0]
    assert "boxes of its make, down to its too dry mark (yours)" in found.reserve.basis
    assert found.rests_on == "weighings"


def test_an_absence_names_just_right_as_it_weighs_today(book: Book, pen: Pen) -> None:
    described = BoxDescribed(box="A01", litres=3, damp_share=0.5, vents=vents(24))
    write(book, [described], pen=pen, happened="2026-01-01")
    settled(book, pen)
    told = (
        ("2026-09-01", "weigh", "970 too dry"),
        ("2026-09-01", "mist", "30 mL"),
        ("2026-09-02", "weigh", "1000 just right"),
        ("2026-10-02", "weigh", "970"),
        ("2026-10-10", "leaf_litter", "30 g"),
    )
    for day, word, amount in told:
        write(book, facts_for("A01", word, amount), pen=pen, happened=day)
    found = plan_absence(book, leaving=ON, back=ON + timedelta(days=14)).boxes[0]
    assert found.water_said == "up to about 1030 g on the scale, its just right"
    assert found.rests_on == "weighings"
    assert found.reserve.grams == pytest.approx(30)
