"""The weighings of a make, gathered from the book once for an evening."""

from datetime import date
from typing import Any

import pytest

from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, Fact, Vent, Weighed
from mancary.usecases import water_shared
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.water import water_of

ON = date(2026, 11, 1)
VENTS = (Vent(count=24, size_mm=3, place="lid"),)


def described(box: str, make: str) -> Fact:
    return BoxDescribed(box=box, litres=3, damp_share=0.5, vents=VENTS, make=make)


@pytest.fixture
def makes(book: Book, pen: Pen) -> Book:
    """Three boxes of one make that lose two grams a day, one just marked, one of another make."""
    for number in range(1, 5):
        write(book, [described(f"A0{number}", "Clear box")], pen=pen, happened="2026-08-01")
    write(book, [described("B01", "Blue box")], pen=pen, happened="2026-08-01")
    for number in range(1, 4):
        for day, grams in (("2026-10-02", 1500), ("2026-10-12", 1480), ("2026-10-22", 1460)):
            fact = Weighed(box=f"A0{number}", gross_g=grams)
            write(book, [fact], pen=pen, happened=day)
    for box in ("A04", "B01"):
        write(
            book, [Weighed(box=box, gross_g=1462, mark="just_right")], pen=pen,
            happened="2026-10-31",
        )  # fmt: skip
    return book


def test_a_box_without_weighings_of_its_own_learns_from_its_make(makes: Book) -> None:
    water = water_of(makes, "A04", on=ON)
    assert water.make_boxes == 3
    assert water.loss_middle_g_per_day == pytest.approx(2.0, rel=0.15)
    assert any("From 3 boxes of the same make" in one for one in water.said)
    other = water_of(makes, "B01", on=ON)
    assert other.make_boxes == 0
    assert other.factor is None


def test_what_is_weighed_later_is_heard_at_once(makes: Book, pen: Pen) -> None:
    before = water_of(makes, "A04", on=ON)
    write(makes, [described("B01", "clear  BOX")], pen=pen, happened="2026-10-01")
    write(makes, [Weighed(box="B01", gross_g=1440)], pen=pen, happened="2026-11-01")
    assert water_of(makes, "A04", on=ON).make_boxes >= before.make_boxes
    assert water_of(makes, "B01", on=ON).make_boxes == 3


def test_a_make_is_gathered_once_for_all_its_boxes(
    makes: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: list[str] = []
    gathered = water_shared._gathered

    def counted(*told: Any) -> Any:
        calls.append("")
        return gathered(*told)

    monkeypatch.setattr(water_shared, "_gathered", counted)
    for box in ("A01", "A02", "A03", "A04"):
        water_of(makes, box, on=ON)
    assert len(calls) == 1
