"""When something happened, only as exactly as it is known.

A moment is text in ISO 8601: an instant in UTC (``2026-03-01T18:05:00.000Z``), or a day
(``2026-03-01``), a month (``2026-03``) or a year (``2026``) in the keeper's own calendar.
A day typed from a sheet has no hour, and none is made up for it.
"""

import re
from calendar import monthrange
from datetime import UTC, date, datetime, tzinfo
from functools import lru_cache
from typing import Annotated

from msgspec import Meta

from mancary.husbandry.refusal import Refusal

_PATTERN = (
    r"^\d{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01])"
    r"(T([01]\d|2[0-3]):[0-5]\d:[0-5]\d\.\d{3}Z)?)?)?$"
)
Moment = Annotated[str, Meta(pattern=_PATTERN)]
_SHAPE = re.compile(_PATTERN)
_YEAR, _MONTH, _DAY, _HOUR = 4, 7, 10, 13


def instant(at: datetime) -> Moment:
    """The moment of an aware datetime, to the millisecond, in UTC."""
    if at.tzinfo is None:
        raise ValueError("an instant needs a time zone")
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def on_day(day: date) -> Moment:
    """The moment of something known only to the day."""
    return day.isoformat()


def is_exact(moment: Moment) -> bool:
    """True where the hour is known."""
    return len(moment) > _DAY


def read_instant(moment: Moment) -> datetime:
    """The aware datetime of an exact moment."""
    return datetime.fromisoformat(moment)


@lru_cache(maxsize=1 << 15)
def first_day(moment: Moment, zone: tzinfo) -> date:
    """The first day the moment can have fallen on, in the keeper's zone."""
    if len(moment) > _DAY:
        return read_instant(moment).astimezone(zone).date()
    if len(moment) == _DAY:
        return date.fromisoformat(moment)
    year = int(moment[:_YEAR])
    return date(year, int(moment[5:_MONTH]) if len(moment) == _MONTH else 1, 1)


def last_day(moment: Moment, zone: tzinfo) -> date:
    """The last day the moment can have fallen on, in the keeper's zone."""
    if len(moment) >= _DAY:
        return first_day(moment, zone)
    year = int(moment[:_YEAR])
    month = int(moment[5:_MONTH]) if len(moment) == _MONTH else 12
    return date(year, month, monthrange(year, month)[1])


def order_key(moment: Moment, zone: tzinfo, *, typed: Moment = "") -> str:
    """Sorts moments of any exactness by the keeper's calendar.

    Within a day, instants go by the clock. A bare day typed on that very day stands where it was
    typed; one typed later tells of a day whose hours are over, and stands at its end. A bare month
    or year goes before its days.
    """
    if len(moment) > _DAY:
        return f"{_local_day(moment[:_HOUR], moment, zone)}T{moment}"
    if len(moment) < _DAY:
        return moment
    if typed and _local_day(typed[:_HOUR], typed, zone) == moment:
        return f"{moment}T{typed}"
    return f"{moment}U"


def _local_day(hour: str, moment: Moment, zone: tzinfo) -> str:
    day = _day_of_hour(hour, zone)
    return day or read_instant(moment).astimezone(zone).date().isoformat()


@lru_cache(maxsize=65536)
def _day_of_hour(hour: str, zone: tzinfo) -> str | None:
    """The local day of an hour in UTC; None where a midnight falls within it."""
    first = read_instant(f"{hour}:00:00.000Z").astimezone(zone).date()
    last = read_instant(f"{hour}:59:59.999Z").astimezone(zone).date()
    return first.isoformat() if first == last else None


def clock_said(moment: Moment, zone: tzinfo) -> str:
    """A moment for reading: day and minute in the keeper's zone, or no more than is known."""
    if not is_exact(moment):
        return moment
    return read_instant(moment).astimezone(zone).strftime("%Y-%m-%d %H:%M")


def day_said(moment: Moment, zone: tzinfo) -> str:
    """The day of a moment in the keeper's zone; a month or a year stays as it is told."""
    return clock_said(moment, zone).partition(" ")[0]


def checked(moment: str, *, now: datetime, zone: tzinfo) -> Moment:
    """The moment, if it is one and does not lie in the future of the keeper's calendar.

    Raises:
        Refusal: in a sentence that says what was expected.
    """
    if not _SHAPE.match(moment):
        raise Refusal(f"{moment!r} is not a date; expected one like 2026-03-01.")
    try:
        day = first_day(moment, zone)
    except ValueError:
        raise Refusal(f"{moment!r} is not a day of the calendar.") from None
    if day > now.astimezone(zone).date():
        raise Refusal(f"{moment} lies in the future; a fact is written once it has happened.")
    return moment
