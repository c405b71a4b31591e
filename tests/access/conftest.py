"""A doorkeeper whose clock the test turns."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from mancary.access import Doorkeeper


class Clock:
    def __init__(self) -> None:
        self.now = datetime(2026, 11, 25, 18, 30, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def today(self) -> date:
        return self.now.date()

    def later(self, **by: float) -> None:
        self.now += timedelta(**by)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def book_path(tmp_path: Path) -> Path:
    return tmp_path / "room.mancary"


@pytest.fixture
def keeper(book_path: Path, clock: Clock) -> Doorkeeper:
    return Doorkeeper(book_path, clock=clock, today=clock.today)
