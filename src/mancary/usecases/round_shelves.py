"""What is done once for a shelf, whatever stands on it: its thermometer is read."""

from datetime import date, timedelta
from functools import lru_cache

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.how_well import how_well
from mancary.husbandry.register import Register
from mancary.husbandry.sentences import tell
from mancary.usecases.shelf_readings import readings_of
from mancary.usecases.species_names import species_name
from mancary.usecases.zone import zone_of

EVERY_DAYS = 7
IN_HEAT_DAYS = 1
MINUTES = 0.15
"""Ours: the trade notes give a minute for a whole room with two thermometers."""

HOT_C = 28.0
"""Above it the eggs of the springtail Folsomia candida fail (Fountain & Hopkin 2005, published,
seen second-hand); that a shelf so warm is looked at every day whoever lives there is ours.
"""

_WEEKLY = tell("weekly, daily in heat (common practice, from memory)")
_DAILY = tell("daily in heat (common practice, from memory)")


class ShelfTask(Struct, frozen=True, kw_only=True):
    """Highest and lowest since the last look, for one shelf."""

    shelf: str
    due: date
    last: str
    minutes: float
    why: str


def shelf_tasks(book: Book, register: Register, *, on: date) -> tuple[ShelfTask, ...]:
    """The shelves whose thermometer is to be read on an evening, in walking order.

    Weekly is common practice (from memory), daily in heat: while the last reading's highest is
    above the range of a species on the shelf, or above ``HOT_C``. A shelf that was never read is
    not asked about: not every shelf has a thermometer.
    """
    zone = zone_of(book)
    found = []
    readings = readings_of(book, on=on, zone=zone)
    homes = _homes(register) if readings else {}
    for shelf in sorted(register.shelves.values(), key=lambda one: one.turn):
        if shelf.code not in readings:
            continue
        newest = readings[shelf.code][-1]
        heat = _heat(register, homes.get(shelf.code, set()), newest.fact.highest_c)
        due = newest.last + timedelta(days=IN_HEAT_DAYS if heat else EVERY_DAYS - 1)
        if due <= on:
            found.append(
                ShelfTask(
                    shelf=shelf.code,
                    due=due,
                    last=newest.happened,
                    minutes=MINUTES,
                    why=heat or _WEEKLY,
                )
            )
    return tuple(found)


def _heat(register: Register, species: set[str], highest_c: float) -> str:
    """Why a shelf counts as hot; empty where it does not."""
    least: tuple[float, str] | None = None
    for slug in sorted(species):
        name, figure = _range(register, slug)
        if figure and figure.high is not None and (least is None or figure.high < least[0]):
            least = (
                figure.high,
                tell(
                    "%(said)s of %(name)s (%(how_well)s)",
                    figure,
                    name=name,
                    how_well=how_well(figure),
                ),
            )
    if least and highest_c > least[0]:
        return tell(
            "%(highest_c)g °C at the last look, above the %(least)s: %(daily)s",
            highest_c=highest_c,
            least=least[1],
            daily=_DAILY,
        )
    if highest_c > HOT_C:
        return tell(
            "%(highest_c)g °C at the last look, above %(hot_c)g °C: %(daily)s",
            highest_c=highest_c,
            hot_c=HOT_C,
            daily=_DAILY,
        )
    return ""


def _homes(register: Register) -> dict[str, set[str]]:
    """The species that live on each shelf."""
    found: dict[str, set[str]] = {}
    for box in register.boxes.values():
        if box.shelf and (line := register.line_in(box.code)):
            found.setdefault(box.shelf, set()).add(line.species)
    return found


def _range(register: Register, slug: str) -> tuple[str, handbook.Figure | None]:
    """The name of a species and the temperatures it is kept at, of its page or its care group."""
    name = species_name(register, slug)
    return name.name, temperature_range(name.slug, name.care_group)


@lru_cache(maxsize=1024)
def temperature_range(slug: str, care_group: str) -> handbook.Figure | None:
    """The temperatures a species is kept at: of its page, else of its care group, else None."""
    known: dict[str, handbook.Figure] = {}
    if slug in handbook.species_slugs():
        known = handbook.figures(slug)
    elif care_group in {group.slug for group in handbook.groups()}:
        known = handbook.group_figures(care_group)
    return known.get("temperature_c")
