"""How warm and how damp the air of a shelf is, and how it moves, with what each rests on."""

from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from mancary.handbook import VentilationRoom
from mancary.husbandry.facts.places import Air

AIR_SAID: Final[dict[Air, str]] = {
    "cupboard": "in a cupboard",
    "room": "in a room",
    "draughty": "in a draughty place",
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
        air_said=AIR_SAID[air] if air else f"{AIR_SAID['room']}, assumed",
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
        why = "its shelf was not read lately" if shelf else "it stands on no shelf"
        return f"{room.temp_c:g} °C, assumed, for {why}"
    ends = f"{span.low:g} to {span.high:g} °C"
    way = "the logger's mean" if all(one.by_logger for one in told) else "the middle"
    looks = "last" if len(told) == 1 else f"{len(told)} readings,"
    return f"{span.middle:.1f} °C, {way} of shelf {shelf}'s {looks} {ends}, {_days(told)}"


def _damp_said(told: Sequence[Told], span: Span | None, room: VentilationRoom) -> str:
    if span is None:
        return f"{percent(room.humidity)} humidity in the room, assumed"
    ends = f" ({percent(span.low)[:-2]} to {percent(span.high)})" if span.low < span.high else ""
    how = "; ".join(dict.fromkeys(one.corrected for one in told if one.corrected))
    words = f"{percent(span.middle)} humidity in the room{ends}, {_days(told)}"
    return f"{words}, {how}" if how else words


def _days(told: Sequence[Told]) -> str:
    first, last = told[0].on_said, told[-1].on_said
    return f"read {last}" if first == last else f"read {first} to {last}"
