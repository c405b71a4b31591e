"""What is done once for a shelf, whatever stands on it: its thermometer is read."""

from datetime import date, timedelta

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.moments import last_day
from mancary.husbandry.order import in_order
from mancary.husbandry.register import Register
from mancary.usecases.zone import zone_of

EVERY_DAYS = 7
MINUTES = 0.15
"""Ours: the trade notes give a minute for a whole room with two thermometers."""


class ShelfTask(Struct, frozen=True, kw_only=True):
    """Highest and lowest since the last look, for one shelf."""

    shelf: str
    due: date
    last: str
    minutes: float
    why: str


def shelf_tasks(book: Book, register: Register, *, on: date) -> tuple[ShelfTask, ...]:
    """The shelves whose thermometer is to be read on an evening, in walking order.

    Weekly is common practice (from memory), daily in heat. A shelf that was never read is not asked
    about: not every shelf has a thermometer.
    """
    zone = zone_of(book)
    found = []
    readings: dict[str, str] = {}
    for entry in in_order(book.entries_of((ShelfRead.kind,)), zone):
        if isinstance(entry.fact, ShelfRead):
            readings[entry.fact.shelf] = entry.happened
    for shelf in sorted(register.shelves.values(), key=lambda one: one.turn):
        last = readings.get(shelf.code)
        if last is None:
            continue
        due = last_day(last, zone) + timedelta(days=EVERY_DAYS - 1)
        if due <= on:
            why = "weekly, daily in heat (common practice, from memory)"
            found.append(ShelfTask(shelf=shelf.code, due=due, last=last, minutes=MINUTES, why=why))
    return tuple(found)
