"""Which boxes left the temperatures their species is kept at, for how long, and what to do."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta, tzinfo
from typing import Final

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.how_well import how_well
from mancary.husbandry.out_of_range import Look, Spell, spells, worst_since
from mancary.husbandry.register import REGISTER_KINDS, Register
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Box
from mancary.usecases.round_shelves import temperature_range
from mancary.usecases.shelf_readings import CLIMATE_KINDS, ShelfReading, readings_at, readings_of
from mancary.usecases.species_names import species_name
from mancary.usecases.standings import register_of
from mancary.usecases.unchanged import Unchanged
from mancary.usecases.wants import walking_order
from mancary.usecases.zone import zone_of

WEEKS = 8
WHAT_TO_DO = {
    "hot": (
        tell(
            "Bring the box down to a cooler shelf or the floor, 3-5 °C cooler over hours"
            " and not at once, no ice on it; look at the damp end, take fresh food and"
            " protein out, and let air in where it is crowded or smells (common practice,"
            " from memory). Any mat needs a thermostat and belongs on the side, never"
            " below."
        )
    ),
    "cold": (
        tell(
            "A warmer place by 2-4 °C; cold for months is a common reason for no young"
            " (common practice, from memory). Any heater needs a thermostat and is tested"
            " first without animals."
        )
    ),
}
BASIS = tell(
    "A shelf's thermometer is not the inside of a box, and tells that a bound was"
    " passed between two looks, not for how long. Only looks since the colony came"
    " to its shelf count."
)


class BoxSpell(Struct, frozen=True, kw_only=True):
    """One spell of one box; ``kept_at`` is its species' range, with how well that is known.

    ``worst_c`` is the furthest reading of it within the weeks spoken of, ``past_c`` how far that
    lies beyond the bound, ``worst_on`` when it was read.
    """

    box: str
    shelf: str
    species: str
    kept_at: str
    spell: Spell
    worst_c: float
    past_c: float
    worst_on: date
    at_most_days: int | None
    what_to_do: str


class Warmth(Struct, frozen=True, kw_only=True):
    """The spells that reach into the last weeks: going on first, heat before cold, worst first."""

    on: date
    weeks: int
    spells: tuple[BoxSpell, ...]
    no_range: tuple[str, ...]
    never_read: tuple[str, ...]
    basis: str


def warmth(book: Book, *, on: date, weeks: int = WEEKS) -> Warmth:
    """What the shelves' readings say of every box with a colony, up to a day.

    ``no_range`` are boxes of which no range is known, ``never_read`` those on no shelf with a
    reading since they came there.
    """
    return _WARMTHS.get(book, (on, weeks), None, lambda: _warmth(book, on, weeks))


_WARMTHS: Final[Unchanged[None, Warmth]] = Unchanged(
    states=4, kinds=(*REGISTER_KINDS, *CLIMATE_KINDS)
)


def _warmth(book: Book, on: date, weeks: int) -> Warmth:
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    readings = readings_of(book, on=on, zone=zone)
    living = [box.code for box in register.boxes.values() if box.colony and not box.retired_on]
    found: list[BoxSpell] = []
    no_range, never_read = [], []
    since = on - timedelta(weeks=weeks)
    for code in walking_order(register, living):
        looks = _looks(register, register.boxes[code], readings)
        told = _spells_of(register, code, looks, since)
        if told is None:
            no_range.append(code)
        elif not looks:
            never_read.append(code)
        else:
            found += told
    found.sort(key=lambda one: (not one.spell.going_on, one.spell.too != "hot", -one.past_c))
    return Warmth(
        on=on,
        weeks=weeks,
        spells=tuple(found),
        no_range=tuple(no_range),
        never_read=tuple(never_read),
        basis=BASIS,
    )


def box_spells(
    book: Book, register: Register, code: str, *, on: date, zone: tzinfo, weeks: int = WEEKS
) -> tuple[BoxSpell, ...]:
    """The spells of one box that its shelf's last look still shows, heat first."""
    told = all_spells(book, register, code, on=on, zone=zone, weeks=weeks)
    going_on = [one for one in told if one.spell.going_on]
    return tuple(sorted(going_on, key=lambda one: one.spell.too != "hot"))


def all_spells(
    book: Book, register: Register, code: str, *, on: date, zone: tzinfo, weeks: int
) -> tuple[BoxSpell, ...]:
    """The spells of one box that reach into the last weeks, over or not."""
    box = register.boxes.get(code)
    if box is None or not box.colony or box.retired_on:
        return ()
    readings = {box.shelf: readings_at(book, box.shelf, on=on, zone=zone)}
    looks = _looks(register, box, readings)
    return tuple(_spells_of(register, code, looks, on - timedelta(weeks=weeks)) or ())


def _looks(
    register: Register, box: Box, readings: Mapping[str, Sequence[ShelfReading]]
) -> list[Look]:
    """The looks at the box's shelf since box and colony came there; turned ends are no look."""
    since = came_there(register, box)
    return [
        Look(
            day=one.last,
            lowest_c=one.fact.lowest_c,
            highest_c=one.fact.highest_c,
            instrument=one.fact.instrument or "",
        )
        for one in readings.get(box.shelf, ())
        if one.key >= since and one.fact.lowest_c <= one.fact.highest_c
    ]


def came_there(register: Register, box: Box) -> str:
    """The order key of the moment since which both box and colony have been on its shelf."""
    colony = register.colony_in(box.code)
    came = [key for _, key in (*box.stood[-1:], *(colony.stays[-1:] if colony else ()))]
    return max(came, default="")


def range_of(register: Register, code: str) -> tuple[float, float, str, str] | None:
    """Lowest and highest °C a box's species is kept at, in words, and its name; None if unknown."""
    line = register.line_in(code)
    name = species_name(register, line.species) if line else None
    figure = temperature_range(name.slug, name.care_group) if name else None
    if name is None or figure is None or figure.low is None or figure.high is None:
        return None
    return (
        figure.low,
        figure.high,
        tell("%(said)s, %(how_well)s", figure, how_well=how_well(figure)),
        name.name,
    )


def _spells_of(
    register: Register, code: str, looks: list[Look], since: date
) -> list[BoxSpell] | None:
    """The spells of a box that reach to ``since`` or later; None where no range is known."""
    known = range_of(register, code)
    if known is None:
        return None
    low_c, high_c, kept_at, species = known
    told = []
    for spell in spells(looks, low_c=low_c, high_c=high_c):
        if spell.last < since:
            continue
        day, worst, past = worst_since(looks, spell, since, low_c=low_c, high_c=high_c)
        told.append(
            BoxSpell(
                box=code,
                shelf=register.boxes[code].shelf,
                species=species,
                kept_at=kept_at,
                spell=spell,
                worst_c=worst,
                past_c=past,
                worst_on=day,
                at_most_days=spell.at_most_days,
                what_to_do=WHAT_TO_DO[spell.too],
            )
        )
    return told
