"""Made-up facts in any number, for timing only."""

import random
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from mancary.book import Book, create_book
from mancary.husbandry.entries import Entry, new_id
from mancary.husbandry.facts import (
    Amount,
    BookOpened,
    CareGiven,
    Counted,
    Fact,
    Founded,
    LineNamed,
    SeenInBox,
    Weighed,
)
from mancary.husbandry.words import CARES, SEEN

START = date(2020, 1, 1)
NOW = datetime(2026, 11, 1, 12, tzinfo=UTC)


def entries(count: int, boxes: int, seed: int = 1) -> Iterator[Entry]:
    """Facts about so many boxes, in the order in which they happened."""
    chance = random.Random(seed)
    moment = datetime.combine(START, datetime.min.time(), tzinfo=UTC)
    step = timedelta(days=2400) / max(count, 1)
    first: list[Fact] = [
        BookOpened(name="Bench", zone="UTC"),
        LineNamed(line="scaber", species="porcellio-scaber", as_bought="Porcellio scaber"),
    ]
    first += [Founded(colony=f"{b:05}.1", box=f"{b:05}", line="scaber") for b in range(boxes)]
    for number in range(count):
        moment += step
        told = moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")
        fact = first[number] if number < len(first) else _fact(chance, f"{number % boxes:05}")
        fact_id = new_id(now=moment, chance=chance.randbytes(10))
        yield Entry(id=fact_id, happened=told, typed=told, fact=fact)


def _fact(chance: random.Random, box: str) -> Fact:
    draw = chance.random()
    if draw < 0.7:
        amount = Amount(low=20, unit="mL")
        return CareGiven(box=box, care=chance.choice(CARES), amount=amount)  # type: ignore[arg-type]
    if draw < 0.85:
        return SeenInBox(box=box, word=chance.choice(SEEN))  # type: ignore[arg-type]
    if draw < 0.95:
        return Counted(box=box, low=10, high=49, how="band", band="tens")
    return Weighed(box=box, gross_g=1462.0)


def filled(path: Path, count: int, boxes: int) -> Book:
    """A new book with so many facts, written in chunks."""
    book = create_book(path)
    chunk: list[Entry] = []
    for entry in entries(count, boxes):
        chunk.append(entry)
        if len(chunk) == 50_000:
            book.append(chunk, written_at=NOW)
            chunk = []
    book.append(chunk, written_at=NOW)
    return book
