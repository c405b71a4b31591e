"""How warm and how damp the air of a shelf is, and how it moves, with what each rests on."""

from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from mancary.handbook import VentilationRoom
from mancary.husbandry.facts.places import Air
from mancary.husbandry.sentences import in_a_row, tell

AIR_SAID: Final[dict[Air, str]] = {
    "cupboard": tell("in a cupboard"),
    "room": tell("in a room"),
    "draughty": tell("in a draughty place"),
}


class Span(Struct, frozen=True):
    """A middle and the ends it lies between, °C or humidity 0..1."""

    middle: float
    low: float
    high: float


class Told(Struct, frozen=True, kw_only=True):
    """One reading of a shelf: °C, and the humidity 0..1 as corrected, with the words for that.

    ``on_said`` is its day by the keeper's calendar, no more exact than it is known.
    """

    on_said: str
    temperature: Span
    by_logger: bool = False
    humidity: Span | None = None
    corrected: str = ""


class ShelfClimate(Struct, frozen=True, kw_only=True):
    """The air of a shelf; ``humidity`` is None where nobody told it.

    ``rh`` is the humidity 0..1 to reckon with: the middle of the readings, else the handbook's
    room. Each has its words, with the days it was read or that it is assumed.
    """

    shelf: str
    temperature: Span
    temperature_is_assumed: bool
    humidity: Span | None
    rh: float
    air: Air
    temperature_said: str
    humidity_said: str
    air_said: str

    @property
    def said(self) -> tuple[str, ...]:
        """What it rests on: temperature, humidity and air."""
        return self.temperature_said, self.humidity_said, self.air_said


def shelf_climate(
    shelf: str,
    *,
    warmth: Sequence[Told],
    damp: Sequence[Told],
    air: Air | None,
    room: VentilationRoom,
) -> ShelfClimate:
    """The climate that readings tell: middles are means of the readings', ends the outermost.

    ``warmth`` are those to take the temperature from, ``damp`` those for the humidity, each in
    order of happening; what has none is assumed to be as in the ``room`` of the handbook.
    """
    temperature = _over([one.temperature for one in warmth])
    humidity = _over([one.humidity for one in damp if one.humidity])
    return ShelfClimate(
        shelf=shelf,
        temperature=temperature or Span(room.temp_c, room.temp_c, room.temp_c),
        temperature_is_assumed=temperature is None,
        humidity=humidity,
        rh=humidity.middle if humidity else room.humidity,
        air=air or "room",
        temperature_said=_warmth_said(shelf, warmth, temperature, room),
        humidity_said=_damp_said([one for one in damp if one.humidity], humidity, room),
        air_said=AIR_SAID[air] if air else tell("%(air_said)s, assumed", air_said=AIR_SAID["room"]),
    )


def percent(rh: float) -> str:
    """A humidity 0..1 in whole percent, as it is read: ``52 %``."""
    return f"{rh * 100:.0f} %"


def _over(spans: Sequence[Span]) -> Span | None:
    if not spans:
        return None
    return Span(
        sum(one.middle for one in spans) / len(spans),
        min(one.low for one in spans),
        max(one.high for one in spans),
    )


def _warmth_said(shelf: str, told: Sequence[Told], span: Span | None, room: VentilationRoom) -> str:
    if span is None:
        why = tell("its shelf was not read lately") if shelf else tell("it stands on no shelf")
        return tell("%(temp_c)g °C, assumed, for %(why)s", room, why=why)
    ends = tell("%(low)g to %(high)g °C", span)
    way = tell("the logger's mean") if all(one.by_logger for one in told) else tell("the middle")
    looks = "last" if len(told) == 1 else tell("%(told)s readings,", told=len(told))
    return tell(
        "%(middle).1f °C, %(way)s of shelf %(shelf)s's %(looks)s %(ends)s, %(told)s",
        span,
        way=way,
        shelf=shelf,
        looks=looks,
        ends=ends,
        told=_days(told),
    )


def _damp_said(told: Sequence[Told], span: Span | None, room: VentilationRoom) -> str:
    if span is None:
        return tell("%(humidity)s humidity in the room, assumed", humidity=percent(room.humidity))
    ends = (
        tell(" (%(low)s to %(high)s)", low=percent(span.low)[:-2], high=percent(span.high))
        if span.low < span.high
        else ""
    )
    how = in_a_row("; ", dict.fromkeys(one.corrected for one in told if one.corrected))
    words = tell(
        "%(middle)s humidity in the room%(ends)s, %(told)s",
        middle=percent(span.middle),
        ends=ends,
        told=_days(told),
    )
    return tell("%(words)s, %(how)s", words=words, how=how) if how else words


def _days(told: Sequence[Told]) -> str:
    first, last = told[0].on_said, told[-1].on_said
    return (
        tell("read %(last)s", last=last)
        if first == last
        else tell("read %(first)s to %(last)s", first=first, last=last)
    )
