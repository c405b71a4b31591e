"""Hot and cold: only looks since a box came to its shelf, and nothing where nothing is known."""

from datetime import date

import pytest

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import ShelfRead
from mancary.usecases import colony_work, set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.warmth import warmth
from tests.conftest import NOON

SUNDAY = NOON.date()


@pytest.fixture
def shelves(book: Book, pen: Pen) -> Book:
    for code, shelf, species in (
        ("A1", "A", "porcellio-scaber"),
        ("B1", "B", "cubaris-murina"),
        ("B2", "B", "porcellio-scaber"),
    ):
        set_up.describe_box(book, code, litres=3.0, shelf=shelf, pen=pen, happened="2026-01-01")
        colony_work.found(book, code, species, as_bought="x", pen=pen, happened="2026-01-01")
    for day, low, high in (("2026-10-11", 20, 22), ("2026-10-18", 20, 31), ("2026-10-25", 20, 22)):
        set_up.read_shelf(book, "B", lowest_c=low, highest_c=high, pen=pen, happened=day)
    return book


def test_a_hot_week_is_told_of_the_boxes_that_cannot_bear_it(shelves: Book) -> None:
    found = warmth(shelves, on=SUNDAY)
    scaber = handbook.figures("porcellio-scaber")["temperature_c"]
    assert scaber.high is not None
    hot = {one.box: one for one in found.spells if one.spell.too == "hot"}
    assert hot["B2"].spell.past_c == pytest.approx(31 - scaber.high)
    assert hot["B2"].at_most_days == 7
    assert hot["B2"].kept_at.startswith(scaber.said)
    assert "over hours" in hot["B2"].what_to_do
    assert found.never_read == ("A1",)


def test_a_box_is_not_told_of_heat_before_it_came(shelves: Book, pen: Pen) -> None:
    set_up.describe_box(shelves, "A1", shelf="B", pen=pen, happened="2026-10-20")
    hot = {one.box for one in warmth(shelves, on=SUNDAY).spells if one.spell.too == "hot"}
    assert "A1" not in hot
    assert "B2" in hot


def test_a_withdrawn_reading_and_one_to_come_count_for_nothing(shelves: Book, pen: Pen) -> None:
    assert warmth(shelves, on=date(2026, 10, 12)).spells == tuple(
        one for one in warmth(shelves, on=date(2026, 10, 12)).spells if one.spell.too == "cold"
    )
    hot = next(
        e for e in shelves.entries_of(("shelf_read",)) if getattr(e.fact, "highest_c", 0) == 31
    )
    withdraw(shelves, hot.id, why="misread", pen=pen)
    assert [one for one in warmth(shelves, on=SUNDAY).spells if one.spell.too == "hot"] == []


def test_only_the_last_weeks_are_told(shelves: Book) -> None:
    assert warmth(shelves, on=date(2026, 10, 26), weeks=1).weeks == 1
    later = warmth(shelves, on=date(2026, 12, 30), weeks=2)
    assert [one for one in later.spells if one.spell.too == "hot"] == []


def test_a_second_cooler_logger_on_the_shelf_does_not_end_the_heat(shelves: Book, pen: Pen) -> None:
    for day in range(20, 30):
        for instrument, high in (("L1", 36), ("L2", 24)):
            set_up.read_shelf(
                shelves, "B", lowest_c=20, highest_c=high, instrument=instrument, pen=pen,
                happened=f"2026-10-{day}",
            )  # fmt: skip
    hot = [
        one.spell
        for one in warmth(shelves, on=SUNDAY).spells
        if one.box == "B2" and one.spell.too == "hot" and one.worst_c == 36
    ]
    assert [(one.looks, one.going_on) for one in hot] == [(10, True)]


def test_a_reading_with_its_ends_turned_is_no_look(shelves: Book, pen: Pen) -> None:
    before = warmth(shelves, on=SUNDAY).spells
    turned = ShelfRead(shelf="B", lowest_c=35, highest_c=10)
    write(shelves, [turned], pen=pen, happened="2026-10-26")
    assert warmth(shelves, on=SUNDAY).spells == before
