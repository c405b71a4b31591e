"""Salt tests in the book, and which of them corrects a reading."""

from datetime import date

import pytest

from mancary.book import Book
from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.facts.instruments import SaltReading
from mancary.husbandry.refusal import Refusal
from mancary.usecases import set_up
from mancary.usecases.hygrometers import (
    check_hygrometer,
    correction_at,
    hygrometer,
    hygrometers,
)
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.zone import zone_of

ON = date(2026, 11, 1)


def nacl(reading_rh: float) -> SaltReading:
    return SaltReading(salt="NaCl", reading_rh=reading_rh, temp_c=20)


def told(book: Book, pen: Pen, day: str, *readings: SaltReading) -> str:
    return check_hygrometer(book, "h1", readings, pen=pen, happened=day).entries[0].id


def test_the_newest_test_before_the_moment_corrects(book: Book, pen: Pen) -> None:
    old, new = told(book, pen, "2026-03-01", nacl(0.80)), told(book, pen, "2026-06-01", nacl(0.70))
    zone = zone_of(book)

    def at(day: str) -> str | None:
        found = correction_at(book, "H1", happened=day, zone=zone)
        return found.fact_id if found else None

    assert (at("2026-02-01"), at("2026-04-01"), at("2026-07-01")) == (None, old, new)
    withdraw(book, new, why="read too soon", pen=pen)
    assert at("2026-07-01") == old


def test_what_it_rests_on_is_said(book: Book, pen: Pen) -> None:
    told(book, pen, "2026-03-01", nacl(0.80))
    found = correction_at(book, "H1", happened="2026-04-01", zone=zone_of(book))
    assert found is not None
    assert found.said == "corrected by the salt test of H1 on 2026-03-01 (NaCl)"
    assert found.corrected(0.80) < 0.80
    assert found.standard_error(0.80) is None


def test_a_test_that_teaches_nothing_is_not_written(book: Book, pen: Pen) -> None:
    with pytest.raises(Refusal, match="too soon"):
        told(book, pen, "2026-03-01", nacl(0.30))
    assert hygrometers(book, on=ON) == ()


def test_readings_outside_the_test_are_counted_and_said(book: Book, pen: Pen) -> None:
    set_up.place_shelf(book, "S1", pen=pen)
    told(book, pen, "2026-03-01", nacl(0.78), SaltReading(salt="MgCl2", reading_rh=0.36, temp_c=20))
    for lowest, highest in ((0.5, 0.6), (0.5, 0.95)):
        read = ShelfRead(
            shelf="S1",
            lowest_c=19,
            highest_c=22,
            rh_lowest=lowest,
            rh_highest=highest,
            instrument="H1",
        )
        write(book, [read], pen=pen, happened="2026-04-01")
    one = hygrometer(book, "h1", on=ON)
    assert (one.readings, one.outside) == (2, 1)
    assert "extrapolated" in one.said[1]


def test_a_year_after_the_test_it_is_due(book: Book, pen: Pen) -> None:
    told(book, pen, "2025-10-01", nacl(0.78))
    assert hygrometer(book, "H1", on=date(2026, 9, 30)).is_due is False
    assert hygrometer(book, "H1", on=date(2026, 10, 1)).is_due is True


def test_one_named_by_a_shelf_alone_is_listed_as_never_tested(book: Book, pen: Pen) -> None:
    set_up.place_shelf(book, "S1", pen=pen)
    fact = ShelfRead(shelf="S1", lowest_c=19, highest_c=22, rh_mean=0.5, instrument="H9")
    write(book, [fact], pen=pen)
    (one,) = hygrometers(book, on=ON)
    assert (one.instrument, one.last_check) == ("H9", None)
    assert "Never tested" in one.said[0]


def test_an_unknown_one_is_refused(book: Book) -> None:
    with pytest.raises(Refusal, match="no hygrometer H1"):
        hygrometer(book, "H1", on=ON)
