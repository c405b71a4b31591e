"""The moments of a logger's lines: one column or two, either order of day and month, any clock."""

import re
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from functools import lru_cache
from itertools import pairwise
from typing import Final

from msgspec import Struct

from mancary.husbandry.refusal import Refusal
from mancary.sheets.faults import Unclear, Unreadable
from mancary.sheets.logger_unsaid import Unsaid
from mancary.sheets.plain import plain
from mancary.sheets.values.dates import DAY_FIRST, MONTH_FIRST, Calendar, DateOrder, date_order
from mancary.sheets.values.dates import read_date as day_of

_DATE = (
    r"(\d{4}[-./]\d{1,2}[-./]\d{1,2}|\d{1,2}[-./]\s?\d{1,2}[-./]\s?(?:\d{4}|\d{2})"
    r"|\d{1,2}[-. /]*[a-z]{3,10}\.?[-, /]*(?:\d{4}|\d{2})|[a-z]{3,10}\.?\s+\d{1,2},?\s+\d{4})"
)
_CLOCK = r"(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?(?:\s*([ap])\.?\s?m\.?)?"
_OFFSET = r"(?:utc|gmt)\s*[+-]\d{1,2}(?::?\d{2})?|[+-]\d{2}:?\d{2}|utc|gmt|z"
_ZONE = rf"\s*[(\[]?({_OFFSET})?[)\]]?"
_DAY_CLOCK = re.compile(rf"{_DATE}(?:\s*t\s*|[,\s]+){_CLOCK}{_ZONE}", re.ASCII)
_CLOCK_DAY = re.compile(rf"{_CLOCK}{_ZONE}[,\s]+{_DATE}", re.ASCII)
_DAY_ALONE = re.compile(_DATE, re.ASCII)
_CLOCK_ALONE = re.compile(_CLOCK + _ZONE, re.ASCII)
_EPOCH = re.compile(r"(\d{9,10})(\d{3})?(?:[.,]\d*)?", re.ASCII)
_IN_HEADING = re.compile(
    r"(?<![a-z])((?:utc|gmt)(?:\s*[+\-\u2212\u2013\u00b1]\s*\d[\d:.,h]*)?)(?![a-z])", re.ASCII
)
_AHEAD = re.compile(r"(?:utc|gmt)?\s*([+-])\s*(\d{1,2}?)(?::?(\d{2}))?", re.ASCII)
_MOST_AHEAD: Final = timedelta(hours=14)
"""No place on earth keeps a clock further from UTC than this (tz database)."""
_HALF_DAY: Final = 12
_FULL_DAY: Final = 10
_MINUTES: Final = 60
_EXPECTED: Final = "expected a day and an hour, like 2026-03-01 10:05"


class Written(Struct, frozen=True):
    """What a line says of its moment: the day as text, the hour, and the offset where told."""

    day: str
    hour: int
    minute: int
    second: int
    zone: str


def sort_of_time(cell: str) -> str:
    """``both``, ``day``, ``clock``, ``epoch`` (seconds since 1970), or nothing."""
    told = plain(cell)
    if _DAY_CLOCK.fullmatch(told) or _CLOCK_DAY.fullmatch(told):
        return "both"
    if _DAY_ALONE.fullmatch(told):
        return "day"
    if _CLOCK_ALONE.fullmatch(told):
        return "clock"
    return "epoch" if _EPOCH.fullmatch(told) else ""


def written_moment(text: str) -> datetime | Written:
    """The instant of seconds since 1970, or what a text of day and hour says.

    Raises:
        Unreadable: where it is neither.
    """
    told = plain(text)
    if found := _EPOCH.fullmatch(told):
        return datetime.fromtimestamp(int(found[1]), UTC)
    if found := _DAY_CLOCK.fullmatch(told):
        day, *clock = found.groups()
    elif found := _CLOCK_DAY.fullmatch(told):
        *clock, day = found.groups()
    else:
        raise Unreadable(_EXPECTED)
    hour, minute, second, half, zone = clock
    return Written(day, _hour(int(hour), half), int(minute), int(second or 0), zone or "")


def _hour(told: int, half: str | None) -> int:
    if not half:
        return told
    if not 1 <= told <= _HALF_DAY:
        raise Unreadable(f"there is no hour {told} {half}m; {_EXPECTED}")
    return told % _HALF_DAY + (_HALF_DAY if half == "p" else 0)


@lru_cache(maxsize=64)
def offset(text: str) -> tzinfo | None:
    """The zone of "+01:00", "GMT-5", "UTC+5:30" or "UTC"; None where nothing is said.

    Raises:
        Unreadable: for what names a zone that no place has.
    """
    if not text:
        return None
    if text in ("utc", "gmt", "z"):
        return UTC
    found = _AHEAD.fullmatch(text.replace("\u2212", "-").replace("\u2013", "-"))
    ahead = timedelta(hours=int(found[2]), minutes=int(found[3] or 0)) if found else None
    if found is None or ahead is None or ahead > _MOST_AHEAD or int(found[3] or 0) >= _MINUTES:
        raise Unreadable(f"{text!r} is no offset of a clock from UTC; expected one like UTC+5:30")
    return timezone(ahead if found[1] == "+" else -ahead)


def offset_in_heading(heading: str) -> tzinfo | None:
    """The zone a heading such as "Date Time, GMT+01:00" names.

    Raises:
        Refusal: where it names one that cannot be read.
    """
    found = _IN_HEADING.search(plain(heading))
    try:
        return offset(found[1].strip(".,: ")) if found else None
    except Unreadable as fault:
        raise Refusal(f"Heading {heading!r}: {fault}.") from None


def order_of(days: Sequence[str], *, column: str, day_first: bool | None, today: date) -> DateOrder:
    """Whether a column of days has the day or the month first, decided by all of it.

    A part above 12 decides, dots do; else that a date lies ahead one way, or that the days follow
    each other one way and jump by months the other.

    Raises:
        Refusal: where the column does not tell, or tells both.
    """
    if day_first is not None:
        return DateOrder(order=DAY_FIRST if day_first else MONTH_FIRST, why="as you said")
    found = date_order(days)
    either = [day for day in dict.fromkeys(days) if _is_either(day, today)]
    if found.order or not either:
        return found
    fits = [order for order in (DAY_FIRST, MONTH_FIRST) if _read(either, order, today, strict=True)]
    if len(fits) == 1:
        return DateOrder(order=fits[0], why="read the other way a date lies ahead")
    following = {order: _following(_read(days, order, today)) for order in fits}
    if following and not min(following.values()) and max(following.values()):
        best = max(following, key=lambda order: following[order])
        return DateOrder(order=best, why="read so the days follow each other")
    raise Unsaid(
        "order",
        f"{either[0]} in column {column!r} may have the day or the month first: {found.why}.",
    )


def _is_either(day: str, today: date) -> bool:
    try:
        day_of(day, Calendar(order=DateOrder(order=None, why=""), today=today))
    except Unclear:
        return True
    except Unreadable:
        return False
    return False


def _read(
    days: Sequence[str], order: str, today: date, *, strict: bool = False
) -> tuple[date, ...]:
    """The days read one way, unreadable ones left out; ``strict``, none where one is."""
    calendar = Calendar(order=DateOrder(order=order, why=""), today=today)
    found = []
    for one in days:
        try:
            found.append(_day(one, calendar))
        except Unreadable:
            if strict:
                return ()
    return tuple(found)


def _following(days: Sequence[date]) -> int:
    return sum(abs((b - a).days) == 1 for a, b in pairwise(days))


def _day(text: str, calendar: Calendar) -> date:
    try:
        moment = day_of(text, calendar)
    except Unclear as fault:
        raise Unreadable(fault.why) from None
    if len(moment) != _FULL_DAY:
        raise Unreadable(_EXPECTED)
    return date.fromisoformat(moment)


class Almanac:
    """Turns what lines say into instants, line after line in order of time.

    The hour that comes twice when clocks go back is told apart by the lines before: a line is
    later than the one before it, by about ``step``.
    """

    def __init__(self, calendar: Calendar, zone: tzinfo) -> None:
        self._calendar = calendar
        self._zone = zone
        self._days: dict[str, date] = {}

    def bare(self, told: datetime | Written) -> datetime:
        """The moment as the logger's clock showed it, without a zone, or the instant itself.

        Raises:
            Unreadable: for a day or an hour that is not, or lies ahead.
        """
        if isinstance(told, datetime):
            if told.date() > self._calendar.today + timedelta(days=1):
                raise Unreadable("this moment lies ahead; expected one that has been")
            return told
        if told.day not in self._days:
            self._days[told.day] = _day(told.day, self._calendar)
        day = self._days[told.day]
        try:
            at = datetime.combine(day, time(told.hour, told.minute, told.second))
        except ValueError:
            raise Unreadable(f"there is no such hour; {_EXPECTED}") from None
        zone = offset(told.zone)
        return at.replace(tzinfo=zone).astimezone(UTC) if zone else at

    def instant(
        self, bare: datetime, *, before: datetime | None, step: timedelta, same: bool
    ) -> datetime:
        """The instant in UTC; ``same`` where the line repeats the one before word for word.

        Raises:
            Unreadable: for an hour that the clocks jumped over.
        """
        if bare.tzinfo:
            return bare.astimezone(UTC)
        first = bare.replace(tzinfo=self._zone, fold=0).astimezone(UTC)
        second = bare.replace(tzinfo=self._zone, fold=1).astimezone(UTC)
        if first > second:
            raise Unreadable(
                "the clocks went forward over this hour, so it was not; expected the hour of the"
                " keeper's zone. Does this logger change its clock?"
            )
        if first == second or before is None:
            return first
        later = [one for one in (first, second) if one > before or (same and one == before)]
        return min(later, key=lambda one: abs(one - before - step)) if later else first
