"""When something happened, only as exactly as it is known.

A moment is text in ISO 8601: an instant in UTC (``2026-03-01T18:05:00.000Z``), or a day
(``2026-03-01``), a month (``2026-03``) or a year (``2026``) in the keeper's own calendar.
A day typed from a sheet has no hour, and none is made up for it.
"""

import re
from calendar import monthrange
from datetime import UTC, date, datetime, time, tzinfo
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


def order_key(moment: Moment, zone: tzinfo) -> str:
    """Sorts moments of any exactness by the keeper's calendar; a day goes before its hours."""
    if len(moment) <= _DAY:
        return moment
    hour = _local_hour(moment[:_HOUR], zone)
    if hour is None:
        return _local(moment, zone)
    return hour + moment[_HOUR:-1]


@lru_cache(maxsize=65536)
def _local_hour(hour: str, zone: tzinfo) -> str | None:
    """The local hour of an hour in UTC; None in zones that are not a whole number of hours off."""
    local = _local(f"{hour}:00:00.000Z", zone)
    return local[:_HOUR] if local[_HOUR:] == ":00:00.000" else None


def _local(moment: Moment, zone: tzinfo) -> str:
    at = read_instant(moment).astimezone(zone).replace(tzinfo=None)
    return at.isoformat(timespec="milliseconds")


def checked(moment: str, *, now: datetime) -> Moment:
    """The moment, if it is one and does not lie in the future.

    Raises:
        Refusal: in a sentence that says what was expected.
    """
    if not _SHAPE.match(moment):
        raise Refusal(f"{moment!r} is not a date; expected one like 2026-03-01.")
    try:
        day = first_day(moment, UTC)
    except ValueError:
        raise Refusal(f"{moment!r} is not a day of the calendar.") from None
    latest = datetime.combine(now.astimezone().date(), time.max)
    if day > latest.date() and day > now.astimezone(UTC).date():
        raise Refusal(f"{moment} lies in the future; a fact is written once it has happened.")
    return moment
