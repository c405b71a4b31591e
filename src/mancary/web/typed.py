"""What was typed into a field, read; a fault names the field."""

import math
from collections.abc import Callable
from datetime import date
from typing import TypeVar

from mancary.husbandry.moments import Moment, on_day
from mancary.husbandry.refusal import Refusal
from mancary.sheets.faults import Unclear, Unreadable
from mancary.usecases.record import past
from mancary.web.desk import OpenDesk
from mancary.web.forms import FormError
from mancary.web.tongue import _, sentence

Value = TypeVar("Value")
_MOST_DIGITS = 7
_FIRST_YEAR, _LAST_YEAR = 1900, 2200
"""A day beyond these is a slip, and no weeks can be counted on from the calendar's last."""


def tidy(text: str) -> str:
    """The words on one line, without space around them."""
    return " ".join(text.split())


def day_typed(text: str, field: str = "day") -> date | None:
    """The day, or None where the field is empty."""
    if not text.strip():
        return None
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise FormError(
            field, _("%(text)s is not a date; expected 2026-03-01.", text=repr(text))
        ) from None
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        raise FormError(
            field,
            _(
                "%(text)s: expected a year from %(first_year)s to %(last_year)s.",
                text=repr(text),
                first_year=_FIRST_YEAR,
                last_year=_LAST_YEAR,
            ),
        )
    return day


def moment_typed(text: str, field: str = "day") -> Moment | None:
    """The day as a moment, or None for now."""
    day = day_typed(text, field)
    return on_day(day) if day else None


def happened_typed(book: OpenDesk, text: str, field: str = "day") -> Moment | None:
    """The day as a moment that has been in the keeper's zone, or None for now."""
    moment = moment_typed(text, field)
    try:
        return past(book.book, moment, pen=book.pen)
    except Refusal as fault:
        raise FormError(field, sentence(fault)) from None


def number_typed(text: str, field: str) -> float | None:
    """A number with a decimal point or comma, or None where the field is empty."""
    if not text.strip():
        return None
    try:
        number = float(tidy(text).replace(",", ".").replace("−", "-"))
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise FormError(
            field, _("%(text)s is not a number; expected one like 18.5.", text=repr(text))
        )
    return number


def whole_typed(text: str, field: str, what: str) -> int | None:
    """A whole number from 1 on, or None where the field is empty."""
    told = text.strip()
    if not told:
        return None
    if not (told.isascii() and told.isdigit() and len(told) <= _MOST_DIGITS and int(told)):
        raise FormError(
            field,
            _(
                "%(text)s is not %(what)s; expected a whole number from 1 on.",
                text=repr(text),
                what=what,
            ),
        )
    return int(told)


def measure_typed(
    text: str, field: str, reader: Callable[[str, str | None], Value]
) -> Value | None:
    """What a reader of sheets makes of the field, or None where it is empty."""
    if not text.strip():
        return None
    try:
        return reader(text.strip(), None)
    except Unreadable as fault:
        raise FormError(field, f"{text!r}: {fault}.") from None
    except Unclear as fault:
        ways = " or ".join(choice.words for choice in fault.choices)
        raise FormError(
            field,
            _(
                "%(text)s: %(why)s (%(ways)s). Write it another way.",
                text=repr(text),
                why=fault.why,
                ways=ways,
            ),
        ) from None
    except Refusal as fault:
        raise FormError(field, sentence(fault)) from None
