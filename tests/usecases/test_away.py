"""Before an absence: chances, visits, and what has no model."""

from datetime import date, timedelta

import pytest

from mancary.book import Book
from mancary.husbandry.absence import RISK
from mancary.husbandry.facts import CareGiven, ShelfRead, Vent
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.away import plan_absence
from mancary.usecases.noting import facts_for
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.stand_in import racks_of

LEAVING = date(2026, 10, 20)


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    for code, species, holes in (
        ("A1", "cubaris-murina", 40),
        ("A2", "cubaris-murina", 4),
        ("A3", "porcellio-expansus", None),
    ):
        vents = (Vent(count=holes, size_mm=3, place="lid"),) if holes else None
        set_up.describe_box(
            book, code, litres=3.0, shelf="A", damp_share=0.5, vents=vents, pen=pen,
            happened="2026-01-01",
        )  # fmt: skip
        colony_work.found(book, code, species, as_bought="x", pen=pen, happened="2026-01-01")
    write(book, [CareGiven(box="A1", care="leaf_litter")], pen=pen, happened="2026-08-01")
    return book


def test_more_holes_longer_away_and_heat_are_each_less_safe(room: Book) -> None:
    def chance(days: int, heat: float = 0.0) -> dict[str, float]:
        found = plan_absence(
            room, leaving=LEAVING, back=LEAVING + timedelta(days=days), heat_c=heat
        )
        return {one.box: one.chance_dry for one in found.boxes}

    assert chance(14)["A1"] > chance(14)["A2"]
    assert chance(21)["A1"] > chance(10)["A1"]
    assert chance(10, heat=8)["A1"] > chance(10)["A1"]


def test_a_stand_in_wets_only_boxes_at_risk_and_is_told_what_not_to_do(room: Book) -> None:
    found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=21))
    risky = {one.box for one in found.boxes if one.chance_dry > RISK}
    assert {box for visit in found.visits for box in visit.boxes} <= risky
    assert any("Do not open the other boxes" in rule for rule in found.stand_in)
    assert any("one visit by a stand-in" in rule for rule in found.rules)


def test_what_has_no_model_is_said_in_words(room: Book) -> None:
    found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=30))
    told = {one.box: one for one in found.boxes}
    assert "leaf litter" in told["A1"].before
    assert "misting rhythm" in told["A3"].reserve.basis
    assert "model" not in told["A3"].reserve.basis  # its vents are not told
    assert "model, not weighed" in told["A1"].reserve.basis
    assert any("fresh food" in rule for rule in found.rules)
    assert any("another keeper" in rule for rule in found.rules)


def test_dates_that_are_no_absence_are_refused(room: Book) -> None:
    with pytest.raises(Refusal, match="not after"):
        plan_absence(room, leaving=LEAVING, back=LEAVING)
    with pytest.raises(Refusal, match="warmer"):
        plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=5), heat_c=40)


def test_it_says_what_each_box_rests_on_and_the_air_it_took(room: Book, pen: Pen) -> None:
    write(book := room, [ShelfRead(shelf="A", lowest_c=25, highest_c=27)], pen=pen,
          happened="2026-10-18")  # fmt: skip
    found = plan_absence(book, leaving=LEAVING, back=LEAVING + timedelta(days=14), heat_c=4)
    assert found.rests_on == {"weighings": 0, "model": 2, "rhythm": 1}
    assert "2 on the model of their vents" in found.rests_on_said
    assert {one.temp_c for one in found.boxes} == {30.0}  # the shelf's 26 and the heat's 4
    assert found.air
    assert (found.air.temp_c_low, found.air.read, found.air.damp_read) == (26.0, 3, 0)
    assert "26.0 °C, each box as its shelf, and 4 °C on top of it" in found.air.said
    assert all("at 30.0 °C, 4 °C warmer" in one.reserve.basis for one in found.boxes)


def test_the_rack_holds_each_box_of_its_shelves_and_numbers_the_visits(room: Book) -> None:
    found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=21))
    assert found.visits
    (shelf,) = found.rack
    assert [one.box for one in shelf.boxes] == ["A1", "A2", "A3"]
    for one in shelf.boxes:
        told = tuple(n for n, visit in enumerate(found.visits, 1) if one.box in visit.boxes)
        assert one.visits == told
        assert bool(one.pour) == bool(told)


def test_the_shelfs_own_air_decides_how_long_a_reserve_lasts(room: Book, pen: Pen) -> None:
    def reserve() -> tuple[float, str]:
        found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=14))
        told = {one.box: one.reserve for one in found.boxes}
        return told["A1"].high_days, told["A1"].basis

    assumed, words = reserve()
    assert "40 % humidity in the room, assumed" in words
    set_up.read_shelf(
        room, "A", lowest_c=27, highest_c=29, humidity=(0.2, 0.3), pen=pen, happened="2026-10-18"
    )
    hot, words = reserve()
    assert hot < assumed
    assert "28.0 °C" in words
    assert "25 % humidity in the room (20 to 30 %)" in words


def weigh(book: Book, pen: Pen, on: str, words: str) -> None:
    write(book, facts_for("A1", "weigh", words), pen=pen, happened=on)


def test_one_honest_weighing_does_not_make_the_stand_in_come_daily_or_drown_the_box(
    room: Book, pen: Pen
) -> None:
    weigh(room, pen, "2026-10-13", "960")
    write(room, facts_for("A1", "vegetable", "slice"), pen=pen, happened="2026-10-14")
    weigh(room, pen, "2026-10-18", "957 just right")
    found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=14))
    box = next(one for one in found.boxes if one.box == "A1")
    often = [visit for visit in found.visits if "A1" in visit.boxes]
    assert len(often) <= 4
    assert "too uncertain to plan by" in box.reserve.doubt
    assert box.reserve.doubt in box.before
    assert box.rests_on == "model"
    assert "too uncertain to plan by: A1" in found.rests_on_said
    most = box.reserve.g_per_day * 14 + box.reserve.grams
    assert not box.pour or len(often) * box.pour.high_ml <= most
    assert "957 g on the scale" in box.water_said  # no pour by the size band on a weighed box


def test_a_box_whose_scale_tells_is_given_what_it_loses(room: Book, pen: Pen) -> None:
    """Two grams a day, thirty grams between its marks: a fortnight is just over a reserve."""
    weigh(room, pen, "2026-09-05", "1462 just right")
    weigh(room, pen, "2026-09-20", "1432 too dry")
    write(room, facts_for("A1", "mist", "30 mL"), pen=pen, happened="2026-09-20")
    weigh(room, pen, "2026-10-05", "1432")
    found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=21))
    box = next(one for one in found.boxes if one.box == "A1")
    assert (box.rests_on, box.reserve.doubt) == ("weighings", "")
    assert box.reserve.by_scale
    assert box.pour
    assert box.pour.low_ml == box.pour.high_ml
    days = [(one.day - LEAVING).days for one in found.visits if "A1" in one.boxes]
    lost = [box.reserve.g_per_day * day for day in days]
    poured = [box.pour.high_ml * n for n in range(1, len(days) + 1)]
    assert all(most <= gone for most, gone in zip(poured, lost, strict=True))
    bound = min(gone / n for n, gone in enumerate(lost, 1))
    assert box.pour.high_ml == int(min(bound, 15))  # 15 mL: the most at once for a box of 3 L


def test_an_absence_that_is_over_is_refused_and_one_under_way_is_not(room: Book) -> None:
    back = LEAVING + timedelta(days=14)
    with pytest.raises(Refusal, match="that is past"):
        plan_absence(room, leaving=LEAVING, back=back, today=back)
    assert plan_absence(room, leaving=LEAVING, back=back, today=back - timedelta(days=1)).boxes


def test_shelves_without_a_visit_stand_on_the_sheet_and_racks_stand_apart(
    room: Book, pen: Pen
) -> None:
    for code, shelf in (("B1", "A2"), ("B2", "B1")):
        set_up.describe_box(room, code, shelf=shelf, pen=pen, happened="2026-01-01")
    found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=21))
    assert found.visits
    assert [(one.shelf, one.alone) for one in found.rack] == [
        ("A", False), ("A2", True), ("B1", True),
    ]  # fmt: skip
    racks = racks_of(found.rack)
    assert [[one.shelf for one in rack] for rack in racks] == [["A", "A2"], ["B1"]]


def test_the_rules_say_why_more_than_one_visit_is_asked_for(room: Book) -> None:
    found = plan_absence(room, leaving=LEAVING, back=LEAVING + timedelta(days=21))
    often = len(found.visits)
    said = [rule for rule in found.rules if rule.startswith("This plan has")]
    assert bool(said) == (often > 1)
    assert all(f"{often} visits" in rule for rule in said)
