"""Learning from the keeper's colonies beside the pages, so that no page waits for it."""

from contextlib import suppress
from datetime import date
from pathlib import Path
from threading import Event, Thread
from typing import Final

from mancary.book import Book, BookTrouble, Head, open_book
from mancary.husbandry.colony_weights import monday
from mancary.usecases.beliefs import believed, room_of
from mancary.usecases.pen import wall_clock
from mancary.usecases.zone import zone_of

PAUSE_S: Final = 20.0
"""A book is learned from again once it stood still so long after a fact was written."""


def learn(path: Path, *, on: date | None = None) -> None:
    """Learns where colonies teach otherwise than before, and keeps every colony's belief.

    Raises:
        BookTrouble: when there is no book, or it cannot be read.
    """
    with open_book(path) as book:
        believed(book, room_of(book, on=on or _today(book)), fell=False)


def _today(book: Book) -> date:
    return wall_clock().astimezone(zone_of(book)).date()


class Learner(Thread):
    """Learns at once, and again after each week's turn or change of the book, until stopped.

    ``today`` is the day it is held to be; left out, it is the clock's in the keeper's zone.
    """

    def __init__(self, path: Path, today: date | None = None, *, pause_s: float = PAUSE_S) -> None:
        super().__init__(name="learning", daemon=True)
        self._path, self._today, self._pause_s = path, today, pause_s
        self._over = Event()

    def stop(self) -> None:
        """Lets the thread end after what it is at."""
        self._over.set()

    def run(self) -> None:
        """Learns, looks now and then whether the book or the week is another, and learns again."""
        learned, before = None, self._state()
        while True:
            now = self._state()
            if now is not None and now == before and now != learned:
                with suppress(BookTrouble):  # a page will say it
                    learn(self._path, on=self._today)
                learned = now
            before = now
            if self._over.wait(self._pause_s):
                return

    def _state(self) -> tuple[Head, date] | None:
        try:
            with open_book(self._path) as book:
                return book.head(), monday(self._today or _today(book))
        except BookTrouble:
            return None
