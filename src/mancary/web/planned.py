"""The last rounds planned, and their pages, kept while the book stays as it is."""

from collections import OrderedDict
from collections.abc import Callable
from datetime import date
from threading import Lock
from typing import Final

from msgspec import Struct

from mancary.husbandry.planning_evenings import Planned
from mancary.usecases.round_kept import accept_round, accepted_round
from mancary.usecases.round_plan import Round, planned_round, told_round
from mancary.web.desk import OpenDesk

_MOST: Final = 8


class Shown(Struct, frozen=True):
    """A round as a page showed it, and the plan of the weeks ahead that it is the first of."""

    told: Round
    planned: Planned


_kept: OrderedDict[tuple[str, str, date, bool], Shown] = OrderedDict()
_pages: OrderedDict[tuple[str, str, date, bool, date], str] = OrderedDict()
_last: OrderedDict[tuple[str, date], Planned] = OrderedDict()
_lock = Lock()


def round_for(book: OpenDesk, on: date, *, named: bool) -> Round:
    """The round of a day; planned once for each state of the book."""
    return _shown(book, on, named=named).told


def page_for(book: OpenDesk, on: date, named: bool, make: Callable[[], str]) -> str:  # noqa: FBT001
    """The page of that round, made once for each state of the book and each day."""
    key = (str(book.book.path), book.book.head().seal, on, named, book.on)
    with _lock:
        if key in _pages:
            return _pages[key]
    html = make()
    with _lock:
        _pages[key] = html
        while len(_pages) > _MOST:
            _pages.popitem(last=False)
    return html


def _shown(book: OpenDesk, on: date, *, named: bool) -> Shown:
    key = (str(book.book.path), book.book.head().seal, on, named)
    with _lock:
        if key in _kept:
            _kept.move_to_end(key)
            return _kept[key]
    ahead, planned = planned_round(book.book, on=on, named=named)
    shown = Shown(told_round(ahead, planned), planned)
    with _lock:
        _kept[key] = shown
        _last[key[0], shown.told.date] = planned
        for held in (_kept, _last):
            while len(held) > _MOST:
                held.popitem(last=False)
    return shown


def keep_what_was_shown(book: OpenDesk, on: date) -> None:
    """Accepts the plan that the page showed last for an evening, where none is accepted yet.

    Who begins a round has taken its plan: what is left of it then stays as it was shown.
    """
    if accepted_round(book.book, on):
        return
    with _lock:
        planned = _last.get((str(book.book.path), on))
    accept_round(book.book, planned or _shown(book, on, named=True).planned, pen=book.pen)
