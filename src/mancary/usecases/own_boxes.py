"""What the keeper's own boxes say about a species."""

from collections.abc import Iterable, Iterator
from datetime import tzinfo
from typing import Final

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import natural
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, Counted, SeenInBox, ShelfRead
from mancary.husbandry.moments import Moment, first_day, last_day
from mancary.husbandry.order import keyed
from mancary.husbandry.register import Register
from mancary.husbandry.standing import CountedLast
from mancary.husbandry.states import Colony
from mancary.usecases.shelf_readings import CLIMATE_KINDS
from mancary.usecases.standings import register_of, standing_of
from mancary.usecases.unchanged import Unchanged
from mancary.usecases.zone import zone_of

_DAYS_A_MONTH = 30.44
_READINGS: Final[Unchanged[str, list[tuple[str, ShelfRead]]]] = Unchanged(
    states=4, kinds=CLIMATE_KINDS
)


class OwnColony(Struct, frozen=True, kw_only=True):
    """One colony of the species in the keeper's room.

    ``months_to_young_low`` to ``..._high`` is the wait from founding to the first young seen, a
    range where a date is not known to the day; None where no young were written down.
    """

    box: str
    line: str
    morph: str
    founded: Moment
    ended: Moment | None
    cause: str
    first_young: Moment | None
    months_to_young_low: float | None
    months_to_young_high: float | None
    counted: CountedLast | None
    dead: int
    lowest_c: float | None
    highest_c: float | None


def own_colonies(book: Book, species: Iterable[str]) -> tuple[OwnColony, ...]:
    """The colonies of the given pages, living and ended, by box."""
    zone = zone_of(book)
    register = register_of(book, zone)
    wanted = set(species)
    found = [
        colony
        for colony in register.colonies.values()
        if colony.line in register.lines and register.lines[colony.line].species in wanted
    ]
    found.sort(key=lambda colony: natural(colony.code))
    return tuple(_own(book, register, colony, zone) for colony in found)


def _own(book: Book, register: Register, colony: Colony, zone: tzinfo) -> OwnColony:
    lived = _life(book, colony, zone)
    young = next((e.happened for e in lived if _saw(e, "young_seen")), None)
    soonest, longest = _months(colony.founded, young, zone) if young else (None, None)
    if not _watched_from_the_start(colony, lived, zone):
        soonest = None
    low, high = _temperatures(book, register, colony, zone)
    line = register.lines[colony.line]
    return OwnColony(
        box=colony.box,
        line=line.slug,
        morph=line.morph,
        founded=colony.founded,
        ended=colony.ended,
        cause=colony.cause,
        first_young=young,
        months_to_young_low=soonest,
        months_to_young_high=longest,
        counted=None if colony.ended else standing_of(book, colony.box, zone).counted,
        dead=sum(_dead(entry) for entry in lived),
        lowest_c=low,
        highest_c=high,
    )


def _spans(places: list[tuple[str, str]], end: str) -> Iterator[tuple[str, str, str]]:
    """Each place with the order keys between which it held."""
    for (place, came), (_, left) in zip(places, [*places[1:], ("", end)], strict=False):
        yield place, came, left


def _end(colony: Colony) -> str:
    return colony.ended_key or "~"


def _life(book: Book, colony: Colony, zone: tzinfo) -> list[Entry]:
    """What was written of the boxes while the colony lived in them, in the order of happening."""
    return [
        entry
        for box, came, left in _spans(colony.stays, _end(colony))
        for key, _, entry in keyed(book.entries_about(f"box:{box}"), zone)
        if came <= key <= left
    ]


_WATCHED_WITHIN_DAYS = 45
"""Ours: a colony first written about later than this may have had young before."""


def _watched_from_the_start(colony: Colony, lived: list[Entry], zone: tzinfo) -> bool:
    notes = (e for e in lived if isinstance(e.fact, SeenInBox | CareGiven | Counted))
    first = next((last_day(entry.happened, zone) for entry in notes), None)
    return (
        first is not None and (first - first_day(colony.founded, zone)).days <= _WATCHED_WITHIN_DAYS
    )


def _saw(entry: Entry, word: str) -> bool:
    return isinstance(entry.fact, SeenInBox) and entry.fact.word == word


def _dead(entry: Entry) -> int:
    if isinstance(entry.fact, SeenInBox) and entry.fact.word == "dead":
        return 1 if entry.fact.animals is None else entry.fact.animals
    return 0


def _months(founded: Moment, young: Moment, zone: tzinfo) -> tuple[float, float]:
    low = (first_day(young, zone) - last_day(founded, zone)).days / _DAYS_A_MONTH
    high = (last_day(young, zone) - first_day(founded, zone)).days / _DAYS_A_MONTH
    return round(max(0.0, low), 1), round(max(0.0, high), 1)


def _temperatures(
    book: Book, register: Register, colony: Colony, zone: tzinfo
) -> tuple[float | None, float | None]:
    readings = [
        fact
        for box, came, left in _spans(colony.stays, _end(colony))
        if box in register.boxes
        for shelf, stood, gone in _spans(register.boxes[box].stood, "~")
        for key, fact in _read_on(book, shelf, zone)
        if max(came, stood) <= key <= min(left, gone)
    ]
    if not readings:
        return None, None
    return min(r.lowest_c for r in readings), max(r.highest_c for r in readings)


def _read_on(book: Book, shelf: str, zone: tzinfo) -> list[tuple[str, ShelfRead]]:
    """A shelf's readings with their order keys, read once while the book stays as it is."""
    return _READINGS.get(book, zone, shelf, lambda: _read(book, shelf, zone))


def _read(book: Book, shelf: str, zone: tzinfo) -> list[tuple[str, ShelfRead]]:
    return [
        (key, entry.fact)
        for key, _, entry in keyed(book.entries_about(f"shelf:{shelf}"), zone)
        if isinstance(entry.fact, ShelfRead)
    ]
