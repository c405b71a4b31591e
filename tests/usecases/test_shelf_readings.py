"""The readings of shelves, gathered once: withdrawn left out, by day, corrected, cached."""

from datetime import UTC, date
from pathlib import Path

import pytest

from mancary import handbook
from mancary.book import Book, open_book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import HygrometerChecked, SaltReading, ShelfRead
from mancary.husbandry.shelf_climate import Span
from mancary.usecases import set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.shelf_readings import READ_WITHIN_DAYS, climate_of, readings_of

ON = date(2026, 10, 30)


@pytest.fixture
def shelf(book: Book, pen: Pen) -> Book:
    set_up.place_shelf(book, "A", turn=1, air="draughty", pen=pen)
    return book


def read(book: Book, pen: Pen, happened: str, **told: object) -> str:
    facts = [ShelfRead(shelf="A", **{"lowest_c": 18, "highest_c": 22, **told})]  # type: ignore[arg-type]
    return write(book, facts, pen=pen, happened=happened).entries[0].id


def test_readings_come_in_order_of_happening_up_to_the_day_without_withdrawn_ones(
    shelf: Book, pen: Pen
) -> None:
    read(shelf, pen, "2026-10-20", lowest_c=2)
    read(shelf, pen, "2026-10-10", lowest_c=1)
    wrong = read(shelf, pen, "2026-10-15", lowest_c=9)
    read(shelf, pen, "2026-10-31", lowest_c=3)
    withdraw(shelf, wrong, why="", pen=pen)
    told = readings_of(shelf, on=ON, zone=UTC)["A"]
    assert [one.fact.lowest_c for one in told] == [1, 2]
    assert readings_of(shelf, on=date(2026, 10, 31), zone=UTC)["A"][-1].fact.lowest_c == 3


def test_the_climate_is_of_the_last_weeks_and_the_newest_look_of_any_age(
    shelf: Book, pen: Pen
) -> None:
    old = date.fromordinal(ON.toordinal() - READ_WITHIN_DAYS - 1).isoformat()
    read(shelf, pen, old, lowest_c=5, highest_c=9)
    assert climate_of(shelf, "A", on=ON, zone=UTC).temperature_is_assumed
    assert climate_of(shelf, "A", on=ON, zone=UTC, newest=True).temperature == Span(7, 5, 9)
    read(shelf, pen, "2026-10-01", lowest_c=15, highest_c=17)
    read(shelf, pen, "2026-10-20", lowest_c=19, highest_c=23)
    assert climate_of(shelf, "A", on=ON, zone=UTC).temperature == Span(18.5, 15, 23)
    assert climate_of(shelf, "A", on=ON, zone=UTC, newest=True).temperature == Span(21, 19, 23)


def test_a_loggers_means_go_before_the_middle_of_its_ends(shelf: Book, pen: Pen) -> None:
    read(shelf, pen, "2026-10-20", highest_c=30, mean_c=19.5, rh_lowest=0.3, rh_highest=0.9, rh_mean=0.4)  # fmt: skip
    found = climate_of(shelf, "A", on=ON, zone=UTC)
    assert found.temperature == Span(19.5, 18, 30)
    assert found.humidity == Span(0.4, 0.3, 0.9)
    assert found.air == "room"  # it was told only on the first of November
    assert climate_of(shelf, "A", on=date(2026, 11, 1), zone=UTC).air == "draughty"


def test_a_shelf_without_humidity_has_none_and_the_rooms_is_assumed(shelf: Book, pen: Pen) -> None:
    read(shelf, pen, "2026-10-20")
    found = climate_of(shelf, "A", on=ON, zone=UTC)
    assert found.humidity is None
    assert found.rh == handbook.ventilation_room().humidity
    assert climate_of(shelf, "", on=ON, zone=UTC).temperature_is_assumed


def test_the_salt_test_before_a_reading_corrects_it_and_one_after_it_does_not(
    shelf: Book, pen: Pen
) -> None:
    read(shelf, pen, "2026-10-01", rh_lowest=0.5, rh_highest=0.6, instrument="H1")
    salts = (SaltReading(salt="MgCl2", reading_rh=0.43, temp_c=20), SaltReading(salt="NaCl", reading_rh=0.85, temp_c=20))  # fmt: skip
    check = HygrometerChecked(instrument="H1", readings=salts)  # shows ten points too much
    write(shelf, [check], pen=pen, happened="2026-10-10")
    before = climate_of(shelf, "A", on=date(2026, 10, 9), zone=UTC)
    assert before.humidity is not None
    assert before.humidity.middle == pytest.approx(0.55)
    assert "H1" in before.humidity_said
    assert "not checked" in before.humidity_said
    read(shelf, pen, "2026-10-20", rh_lowest=0.5, rh_highest=0.6, instrument="H1")
    after = climate_of(shelf, "A", on=ON, zone=UTC, newest=True)
    assert after.humidity is not None
    assert after.humidity.middle == pytest.approx(0.45, abs=0.02)
    assert after.humidity.low < after.humidity.middle < after.humidity.high
    assert "not checked" not in after.humidity_said


def test_a_reading_by_no_named_instrument_stays_as_shown(shelf: Book, pen: Pen) -> None:
    read(shelf, pen, "2026-10-20", rh_lowest=0.5, rh_highest=0.5)
    found = climate_of(shelf, "A", on=ON, zone=UTC)
    assert found.humidity == Span(0.5, 0.5, 0.5)
    assert "not named, so not checked" in found.humidity_said


def test_a_shelf_is_worked_out_once_until_the_book_changes(
    shelf: Book, pen: Pen, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks: list[str] = []
    about = Book.entries_about

    def counted(book: Book, subject: str) -> list[Entry]:
        looks.append(subject)
        return about(book, subject)

    monkeypatch.setattr(Book, "entries_about", counted)
    read(shelf, pen, "2026-10-20")
    looks.clear()
    first = climate_of(shelf, "A", on=ON, zone=UTC)
    assert all(climate_of(shelf, "A", on=ON, zone=UTC) is first for _ in range(100))
    assert len(looks) == 1
    read(shelf, pen, "2026-10-21", highest_c=30)
    assert climate_of(shelf, "A", on=ON, zone=UTC).temperature.high == 30


def test_another_book_of_the_same_place_is_another(shelf: Book, path: Path, pen: Pen) -> None:
    read(shelf, pen, "2026-10-20")
    with open_book(path) as again:
        assert climate_of(again, "A", on=ON, zone=UTC) == climate_of(shelf, "A", on=ON, zone=UTC)
        read(again, pen, "2026-10-21", highest_c=40)
    assert climate_of(shelf, "A", on=ON, zone=UTC).temperature.high == 40


def test_placing_a_shelf_again_keeps_its_air(shelf: Book, pen: Pen) -> None:
    set_up.place_shelf(shelf, "A", level=2, pen=pen)
    assert climate_of(shelf, "A", on=date(2026, 11, 1), zone=UTC).air == "draughty"
    set_up.place_shelf(shelf, "A", air="cupboard", pen=pen)
    assert climate_of(shelf, "A", on=date(2026, 11, 1), zone=UTC).air == "cupboard"


def test_a_reading_far_beyond_the_test_is_said_and_has_a_wide_range(shelf: Book, pen: Pen) -> None:
    salts = (SaltReading(salt="NaCl", reading_rh=0.77, temp_c=20), SaltReading(salt="KCl", reading_rh=0.82, temp_c=20))  # fmt: skip
    write(shelf, [HygrometerChecked(instrument="H1", readings=salts)], pen=pen, happened="2026-10-10")  # fmt: skip
    read(shelf, pen, "2026-10-20", rh_lowest=0.45, rh_highest=0.45, instrument="H1")
    found = climate_of(shelf, "A", on=ON, zone=UTC)
    assert found.humidity is not None
    assert found.humidity.middle == pytest.approx(0.435, abs=0.005)
    assert found.humidity.low < 0.15  # the line carried on
    assert "only 77 to 82 % was tested" in found.humidity_said
    read(shelf, pen, "2026-10-21", rh_lowest=0.79, rh_highest=0.81, instrument="H1")
    within = climate_of(shelf, "A", on=ON, zone=UTC, newest=True)
    assert "was tested" not in within.humidity_said
