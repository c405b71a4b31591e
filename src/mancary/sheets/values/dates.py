"""Dates as people write them, to a moment at the precision written."""

import re
from collections.abc import Iterable
from datetime import UTC, date, datetime, tzinfo
from functools import lru_cache

from msgspec import Struct

from mancary.husbandry.moments import Moment, first_day, instant
from mancary.sheets.faults import Choice, Unclear, Unreadable
from mancary.sheets.plain import plain
from mancary.sheets.values.months import month_of

DAY_FIRST, MONTH_FIRST = "day first", "month first"
_CENTURY_TURN = 70
_EARLIEST_YEAR = 1950
_MONTHS = 12

_CLOCK = r"(?:[ t]+(\d{1,2}):(\d{2})(?::\d{2}(?:\.\d+)?)?)?"
_ISO = re.compile(r"(\d{4})([-./])(\d{1,2})(?:\2(\d{1,2}))?" + _CLOCK, re.ASCII)
_COMPACT = re.compile(r"((?:19|20)\d{2})(\d{2})(\d{2})", re.ASCII)
_YEAR = re.compile(r"(\d{4})", re.ASCII)
_NUMERIC = re.compile(
    r"(\d{1,2})\s?([-./])\s?(\d{1,2})(?:\s?\2\s?|\s)(\d{4}|\d{2})" + _CLOCK, re.ASCII
)
_MONTH_YEAR = re.compile(r"(\d{1,2})[-./](\d{4})", re.ASCII)
_DAY_NAMED = re.compile(
    r"(\d{1,2})(?:st|nd|rd|th|\.|:e|:a)?[-. /]*([a-z]+)\.?[-, /']*(\d{4}|\d{2})" + _CLOCK, re.ASCII
)
_NAMED_DAY = re.compile(
    r"([a-z]+)\.?\s*(\d{1,2})(?:st|nd|rd|th|\.)?,?\s+(\d{4})" + _CLOCK, re.ASCII
)
_NAMED_YEAR = re.compile(r"([a-z]+)\.?[-, /']*(\d{4}|\d{2})", re.ASCII)
_YEAR_NAMED = re.compile(r"(\d{4})[-. /]*([a-z]+)\.?(?:[-. /]*(\d{1,2}))?", re.ASCII)


class DateOrder(Struct, frozen=True, kw_only=True):
    """Whether a column writes the day or the month first, and how that is known.

    ``order`` is None where the column cannot tell, or tells both.
    """

    order: str | None
    why: str


class Calendar(Struct, frozen=True, kw_only=True):
    """What reading a date needs: the column's order, today, the keeper's zone, the question's "
    "key.
    """

    order: DateOrder
    today: date
    zone: tzinfo = UTC
    key: str = "dates"


@lru_cache(maxsize=50_000)
def _numeric(text: str) -> tuple[int, str, int] | None:
    found = _NUMERIC.fullmatch(plain(text))
    return (int(found[1]), found[2], int(found[3])) if found else None


def date_order(cells: Iterable[str]) -> DateOrder:
    """The order of a whole column. Dots mean day first; a part above 12 is a day."""
    day_first = month_first = dotted = ""
    for cell in cells:
        parts = _numeric(cell)
        if parts is None:
            continue
        first, sign, second = parts
        if sign == ".":
            dotted = dotted or cell
        elif first > _MONTHS >= second:
            day_first = day_first or cell
        elif second > _MONTHS >= first:
            month_first = month_first or cell
    return _decided(day_first, month_first, dotted)


def _decided(day_first: str, month_first: str, dotted: str) -> DateOrder:
    if day_first and month_first:
        return DateOrder(order=None, why=f"{day_first} has the day first, {month_first} the month")
    if day_first:
        return DateOrder(order=DAY_FIRST, why=f"{day_first} can only be read so")
    if month_first:
        return DateOrder(order=MONTH_FIRST, why=f"{month_first} can only be read so")
    if dotted:
        return DateOrder(order=DAY_FIRST, why=f"dates with dots, like {dotted}, are written so")
    return DateOrder(order=None, why="no date of the column can be read in one way only")


def read_date(text: str, calendar: Calendar) -> Moment:
    """The moment a text names: "May 2023" is "2023-05", "3 Feb 2025" is "2025-02-03".

    Raises:
        Unclear: where day and month could be exchanged and the column does not tell.
        Unreadable: where it is no date, no day of the calendar, or lies ahead.
    """
    moment = _moment(text, calendar)
    try:
        first = first_day(moment, calendar.zone)
    except ValueError:
        raise Unreadable(f"there is no {text} in the calendar; expected a date") from None
    if first.year < _EARLIEST_YEAR:
        raise Unreadable(f"expected a date from {_EARLIEST_YEAR} on")
    if first > calendar.today:
        raise Unreadable("this date lies ahead; expected one that has been")
    return moment


def looks_like_date(text: str) -> bool:
    """True where a text has the shape of a date, whether or not the calendar holds it."""
    told = plain(text)
    if any(shape.fullmatch(told) for shape in (_ISO, _NUMERIC, _MONTH_YEAR)):
        return True
    for shape, at in ((_DAY_NAMED, 2), (_NAMED_DAY, 1), (_NAMED_YEAR, 1), (_YEAR_NAMED, 2)):
        if (found := shape.fullmatch(told)) and month_of(found[at]):
            return True
    return False


def _moment(text: str, calendar: Calendar) -> Moment:
    told = plain(text).removesuffix("z").strip()
    if found := _NUMERIC.fullmatch(told):
        day, month = _ordered(text, int(found[1]), found[2], int(found[3]), calendar)
        return _joined(found[4], month, day, clock=found.groups()[4:], zone=calendar.zone)
    if found := _ISO.fullmatch(told):
        day_text = found[4]
        return _joined(
            found[1],
            int(found[3]),
            int(day_text) if day_text else None,
            clock=found.groups()[4:],
            zone=calendar.zone,
        )
    if found := _COMPACT.fullmatch(told):
        return _joined(found[1], int(found[2]), int(found[3]))
    if found := _YEAR.fullmatch(told):
        return found[1]
    if found := _MONTH_YEAR.fullmatch(told):
        return _joined(found[2], int(found[1]))
    return _named(text, told, calendar.zone)


def _named(text: str, told: str, zone: tzinfo) -> Moment:
    if (found := _DAY_NAMED.fullmatch(told)) and (month := month_of(found[2])):
        return _joined(found[3], month, int(found[1]), clock=found.groups()[3:], zone=zone)
    if (found := _NAMED_DAY.fullmatch(told)) and (month := month_of(found[1])):
        return _joined(found[3], month, int(found[2]), clock=found.groups()[3:], zone=zone)
    if (found := _NAMED_YEAR.fullmatch(told)) and (month := month_of(found[1])):
        return _joined(found[2], month)
    if (found := _YEAR_NAMED.fullmatch(told)) and (month := month_of(found[2])):
        return _joined(found[1], month, int(found[3]) if found[3] else None)
    raise Unreadable(f"expected a date, like 2026-03-01 or 1 Mar 2026, not {text!r}")


def _ordered(text: str, first: int, sign: str, second: int, calendar: Calendar) -> tuple[int, int]:
    """Day and month of a numeric date."""
    if sign == "." or first > _MONTHS or first == second:
        return first, second
    if second > _MONTHS:
        return second, first
    if calendar.order.order == DAY_FIRST:
        return first, second
    if calendar.order.order == MONTH_FIRST:
        return second, first
    raise Unclear(
        f"{text} may have the day or the month first: {calendar.order.why}",
        (
            Choice(value=DAY_FIRST, words=_in_words(first, second), likelihood=0.5),
            Choice(value=MONTH_FIRST, words=_in_words(second, first), likelihood=0.5),
        ),
        key=calendar.key,
    )


def _in_words(day: int, month: int) -> str:
    return f"day {day} of month {month}"


def _year(text: str) -> int:
    if len(text) == 4:
        return int(text)
    return int(text) + (2000 if int(text) < _CENTURY_TURN else 1900)


def _joined(
    year: str,
    month: int,
    day: int | None = None,
    *,
    clock: tuple[str | None, ...] = (),
    zone: tzinfo = UTC,
) -> Moment:
    if not 1 <= month <= _MONTHS:
        raise Unreadable(f"there is no month {month}; expected a date")
    if day is None:
        return f"{_year(year):04d}-{month:02d}"
    if not clock or clock[0] is None or clock[1] is None:
        return f"{_year(year):04d}-{month:02d}-{day:02d}"
    try:
        at = datetime(_year(year), month, day, int(clock[0]), int(clock[1]), tzinfo=zone)
    except ValueError:
        raise Unreadable("there is no such day and hour; expected a date") from None
    return instant(at)
