"""The last rounds planned, and their pages, kept while the book stays as it is."""

from collections.abc import Callable
from datetime import date
from typing import Final

from msgspec import Struct

from mancary.husbandry.planning_evenings import Planned
from mancary.usecases.round_kept import accept_round, accepted_round
from mancary.usecases.round_plan import Round, planned_round, told_round
from mancary.web.desk import OpenDesk
from mancary.web.reading import READING
from mancary.web.recent import Recent

_MOST: Final = 8


class Shown(Struct, frozen=True):
    """A round as a page showed it, and the plan of the weeks ahead that it is the first of."""

    told: Round
    planned: Planned


_kept: Final[Recent[tuple[str, str, date, bool], Shown]] = Recent(_MOST)
_pages: Final[Recent[tuple[str, str, date, bool, date, str], str]] = Recent(_MOST)
_last: Final[Recent[tuple[str, date], Planned]] = Recent(_MOST)


def round_for(book: OpenDesk, on: date, *, named: bool) -> Round:
    """The round of a day; planned once for each state of the book."""
    return _shown(book, on, named=named).told


def page_for(book: OpenDesk, on: date, make: Callable[[], str], *, named: bool, role: str) -> str:
    """The page of that round, made once for each state of the book, day, role and reading."""
    reader = f"{role} {READING.get().kept()}"
    key = (str(book.book.path), book.book.head().seal, on, named, book.on, reader)
    return _pages.find(key) or _pages.put(key, make())


def _shown(book: OpenDesk, on: date, *, named: bool) -> Shown:
    key = (str(book.book.path), book.book.head().seal, on, named)
    if shown := _kept.find(key):
        return shown
    ahead, planned = planned_round(book.book, on=on, named=named)
    told = told_round(ahead, planned)
    _last.put((key[0], told.date), planned)
    return _kept.put(key, Shown(told, planned))


def keep_what_was_shown(book: OpenDesk, on: date) -> None:
    """Accepts the plan that the page showed last for an evening, where none is accepted yet.

    Who begins a round has taken its plan: what is left of it then stays as it was shown.
    """
    if accepted_round(book.book, on):
        return
    planned = _last.find((str(book.book.path), on))
    accept_round(book.book, planned or _shown(book, on, named=True).planned, pen=book.pen)
