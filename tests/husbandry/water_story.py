"""Facts about one box A01 in the order of a story, for the tests of its water."""

from datetime import UTC, datetime, timedelta

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Amount, CareGiven, Fact, Weighed
from mancary.husbandry.moments import instant
from mancary.husbandry.states import Box
from mancary.husbandry.water import water_of_box
from mancary.husbandry.water_booked import Ledger, ledger_of
from mancary.husbandry.water_state import BoxWater, Explained

FIRST = datetime(2026, 9, 1, 18, 0, tzinfo=UTC)
BOX = Box("A01", first_told="2026-01-01", litres=3.0, damp_share=0.5, litter_cm=2.0)


def entry(number: int, days: float, fact: Fact, *, happened: str = "") -> Entry:
    at = happened or instant(FIRST + timedelta(days=days))
    typed = "2026-11-01T12:00:00.000Z"
    return Entry(id=f"{number:032x}", happened=at, typed=typed, fact=fact, number=number)


def weighed(grams: float, mark: str | None = None) -> Weighed:
    return Weighed(box="A01", gross_g=grams, mark=mark)  # type: ignore[arg-type]


def misted(low: float | None, high: float | None = None) -> CareGiven:
    amount = None if low is None else Amount(low=low, high=high, unit="mL")
    return CareGiven(box="A01", care="mist", amount=amount)


def told(*facts: tuple[float, Fact]) -> list[Entry]:
    return [entry(n, days, fact) for n, (days, fact) in enumerate(facts, start=1)]


def ledger(entries: list[Entry]) -> Ledger:
    return ledger_of(entries, "A01", UTC)


def water(entries: list[Entry], days: int, explained: Explained | None = None) -> BoxWater:
    on = (FIRST + timedelta(days=days)).date()
    return water_of_box(ledger_of(entries, "A01", UTC, until=on), BOX, on=on, explained=explained)


STEADY = told(
    (0, weighed(1462, "just_right")),
    (10, weighed(1442)),
    (10.001, misted(20)),
    (20, weighed(1442)),
    (20.001, misted(20)),
    (20.002, weighed(1462)),
    (-30, weighed(1432, "too_dry")),
    (-29.9, misted(90)),
)
"""Two grams a day, thirty grams from just right to too dry."""
