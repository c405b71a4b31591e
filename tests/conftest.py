"""What all tests share: a book in a temporary folder, and a pen whose clock is handed in."""

import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import settings

from mancary.book import Book
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen

# speed is measured in bench/, never by a test that a busy machine fails
settings.register_profile("house", deadline=None)
settings.load_profile("house")

NOON = datetime(2026, 11, 1, 12, 0, tzinfo=UTC)


class HandClock:
    """A clock that stands until it is moved."""

    def __init__(self, now: datetime = NOON) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def forward(self, **step: float) -> None:
        self.now += timedelta(**step)


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def pen(clock: HandClock) -> Pen:
    return Pen(clock=clock, chance=random.Random(8).randbytes)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "room.mancary"


@pytest.fixture
def book(path: Path, pen: Pen) -> Iterator[Book]:
    with open_new(path, name="Test room", zone="Europe/Stockholm", pen=pen) as book:
        yield book
