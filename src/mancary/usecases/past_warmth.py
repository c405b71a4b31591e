"""How warm a colony stood through its life, week by week, as the readings of its shelves tell."""

from datetime import date, timedelta
from typing import Final

from mancary.book import Book
from mancary.husbandry.colony_past import WEEK
from mancary.usecases.beliefs import Believed, Room
from mancary.usecases.shelf_readings import middle_c, readings_at

NEAR: Final = timedelta(days=30)
"""Ours: a reading tells of a month about it."""

Read = tuple[date, float]


def weekly_c(book: Book, room: Room, one: Believed) -> tuple[float, ...]:
    """°C of each week from the colony's beginning to the day.

    Readings within a month of the week on the shelf where its box stood then; where there are none
    those of the week before hold, and before the first ones the warmth of now.
    """
    past, now = one.past, one.pace.temp_c
    shelves: dict[str, list[Read]] = {}
    told: list[float] = []
    for week in range(past.week_of(room.on)):
        day = past.since + timedelta(days=WEEK * week + WEEK // 2)
        box, shelf = _stood(room, one, day)
        if shelf not in shelves:
            shelves[shelf] = _read(book, room, shelf)
        near = [c for on, c in shelves[shelf] if abs(on - day) <= NEAR]
        warmer = room.register.boxes[box].warmer_c or 0.0 if box in room.register.boxes else 0.0
        mean = sum(near) / len(near) + warmer if near else (told[-1] if told else now)
        told.append(min(max(mean, 0.0), 45.0))
    return tuple(told)


def _stood(room: Room, one: Believed, day: date) -> tuple[str, str]:
    """The box the colony lived in on a day and the shelf it stood on, "" where nobody told."""
    until = f"{day.isoformat()}~"
    boxes = [box for box, came in one.colony.stays if came <= until] or [one.box.code]
    box = room.register.boxes.get(boxes[-1])
    if box is None:
        return boxes[-1], ""
    stood = [shelf for shelf, came in box.stood if came <= until]
    return box.code, stood[-1] if stood else box.shelf


def _read(book: Book, room: Room, shelf: str) -> list[Read]:
    found = readings_at(book, shelf, on=room.on, zone=room.zone)
    return [(one.last, middle_c(one.fact)) for one in found]
