"""A form sent twice is written once: its facts get their ids from a mark made with the page."""

from itertools import count

import msgspec

from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment
from mancary.usecases.pen import Pen


class OncePen(Pen):
    """A pen whose entries have the same ids each time the same mark is handed in."""

    def __init__(self, pen: Pen, mark: str) -> None:
        super().__init__(clock=pen.now)
        self._pen = pen
        self._mark = mark
        self._number = count()

    def first_id(self) -> str:
        """The id of the first fact this mark stands for, written or not."""
        return self._id(0)

    def entry(self, fact: Fact, *, happened: Moment | None = None) -> Entry:
        """As the pen's own, under an id of the mark."""
        made = self._pen.entry(fact, happened=happened)
        return msgspec.structs.replace(made, id=self._id(next(self._number)))

    def _id(self, number: int) -> str:
        return derived_id(f"form|{self._mark}|{number}")
