"""When something was typed on a phone, and how far off that phone's clock is."""

from contextvars import ContextVar
from datetime import UTC, datetime, timedelta
from typing import Final

from litestar.types import Scope
from msgspec import Struct
from msgspec.structs import replace

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment, instant
from mancary.usecases.pen import Pen

LONGEST_KEPT: Final = timedelta(days=400)
_TYPED, _CLOCK = b"x-typed-ms", b"x-clock-ms"


class PhoneTimes(Struct, frozen=True):
    """When it was typed and when it was sent, both by the phone's own clock."""

    typed: datetime
    sent: datetime


PHONE: ContextVar[PhoneTimes | None] = ContextVar("phone", default=None)
"""The times of the request that is answered; None for one that was not kept on a phone before."""


def phone_times(scope: Scope) -> PhoneTimes | None:
    """The times a phone told with what it sends; None where it told none that can be."""
    told = {name: value for name, value in scope["headers"] if name in (_TYPED, _CLOCK)}
    try:
        typed, sent = (
            datetime.fromtimestamp(int(told[name]) / 1000, tz=UTC) for name in (_TYPED, _CLOCK)
        )
    except (KeyError, ValueError, OverflowError, OSError):
        return None
    return PhoneTimes(typed, sent) if timedelta() <= sent - typed <= LONGEST_KEPT else None


class PhonePen(Pen):
    """Makes entries typed on a phone: they happened when they were typed, by the book's clock."""

    def __init__(self, pen: Pen, times: PhoneTimes) -> None:
        super().__init__(clock=pen.now)
        self._pen = pen
        self._times = times
        self._error = times.sent - pen.now()

    def entry(self, fact: Fact, *, happened: Moment | None = None) -> Entry:
        """As the pen's own, with the phone's time and its error."""
        made = self._pen.entry(fact, happened=happened)
        when = happened or instant(self._times.typed - self._error)
        return replace(
            made,
            typed=instant(self._times.typed),
            happened=when,
            clock_error_s=round(self._error.total_seconds(), 3),
        )
