"""The last rounds planned for a page, kept while the book stays as it is."""

from collections import OrderedDict
from datetime import date
from threading import Lock

from mancary.usecases.round_plan import Round, plan_round
from mancary.web.desk import OpenDesk

_MOST = 8
_kept: OrderedDict[tuple[str, str, date, bool], Round] = OrderedDict()
_lock = Lock()


def round_for(book: OpenDesk, *, named: bool) -> Round:
    """The round of the book's day; planned once for each state of the book."""
    key = (str(book.book.path), book.book.head().seal, book.on, named)
    with _lock:
        if key in _kept:
            _kept.move_to_end(key)
            return _kept[key]
    told = plan_round(book.book, on=book.on, named=named)
    with _lock:
        _kept[key] = told
        while len(_kept) > _MOST:
            _kept.popitem(last=False)
    return told
