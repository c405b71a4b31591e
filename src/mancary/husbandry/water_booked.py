"""Weighings of one box, and what was added or taken between them: the keeper's balance of water."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, tzinfo
from functools import lru_cache
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
from mancary.husbandry.sentences import tell
from mancary.husbandry.words import said

_DAY_S: Final = 86400.0
_MIDDAY: Final = 0.5
EVENING: Final = 0.75
"""The round is walked in the evening: so much of its day is over by then."""

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
    box is just right, ``wet`` what of them counts as water. ``steps`` are water and wet solids in
    grams, low and high, each with its moment in days since 1970. ``unknown`` names what cannot be
    booked, ``breaks`` what changed the box itself, so that an earlier mark no longer holds.
    """

    water_low: float = 0.0
    water_high: float = 0.0
    solids_low: float = 0.0
    solids_high: float = 0.0
    lasting_low: float = 0.0
    lasting_high: float = 0.0
    wet_low: float = 0.0
    wet_high: float = 0.0
    steps: tuple[tuple[float, float, float], ...] = ()
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

    ``between[i]`` lies after ``weights[i]``; the last one reaches to the present. Days are those
    of ``zone``. ``paces[i]`` is how many times today's modelled loss the vents and the shelf of
    the days after ``weights[i]`` explained; None where those days cannot be compared with today.
    On the days ``changed`` the box was told anew, or came to another shelf.
    """

    weights: tuple[Weight, ...]
    between: tuple[Between, ...]
    zone: tzinfo = UTC
    paces: tuple[float | None, ...] = ()
    changed: tuple[date, ...] = ()

    def evening(self, day: date) -> float:
        """The evening of a day, when the round is walked, in days since 1970."""
        return day_number(day, self.zone) + EVENING


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
            added = _added(between[-1], fact, box, first_day(entry.happened, zone))
            if any(added):
                at = _at(entry.happened, first_day(entry.happened, zone), zone)
                between[-1].steps += ((max(weights[-1].at, at), *added),)
    return Ledger(tuple(weights), tuple(between), zone)


@lru_cache(maxsize=4096)
def day_number(day: date, zone: tzinfo) -> float:
    """A day's first moment in the keeper's zone, in days since 1970 (UTC)."""
    return datetime(day.year, day.month, day.day, tzinfo=zone).timestamp() / _DAY_S


def _at(happened: Moment, day: date, zone: tzinfo) -> float:
    """Days since 1970; the midday of a day whose hour is not told."""
    if is_exact(happened):
        return read_instant(happened).timestamp() / _DAY_S
    return day_number(day, zone) + _MIDDAY


def _added(between: Between, fact: Fact, box: str, day: date) -> tuple[float, float]:
    """Books a fact; the water and wet solids that came in by it, low and high."""
    low, high = between.water_low + between.wet_low, between.water_high + between.wet_high
    _book(between, fact, box, day)
    return (
        between.water_low + between.wet_low - low,
        between.water_high + between.wet_high - high,
    )


def _weight(happened: Moment, fact: Weighed, zone: tzinfo) -> Weight:
    day, at_sd = first_day(happened, zone), 0.0 if is_exact(happened) else _DAY_SD
    return Weight(_at(happened, day, zone), at_sd, happened, day, fact.gross_g, fact.mark or "")


def _book(between: Between, fact: Fact, box: str, day: date) -> None:
    match fact:
        case CareGiven():
            _book_care(between, fact, day)
        case Taken(animals=animals):
            _book_animals(between, animals, animals, day)
        case Split() if fact.box == box:
            _book_animals(between, fact.taken_low, fact.taken_high, day)
        case Split() | Founded() | Moved() | Joined():
            between.breaks += (tell("animals moved on %(day)s", day=day),)


def _book_animals(between: Between, low: int | None, high: int | None, day: date) -> None:
    most = high if high is not None else low
    if most is None or most * _ANIMAL_G[1] > _ANIMALS_MOST_G:
        between.breaks += (tell("animals moved on %(day)s", day=day),)
        return
    _add(between, (-most * _ANIMAL_G[1], -(low or 0) * _ANIMAL_G[0]), lasting=True)
    between.assumed += (
        tell(
            "animals taken weigh %(animal_g)g-%(animal_g2)g g each",
            animal_g=_ANIMAL_G[0],
            animal_g2=_ANIMAL_G[1],
        ),
    )


def _book_care(between: Between, fact: CareGiven, day: date) -> None:
    care, grams = fact.care, _grams(fact.amount)
    if care == "mist":
        _book_water(between, fact.amount, day)
    elif care in _TURNED or (care in _FLOOR and grams is None):
        between.breaks += (tell("%(care)s on %(day)s", care=said(care), day=day),)
    elif care in _FLOOR and grams:
        _add(between, grams, lasting=True)
    elif care == "leftovers_out":
        out = (-grams[1], -grams[0]) if grams else (-_LEFTOVERS_G, 0.0)
        _add(between, out)
        between.wet_low += out[0]
        between.wet_high += out[1]
        if not grams:
            between.assumed += (
                tell("leftovers taken out weigh 0-%(leftovers_g)g g", leftovers_g=_LEFTOVERS_G),
            )
    elif care in _FOOD:
        _book_food(between, care, grams)


def _book_food(between: Between, care: str, told: tuple[float, float] | None) -> None:
    most, stays = _FOOD[care]
    low, high = told or (0.0, most)
    _add(between, (low, high))
    between.lasting_high += stays * high
    between.wet_low += low * (1 - stays)
    between.wet_high += high
    if not told:
        between.assumed += (tell("%(care)s weighs 0-%(most)g g", care=said(care), most=most),)


def _add(between: Between, grams: tuple[float, float], *, lasting: bool = False) -> None:
    between.solids_low += grams[0]
    between.solids_high += grams[1]
    if lasting:
        between.lasting_low += grams[0]
        between.lasting_high += grams[1]


def _book_water(between: Between, amount: Amount | None, day: date) -> None:
    if amount is None or amount.unit not in WATER:
        between.unknown += (tell("misting on %(day)s without an amount in mL", day=day),)
        return
    factor = WATER[amount.unit]
    between.water_low += amount.low * factor
    between.water_high += (amount.low if amount.high is None else amount.high) * factor


def _grams(amount: Amount | None) -> tuple[float, float] | None:
    if amount is None or amount.unit != "g":
        return None
    return amount.low, amount.low if amount.high is None else amount.high
