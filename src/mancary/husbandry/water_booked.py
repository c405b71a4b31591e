"""Weighings of one box, and what was added or taken between them: the keeper's balance of water."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, tzinfo
from typing import Final

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    Amount,
    CareGiven,
    Fact,
    Founded,
    Joined,
    Moved,
    Split,
    Taken,
    Weighed,
)
from mancary.husbandry.moments import Moment, first_day, is_exact, last_day, read_instant
from mancary.husbandry.order import keyed
from mancary.husbandry.words import said

_DAY_S: Final = 86400.0
_MIDDAY: Final = 0.5
_DAY_SD: Final = 0.29
"""Days: an hour that is not told lies anywhere in its day (1/sqrt(12) of it)."""

WATER: Final = {"mL": 1.0, "g": 1.0, "L": 1000.0}
"""Grams of water in one unit; 1 mL is 1 g to 0.3 % at room temperature."""

_FOOD: Final = {
    "vegetable": (10.0, 0.1), "protein": (2.0, 0.5), "algae": (1.0, 0.5), "calcium": (2.0, 1.0),
    "minerals": (1.0, 1.0), "springtails": (5.0, 0.5),
}  # fmt: skip
"""Ours: the most grams of such a meal in one box where they are not told, and the most of it that
is still there as solids after weeks; a vegetable is nine tenths water."""

_LEFTOVERS_G: Final = 5.0
"""Ours: the most that old food taken out weighs."""

_FLOOR: Final = frozenset({"leaf_litter", "wood"})
_TURNED: Final = frozenset({"substrate_half", "substrate_whole"})

_ANIMAL_G: Final = (0.002, 0.5)
"""Grams of one animal, from a dwarf to a large Porcellio (from memory, no source)."""

_ANIMALS_MOST_G: Final = 5.0
"""Ours: animals whose weight is less sure than this break the series."""


@dataclass(frozen=True, slots=True)
class Weight:
    """One weighing: ``at`` in days since 1970 (UTC), ``at_sd`` how unsure, ``mark`` or empty.

    ``day`` is that of the keeper's zone.
    """

    at: float
    at_sd: float
    happened: Moment
    day: date
    gross_g: float
    mark: str


@dataclass(slots=True)
class Between:
    """What came into the box and left it after one weighing and before the next, in grams.

    Water and solids are ranges; ``lasting`` is what of the solids shifts the weight at which the
    box is just right. ``unknown`` names what cannot be booked, ``breaks`` what changed the box
    itself, so that an earlier mark no longer holds.
    """

    water_low: float = 0.0
    water_high: float = 0.0
    solids_low: float = 0.0
    solids_high: float = 0.0
    lasting_low: float = 0.0
    lasting_high: float = 0.0
    unknown: tuple[str, ...] = ()
    breaks: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()

    @property
    def is_booked(self) -> bool:
        """True where all that was added or taken is known, at least as a range."""
        return not self.unknown and not self.breaks


@dataclass(frozen=True, slots=True)
class Ledger:
    """Weighings in the order in which they happened, each with what followed it.

    ``between[i]`` lies after ``weights[i]``; the last one reaches to the present.
    """

    weights: tuple[Weight, ...]
    between: tuple[Between, ...]


def ledger_of(
    entries: Iterable[Entry], box: str, zone: tzinfo, *, until: date | None = None
) -> Ledger:
    """The balance of one box from all entries about it, withdrawn ones left out.

    A weighing known only to the month has no place in a rate and is left out.
    """
    weights: list[Weight] = []
    between: list[Between] = []
    for _, _, entry in keyed(entries, zone):
        if until and first_day(entry.happened, zone) > until:
            continue
        fact = entry.fact
        if isinstance(fact, Weighed):
            if fact.box == box and first_day(entry.happened, zone) == last_day(
                entry.happened, zone
            ):
                weights.append(_weight(entry.happened, fact, zone))
                between.append(Between())
        elif between:
            _book(between[-1], fact, box, first_day(entry.happened, zone))
    return Ledger(tuple(weights), tuple(between))


def day_number(day: date) -> float:
    """A day's first moment in days since 1970."""
    return datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp() / _DAY_S


def _weight(happened: Moment, fact: Weighed, zone: tzinfo) -> Weight:
    if is_exact(happened):
        at, at_sd = read_instant(happened).timestamp() / _DAY_S, 0.0
    else:
        at, at_sd = day_number(date.fromisoformat(happened)) + _MIDDAY, _DAY_SD
    day = first_day(happened, zone)
    return Weight(at, at_sd, happened, day, fact.gross_g, fact.mark or "")


def _book(between: Between, fact: Fact, box: str, day: date) -> None:
    match fact:
        case CareGiven():
            _book_care(between, fact, day)
        case Taken(animals=animals):
            _book_animals(between, animals, animals, day)
        case Split() if fact.box == box:
            _book_animals(between, fact.taken_low, fact.taken_high, day)
        case Split() | Founded() | Moved() | Joined():
            between.breaks += (f"animals moved on {day}",)


def _book_animals(between: Between, low: int | None, high: int | None, day: date) -> None:
    most = high if high is not None else low
    if most is None or most * _ANIMAL_G[1] > _ANIMALS_MOST_G:
        between.breaks += (f"animals moved on {day}",)
        return
    _add(between, (-most * _ANIMAL_G[1], -(low or 0) * _ANIMAL_G[0]), lasting=True)
    between.assumed += (f"animals taken weigh {_ANIMAL_G[0]:g}-{_ANIMAL_G[1]:g} g each",)


def _book_care(between: Between, fact: CareGiven, day: date) -> None:
    care, grams = fact.care, _grams(fact.amount)
    if care == "mist":
        _book_water(between, fact.amount, day)
    elif care in _TURNED or (care in _FLOOR and grams is None):
        between.breaks += (f"{said(care)} on {day}",)
    elif care in _FLOOR and grams:
        _add(between, grams, lasting=True)
    elif care == "leftovers_out":
        _add(between, (-grams[1], -grams[0]) if grams else (-_LEFTOVERS_G, 0.0))
        if not grams:
            between.assumed += (f"leftovers taken out weigh 0-{_LEFTOVERS_G:g} g",)
    elif care in _FOOD:
        _book_food(between, care, grams)


def _book_food(between: Between, care: str, told: tuple[float, float] | None) -> None:
    most, stays = _FOOD[care]
    _add(between, told or (0.0, most))
    between.lasting_high += stays * (told[1] if told else most)
    if not told:
        between.assumed += (f"{said(care)} weighs 0-{most:g} g",)


def _add(between: Between, grams: tuple[float, float], *, lasting: bool = False) -> None:
    between.solids_low += grams[0]
    between.solids_high += grams[1]
    if lasting:
        between.lasting_low += grams[0]
        between.lasting_high += grams[1]


def _book_water(between: Between, amount: Amount | None, day: date) -> None:
    if amount is None or amount.unit not in WATER:
        between.unknown += (f"misting on {day} without an amount in mL",)
        return
    factor = WATER[amount.unit]
    between.water_low += amount.low * factor
    between.water_high += (amount.low if amount.high is None else amount.high) * factor


def _grams(amount: Amount | None) -> tuple[float, float] | None:
    if amount is None or amount.unit != "g":
        return None
    return amount.low, amount.low if amount.high is None else amount.high
