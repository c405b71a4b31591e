"""The round's tasks of ten thousand weighed boxes, against those of the same boxes unweighed."""

import random
import tempfile
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from bench.result import Result, against, seconds
from mancary.book import Book, create_book
from mancary.husbandry.entries import Entry, new_id
from mancary.husbandry.facts import (
    Amount,
    BookOpened,
    BoxDescribed,
    CareGiven,
    Fact,
    Founded,
    LineNamed,
    ShelfRead,
    Shelved,
    Vent,
    Weighed,
)
from mancary.usecases.round_ahead import Ahead, look_ahead

DAY = date(2026, 11, 1)
NOW = datetime(2026, 11, 1, 12, tzinfo=UTC)
WEIGHINGS, EVERY_DAYS, A_SHELF = 6, 7, 12


def told(boxes: int, *, weighed: bool, seed: int = 3) -> Iterator[tuple[date, Fact]]:
    """Made-up boxes, each poured weekly; weighed before it where that is asked for."""
    chance = random.Random(seed)
    first = DAY - timedelta(days=EVERY_DAYS * (WEIGHINGS - 1) + 3)
    yield first, BookOpened(name="Bench", zone="UTC")
    yield first, LineNamed(line="scaber", species="porcellio-scaber", as_bought="Porcellio scaber")
    for shelf in range(-(-boxes // A_SHELF)):
        yield DAY, ShelfRead(shelf=f"S{shelf}", lowest_c=18 + chance.random(), highest_c=23)
    for number in range(boxes):
        box, loss = f"{number:05}", chance.uniform(1, 4)
        row = Vent(count=chance.randint(8, 40), size_mm=3, place="lid")
        yield first, BoxDescribed(box=box, litres=chance.choice((3, 5.5, 9)), vents=(row,))
        yield first, Shelved(box=box, shelf=f"S{number // A_SHELF}")
        yield first, Founded(colony=f"{box}.1", box=box, line="scaber")
        for visit in range(WEIGHINGS):
            day = first + timedelta(days=EVERY_DAYS * visit)
            grams = 1500 - (loss * EVERY_DAYS + chance.gauss(0, 1) if visit else 0)
            if weighed:
                yield day, Weighed(box=box, gross_g=grams, mark=None if visit else "just_right")
            if visit:
                amount = Amount(low=round(loss * EVERY_DAYS), unit="mL")
                yield day, CareGiven(box=box, care="mist", amount=amount)


def filled(path: Path, boxes: int, *, weighed: bool) -> Book:
    """A new book with all that was told, and its standings kept."""
    chance, book = random.Random(4), create_book(path)
    entries = [
        Entry(
            id=new_id(now=NOW, chance=chance.randbytes(10)),
            happened=day.isoformat(),
            typed="2026-11-01T12:00:00.000Z",
            fact=fact,
        )
        for day, fact in told(boxes, weighed=weighed)
    ]
    book.append(entries, written_at=NOW)
    look_ahead(book, on=DAY, named=True, minutes=None)
    return book


def measure() -> Iterator[Result]:
    """Both rooms in turns on warm caches; the plan itself is measured elsewhere."""
    for boxes in (100, 10_000):
        with tempfile.TemporaryDirectory() as folder:
            with_water = filled(Path(folder) / "water.mancary", boxes, weighed=True)
            without = filled(Path(folder) / "none.mancary", boxes, weighed=False)
            found: list[Ahead] = []
            ours = seconds(
                lambda book=with_water, found=found: found.append(  # type: ignore[misc]
                    look_ahead(book, on=DAY, named=True, minutes=None)
                )
            )
            theirs = seconds(
                lambda book=without: look_ahead(book, on=DAY, named=True, minutes=None)  # type: ignore[misc]
            )
            by_scale = sum("by the scale" in one.why for one in found[0].tasks)
            if by_scale < boxes / 2:
                raise RuntimeError(f"only {by_scale} of {boxes} boxes were told by their scale")
            yield against(
                f"tasks of the round of {boxes:,} boxes with their water",
                ours,
                theirs,
                "s",
                "the same boxes without a weighing",
            )
            with_water.close()
            without.close()
