"""Thermometers: weekly, and daily while the last look told of heat."""

from datetime import date, timedelta

import pytest

from mancary import handbook
from mancary.book import Book
from mancary.usecases import colony_work, set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw
from mancary.usecases.round_shelves import EVERY_DAYS, HOT_C, shelf_tasks
from mancary.usecases.standings import register_of
from tests.conftest import NOON

TODAY = NOON.date()
YESTERDAY = (TODAY - timedelta(days=1)).isoformat()


@pytest.fixture
def shelf(book: Book, pen: Pen) -> Book:
    """One box of a temperate species on one shelf."""
    set_up.describe_box(book, "A1", litres=3.0, shelf="S", pen=pen, happened="2026-01-01")
    colony_work.found(book, "A1", "oniscus-asellus", as_bought="x", pen=pen, happened="2026-01-01")
    return book


def asked(book: Book, on: date = TODAY) -> dict[str, str]:
    return {one.shelf: one.why for one in shelf_tasks(book, register_of(book), on=on)}


def read(book: Book, pen: Pen, shelf: str, highest_c: float, happened: str = YESTERDAY) -> None:
    set_up.read_shelf(
        book, shelf, lowest_c=highest_c - 5, highest_c=highest_c, pen=pen, happened=happened
    )


def stands_c() -> float:
    high = handbook.figures("oniscus-asellus")["temperature_c"].high
    assert high is not None
    return high


def test_above_what_its_species_stands_a_shelf_is_asked_daily_and_says_why(
    shelf: Book, pen: Pen
) -> None:
    assert stands_c() < HOT_C
    read(shelf, pen, "S", stands_c() + 0.5)
    why = asked(shelf)["S"]
    assert f"{stands_c() + 0.5:g} °C at the last look" in why
    assert "Oniscus asellus" in why
    assert "daily in heat" in why
    assert "S" in asked(shelf, TODAY + timedelta(days=1))


def test_within_its_range_it_is_asked_weekly(shelf: Book, pen: Pen) -> None:
    read(shelf, pen, "S", stands_c())
    assert asked(shelf) == {}
    later = TODAY + timedelta(days=EVERY_DAYS - 2)
    assert "weekly" in asked(shelf, later)["S"]


def test_read_on_the_very_evening_it_is_not_asked_again(shelf: Book, pen: Pen) -> None:
    read(shelf, pen, "S", 33, TODAY.isoformat())
    assert asked(shelf) == {}
    assert "S" in asked(shelf, TODAY + timedelta(days=1))


def test_a_shelf_of_nobody_is_asked_daily_above_28_degrees(book: Book, pen: Pen) -> None:
    set_up.place_shelf(book, "E", turn=1, pen=pen)
    read(book, pen, "E", HOT_C)
    assert asked(book) == {}
    read(book, pen, "E", HOT_C + 0.1)
    assert "above 28 °C" in asked(book)["E"]


def test_the_heat_is_over_with_a_cooler_reading_and_a_withdrawn_one_does_not_count(
    shelf: Book, pen: Pen
) -> None:
    read(shelf, pen, "S", 22, (TODAY - timedelta(days=3)).isoformat())
    read(shelf, pen, "S", 34)
    hot = shelf.entries_of(("shelf_read",))[-1]
    assert "S" in asked(shelf)
    withdraw(shelf, hot.id, why="", pen=pen)
    assert asked(shelf) == {}
    read(shelf, pen, "S", 34)
    read(shelf, pen, "S", 22, TODAY.isoformat())
    assert asked(shelf, TODAY + timedelta(days=2)) == {}
