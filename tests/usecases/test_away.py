"""Before an absence: chances, visits, and what has no model."""

from datetime import date, timedelta

import pytest

from mancary.book import Book
from mancary.husbandry.absence import RISK
from mancary.husbandry.facts import CareGiven, ShelfRead, Vent
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.away import plan_absence
from mancary.usecases.pen import Pen
from mancary.usecases.record import write

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
    assert "Of 3 boxes 0 rest on their weighings, 2 on the model" in found.rests_on_said
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
