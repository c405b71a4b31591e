"""Plays sixty weeks of the invented room through the book."""

import math
import random
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Final

from msgspec import Struct

from mancary.book import Book
from mancary.demo.colony import Pretend, begin
from mancary.demo.evening import box_facts
from mancary.demo.events import (
    HOLIDAY,
    WEEKS,
    batches,
    box_events,
    sack_of,
    shelf_temperature,
)
from mancary.demo.room import NEW, ROOM, SPARE, Place, boxes, places, shelves
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    BoxDescribed,
    CareGiven,
    Fact,
    Quarantined,
    QuarantineEnded,
    RoomNamed,
    SeenInBox,
    ShelfPlaced,
    ShelfRead,
    Shelved,
    Vent,
)
from mancary.husbandry.moments import on_day
from mancary.usecases import colony_work
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen
from mancary.usecases.record import correct, withdraw, write, write_entries

NAME: Final = "The bug room of the Fernhollow Field Centre"
NOTE: Final = "Invented for demonstration: no such room, no such animals, no such year."
ZONE: Final = "Europe/Stockholm"
SEED: Final = 96
_NEW_IN_WEEK: Final = 54
_FIRST_EVENING, _SECOND_EVENING = 0, 4


class Made(Struct, frozen=True, kw_only=True):
    """What was made: the book, how many facts and boxes, and the day it calls today."""

    book: str
    facts: int
    boxes: int
    on: date


class _Clock:
    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now


def make_demo(path: Path, *, on: date) -> Made:
    """The demonstration book at ``path``; the same for the same day.

    Raises:
        BookTrouble: when something stands at ``path`` or it cannot be written.
    """
    chance = random.Random(SEED)  # noqa: S311  repeatable on purpose
    first = on - timedelta(weeks=WEEKS)
    clock = _Clock(_evening(first - timedelta(days=1)))
    pen = Pen(clock=clock, chance=chance.randbytes)
    with open_new(path, name=NAME, zone=ZONE, pen=pen, invented=True, note=NOTE) as book:
        homes = places(chance)
        _set_up(book, homes, pen, first)
        colonies = [begin(place, chance) for place in homes if place.box != NEW]
        for week in range(WEEKS):
            _week(book, week, first, colonies, homes, clock, pen, chance)
        _slips(book, pen)
        return Made(book=str(path), facts=book.head().count, boxes=len(list(boxes())), on=on)


def _evening(day: date) -> datetime:
    return datetime.combine(day, time(18, 30), tzinfo=UTC)


def _set_up(book: Book, homes: list[Place], pen: Pen, first: date) -> None:
    facts: list[Fact] = [RoomNamed(room=ROOM, note="ground floor, north side")]
    facts += [
        ShelfPlaced(shelf=shelf, room=ROOM, turn=turn, level=level)
        for shelf, turn, level in shelves()
    ]
    described = {place.box: _described(place) for place in homes}
    for box, shelf, position in boxes():
        facts += [described.get(box) or BoxDescribed(box=box, litres=5.5, note="spare")]
        facts += [Shelved(box=box, shelf=shelf, position=position)]
    write(book, facts, pen=pen, happened=on_day(first - timedelta(days=1)))
    for place in homes:
        if place.box != NEW:
            founded = on_day(first - timedelta(weeks=place.weeks))
            _found(book, place, pen, founded)


def _described(place: Place) -> BoxDescribed:
    count, size_mm = place.holes
    return BoxDescribed(
        box=place.box,
        litres=place.litres,
        vents=(Vent(count=count, size_mm=size_mm, place="lid"),),
        damp_share=place.damp_share,
    )


def _found(book: Book, place: Place, pen: Pen, founded: str) -> None:
    colony_work.found(
        book,
        place.box,
        place.species,
        as_bought=place.name,
        pen=pen,
        source="swap table, Fernhollow open day",
        founders=(place.founders, place.founders),
        happened=founded,
    )


def _week(
    book: Book,
    week: int,
    first: date,
    colonies: list[Pretend],
    homes: list[Place],
    clock: _Clock,
    pen: Pen,
    chance: random.Random,
) -> None:
    start = first + timedelta(weeks=week)
    for colony in colonies:
        colony.week(chance)
    if week == _NEW_IN_WEEK:
        _new_arrival(book, homes, colonies, clock, pen, start, chance)
    for evening in (_FIRST_EVENING, _SECOND_EVENING):
        day = start + timedelta(days=evening)
        if week in HOLIDAY and not (week == HOLIDAY[0] and evening == _FIRST_EVENING):
            continue
        clock.now = _evening(day)
        told: list[Entry] = []
        if evening == _SECOND_EVENING:
            told += [pen.entry(fact) for fact in _weekly(week, day, chance)]
        for colony in colonies:
            clock.now += timedelta(seconds=chance.randint(20, 70))
            facts = list(box_facts(colony, week * 7 + evening, sack_of(week), chance))
            if evening == _SECOND_EVENING:
                facts += box_events(colony, week, chance)
            told += [pen.entry(fact) for fact in facts]
        write_entries(book, told, pen=pen)
    if week == 20:
        _step_up(book, colonies, clock, pen)


def _weekly(week: int, day: date, chance: random.Random) -> list[Fact]:
    season = math.sin(2 * math.pi * (day.timetuple().tm_yday - 105) / 365)
    facts: list[Fact] = []
    for shelf, _, level in shelves():
        low, high = shelf_temperature(level, shelf, week, season, chance)
        facts.append(ShelfRead(shelf=shelf, lowest_c=low, highest_c=high))
    facts += batches(week)
    if week == WEEKS - 1:
        facts.append(QuarantineEnded(box=NEW, note="five weeks, no losses, no strangers"))
    return facts


def _new_arrival(
    book: Book,
    homes: list[Place],
    colonies: list[Pretend],
    clock: _Clock,
    pen: Pen,
    start: date,
    chance: random.Random,
) -> None:
    clock.now = _evening(start)
    (place,) = (home for home in homes if home.box == NEW)
    _found(book, place, pen, on_day(start))
    until = on_day(start + timedelta(weeks=5))
    write(book, [Quarantined(box=NEW, why="new", until=until)], pen=pen)
    colonies.append(begin(place, chance))


def _step_up(book: Book, colonies: list[Pretend], clock: _Clock, pen: Pen) -> None:
    crowded = max(colonies, key=lambda colony: colony.animals / colony.place.litres)
    clock.now += timedelta(minutes=15)
    colony_work.split(
        book, crowded.box, SPARE[0], taken=20, why="a backup, at first surplus", pen=pen
    )
    colony_work.take(book, crowded.box, animals=12, to="swap at the spring fair", pen=pen)


def _slips(book: Book, pen: Pen) -> None:
    """Two mistakes, mended as a keeper mends them."""
    wrong = write(book, [SeenInBox(box="A03", word="mites")], pen=pen).entries[0]
    withdraw(book, wrong.id, why="springtails, seen with the lens", pen=pen)
    wrong = write(book, [CareGiven(box="A04", care="protein")], pen=pen).entries[0]
    better = CareGiven(box="A04", care="vegetable", what="carrot")
    correct(book, wrong.id, better, why="wrong word", pen=pen)
