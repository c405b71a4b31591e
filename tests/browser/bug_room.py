"""The bug room of the Fernhollow Field Centre: 96 invented boxes over a year, seeded.

Invented for tests and pictures; no number of it is a check value.
"""

import random
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    Amount,
    BoxDescribed,
    CareGiven,
    Counted,
    Fact,
    Founded,
    LineNamed,
    Quarantined,
    RoomNamed,
    SeenInBox,
    ShelfPlaced,
    ShelfRead,
    Shelved,
    Vent,
)
from mancary.husbandry.moments import Moment, instant, on_day
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write, write_entries

TODAY = date(2026, 11, 25)
EVENING = datetime(2026, 11, 25, 18, 30, tzinfo=UTC)
DAYS = 365
_EVERY = {"mist": 6, "vegetable": 7, "protein": 6, "algae": 14, "leaf_litter": 29, "calcium": 29,
          "minerals": 58, "springtail_check": 27, "wood": 60, "look": 6}  # fmt: skip
_SIZES = {
    1.5: (20, 13, 8),
    3.0: (24, 17, 10),
    5.5: (33, 20, 12),
    8.0: (36, 24, 14),
    12.0: (40, 28, 16),
}


def evening_pen(seed: int = 8) -> Pen:
    """A pen that always writes at half past six on the day the pages are for."""
    return Pen(clock=lambda: EVENING, chance=random.Random(seed).randbytes)


def make_room(path: Path, *, boxes: int = 96, days: int = DAYS, seed: int = 8) -> Path:
    """Writes the book and closes it."""
    pen, chance = evening_pen(seed), random.Random(seed)
    with open_new(
        path, name="Fernhollow bug room", zone="Europe/London", pen=pen, invented=True
    ) as book:
        write(book, [RoomNamed(room="BUG ROOM"), *_shelves()], pen=pen, happened="2024-10-01")
        read = ShelfRead(shelf="A1", lowest_c=18.5, highest_c=24.0)
        write(book, [read], pen=pen, happened="2026-11-18")
        entries: list[Entry] = []
        for number, (code, shelf, place) in zip(range(boxes), _places(), strict=False):
            entries += _founding(pen, chance, number, code, shelf, place)
            entries += _year(pen, chance, number, code, days)
        write_entries(book, sorted(entries, key=lambda entry: entry.happened), pen=pen)
        _mistake(book, pen)
    return path


def _mistake(book: Book, pen: Pen) -> None:
    receipt = write(
        book, [SeenInBox(box="A01", word="dead", animals=30)], pen=pen, happened="2026-11-20"
    )
    withdraw(book, receipt.entries[0].id, why="counted the sheds, not the animals", pen=pen)


def _shelves() -> Iterator[Fact]:
    turn = count(1)
    for rack in "ABCD":
        for level in range(1, 5):
            yield ShelfPlaced(shelf=f"{rack}{level}", room="BUG ROOM", turn=next(turn), level=level)


def _places() -> Iterator[tuple[str, str, int]]:
    for rack in "ABCD":
        for number in range(1, 25):
            shelf = f"{rack}{(number - 1) // 6 + 1}"
            yield f"{rack}{number:02d}", shelf, (number - 1) % 6 + 1


def _entry(pen: Pen, fact: Fact, happened: Moment) -> Entry:
    return pen.entry(fact, happened=happened)


def _founding(
    pen: Pen, chance: random.Random, number: int, code: str, shelf: str, place: int
) -> Iterator[Entry]:
    slugs = handbook.species_slugs()
    slug = slugs[number % len(slugs)]
    page = handbook.page(slug)
    litres = chance.choice(list(_SIZES))
    length, width, height = _SIZES[litres]
    sized = number % 3 == 0
    box = BoxDescribed(
        box=code, litres=litres,
        length_cm=length if sized else None, width_cm=width if sized else None,
        height_cm=height if sized else None,
        vents=(Vent(count=24, size_mm=3, place="lid" if sized else "not_said"),),
        vents_as_written="24*3 mm lid" if sized else "24 x 3",
        damp_share=chance.choice([None, 0.33, 0.4, 0.5, 0.6]),
    )  # fmt: skip
    day = on_day(date(2025, 3, 1) + timedelta(days=number))
    yield _entry(pen, box, day)
    yield _entry(pen, Shelved(box=code, shelf=shelf, position=place), day)
    if number % 31 == 30:
        return
    line = f"line-{number:02d}"
    yield _entry(
        pen,
        LineNamed(
            line=line, species=slug, as_bought=page.name, morph="wild" if number % 4 else "orange"
        ),
        day,
    )
    yield _entry(
        pen,
        Founded(colony=f"{code}.1", box=code, line=line, founders_low=10, founders_high=12),
        day,
    )
    if number == 17:
        yield _entry(pen, Quarantined(box=code, why="new", until="2026-12-20"), "2026-11-01")


def _year(pen: Pen, chance: random.Random, number: int, code: str, days: int) -> Iterator[Entry]:
    if number % 31 == 30 or number % 24 == 23:
        return
    for care, every in _EVERY.items():
        if (number * 7 + len(care)) % 11 == 0 and every > 20:
            continue
        ago = chance.randint(0, every + (every // 2 if chance.random() < 0.12 else 0))
        while ago < days:
            at = instant(EVENING - timedelta(days=ago, minutes=chance.randint(31, 120)))
            amount = Amount(low=20, unit="mL", as_written="20 mL") if care == "mist" else None
            yield _entry(pen, CareGiven(box=code, care=care, amount=amount), at)  # type: ignore[arg-type]
            ago += max(1, round(chance.gauss(every, every / 6)))
    for ago in range(chance.randint(3, 40), days, 45):
        day = on_day(TODAY - timedelta(days=ago))
        word = chance.choice(["young_seen", "young_seen", "gravid", "mould", "springtails_many"])
        yield _entry(pen, SeenInBox(box=code, word=word), day)  # type: ignore[arg-type]
    many = chance.random() < 0.5
    band = (
        Counted(box=code, how="band", low=50, high=199, band="many")
        if many
        else Counted(box=code, how="band", low=10, high=49, band="tens")
    )
    yield _entry(pen, band, on_day(TODAY - timedelta(days=30)))
