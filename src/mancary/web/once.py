"""A form sent twice is written once: its facts get their ids from a mark made with the page."""

import secrets
from collections.abc import Iterator, Sequence
from itertools import count, takewhile
from typing import Final, Self

import msgspec
from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment
from mancary.usecases.pen import Pen
from mancary.web.recent import Recent

_pressed: Final[Recent[str, tuple[str, ...]]] = Recent(64)


def written_by(once: str, fresh: Sequence[str]) -> tuple[str, ...]:
    """All that one form wrote, sent once or more; ``fresh`` is what it wrote this time.

    Only remembered while the program runs: after that a form sent again shows nothing to undo.
    """
    if not once:
        return tuple(fresh)
    return _pressed.change(once, lambda held: tuple(dict.fromkeys((*(held or ()), *fresh))))


class OncePen(Pen):
    """A pen whose entries have the same ids each time the same mark is handed in."""

    def __init__(self, pen: Pen, mark: str) -> None:
        super().__init__(clock=pen.now)
        self._pen = pen
        self._mark = mark
        self._number = count()

    @classmethod
    def of_form(cls, pen: Pen, form: Struct, once: str, *, where: str) -> Self:
        """The pen for one form: sent again unchanged it means the same facts.

        ``once`` was made with the page; without it no two forms are the same.
        """
        return cls(pen, f"{where}|{form!r}|{once or secrets.token_hex(16)}")

    def written(self, book: Book) -> list[str]:
        """The ids under this mark that are in the book, the first ones without a gap."""
        return list(takewhile(lambda one: bool(book.has([one])), self._ids()))

    def _ids(self) -> Iterator[str]:
        return (self._id(number) for number in count())

    def entry(self, fact: Fact, *, happened: Moment | None = None) -> Entry:
        """As the pen's own, under an id of the mark."""
        made = self._pen.entry(fact, happened=happened)
        return msgspec.structs.replace(made, id=self._id(next(self._number)))

    def _id(self, number: int) -> str:
        return derived_id(f"form|{self._mark}|{number}")
