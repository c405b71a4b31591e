"""Before an absence: chances, visits, and what has no model."""

from datetime import date, timedelta

import pytest

from mancary.book import Book
from mancary.husbandry.absence import RISK
from mancary.husbandry.facts import CareGiven, Vent
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
