"""What is coming to one box in the weeks ahead: why, from when, and on which kept evening."""

import datetime as dt
from datetime import date, timedelta

from msgspec import Struct

from mancary.book import Book
from mancary.usecases.round_ahead import box_ahead
from mancary.usecases.round_kept import kept_plan

SHOWN_WEEKS = 4
_PRESSES = timedelta(days=1)
"""A care presses where its time runs out by tomorrow, as on the box's own page."""


class Coming(Struct, frozen=True, kw_only=True):
    """The next task of one care; ``evening`` where a kept plan has a day for it.

    ``caused`` is one that follows from what happened, not from a rhythm.
    """

    care: str
    due: date
    latest: date
    why: str
    evening: dt.date | None
    caused: bool = False


def coming_to(book: Book, box: str, *, on: date) -> tuple[Coming, ...]:
    """The next task of each care of a box within four weeks, the soonest first.

    ``box`` is a code that is in the book. A task that follows from what happened (food to be taken
    out, a second look) is told with its cause. A care of a rhythm that may be given already but can
    wait, and that no kept evening has, is not coming: it waits (see ``wants``).
    """
    planned = _planned(book, box, on)
    found: dict[str, Coming] = {}
    for task in box_ahead(book, box, on=on, weeks=SHOWN_WEEKS):
        days = [
            day for day in planned.get(task.care, []) if max(on, task.due) <= day <= task.latest
        ]
        waits = task.every_days and task.due <= on and task.latest > on + _PRESSES and not days
        if task.care not in found and not waits:
            found[task.care] = Coming(
                care=task.care,
                due=task.due,
                latest=task.latest,
                why=task.why,
                evening=min(days, default=None),
                caused=not task.every_days,
            )
    return tuple(found.values())


def _planned(book: Book, box: str, on: date) -> dict[str, list[date]]:
    kept = kept_plan(book, on)
    found: dict[str, list[date]] = {}
    for evening in kept.evenings if kept else ():
        for stop in evening.stops:
            if stop.box == box:
                for care in stop.cares:
                    found.setdefault(care, []).append(date.fromisoformat(evening.day))
    return found
