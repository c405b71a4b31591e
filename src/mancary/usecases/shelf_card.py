"""One shelf: where it is, what stands on it, and what its instruments told."""

from collections import defaultdict
from datetime import date
from typing import Literal, cast

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.facts.places import Air
from mancary.husbandry.moments import clock_said
from mancary.husbandry.telling import told
from mancary.usecases.colony_work import known_shelf
from mancary.usecases.shelf_readings import readings_at
from mancary.usecases.standings import register_of
from mancary.usecases.warmth import box_spells
from mancary.usecases.zone import zone_of

SHOWN = 20


class LookTold(Struct, frozen=True, kw_only=True):
    """One reading in words, and when it was by the keeper's clock."""

    happened: str
    words: str


class Left(Struct, frozen=True, kw_only=True):
    """The boxes for which the shelf was too hot or too cold at its last look."""

    too: str
    boxes: tuple[str, ...]


class ShelfCard(Struct, frozen=True, kw_only=True):
    """All there is to say of one shelf; the newest readings first."""

    shelf: str
    room: str
    turn: int
    level: int | None
    air: Air | Literal[""]
    boxes: tuple[str, ...]
    left: tuple[Left, ...]
    readings: tuple[LookTold, ...]
    readings_in_all: int


def shelf_card(book: Book, typed: str, *, on: date, most: int = SHOWN) -> ShelfCard:
    """The shelf as it is on a day, with its ``most`` newest readings.

    Raises:
        UnknownSubject: when there is no such shelf.
    """
    code, zone = known_shelf(book, typed), zone_of(book)
    register = register_of(book, zone, until=on)
    shelf = register.shelves.get(code)
    here = [one for one in register.boxes.values() if one.shelf == code and not one.retired_on]
    here.sort(key=lambda one: (one.position or 0, one.code))
    left = defaultdict(list)
    for box in here:
        for spell in box_spells(book, register, box.code, on=on, zone=zone):
            left[spell.spell.too].append(box.code)
    readings = readings_at(book, code, on=on, zone=zone)
    return ShelfCard(
        shelf=code,
        room=shelf.room if shelf else "",
        turn=shelf.turn if shelf else 0,
        level=shelf.level if shelf else None,
        air=cast("Air", shelf.air) if shelf and shelf.air else "",
        boxes=tuple(one.code for one in here),
        left=tuple(Left(too=too, boxes=tuple(boxes)) for too, boxes in left.items()),
        readings=tuple(
            LookTold(happened=clock_said(one.happened, zone), words=told(one.fact))
            for one in readings[::-1][:most]
        ),
        readings_in_all=len(readings),
    )
