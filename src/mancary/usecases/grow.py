"""How one colony goes: size, first young, room, surplus, its curve, all from one belief."""

from datetime import date
from typing import Final

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.colony_curve import Curve
from mancary.husbandry.colony_going import Going, Taking
from mancary.husbandry.colony_room import Room
from mancary.husbandry.colony_surplus import Surplus
from mancary.husbandry.colony_told import Coming, FirstYoung, Warmer
from mancary.husbandry.out_of_range import TOO
from mancary.husbandry.sentences import tell
from mancary.husbandry.watch_rows import Size, size_of
from mancary.usecases import beliefs
from mancary.usecases.beliefs import believed_in
from mancary.usecases.colony_events import events_of
from mancary.usecases.past_warmth import weekly_c
from mancary.usecases.unchanged import Unchanged
from mancary.usecases.warmth import all_spells, range_of

__all__ = ["Grow", "Surplus", "Taking", "grow", "surplus", "taking"]

LIMITS: Final = tell(
    "A model's ranges, 90 % of its runs; its rates rest on few species and on"
    " analogy (see the guide). No series of counts of these species was ever"
    " published to check it against."
)


class Grow(Struct, frozen=True, kw_only=True):
    """How a colony goes, as of a day. Numbers are juveniles and adults."""

    box: str
    species: str
    on: date
    temp_c: float
    temp_said: str
    grown_as: str
    size: Size
    coming: tuple[Coming, ...]
    first_young: FirstYoung | None
    too_slow: float | None
    too_slow_said: str
    warmer: Warmer | None
    room: Room
    surplus: Surplus
    out_of_range: str
    curve: Curve
    weights: str
    limits: str
    invented: bool


def grow(book: Book, box: str, *, on: date, learn: bool = True) -> Grow:
    """How the colony of a box goes; ``learn`` as in ``beliefs.room_of``.

    Worked out once while neither the book nor what was learned from it is another.

    Raises:
        Refusal: where there is none, or no growth is known for its species.
    """
    room, one = believed_in(book, box, on=on, learn=learn)
    rests_on = (room.on, room.weights)
    return _GROWN.get(book, rests_on, one.box.code, lambda: _grow(book, room, one))


_GROWN: Final[Unchanged[str, Grow]] = Unchanged(states=4)
_GOING: Final[Unchanged[str, Going]] = Unchanged(states=2)


def _grow(book: Book, room: beliefs.Room, one: beliefs.Believed) -> Grow:
    going = _going(book, room, one)
    slow, slow_said = going.too_slow()
    opened = room.register.opened
    return Grow(
        box=one.box.code,
        species=one.species.name,
        on=room.on,
        temp_c=one.pace.temp_c,
        temp_said=one.pace.temp_said,
        grown_as=one.pace.said,
        size=size_of(one.outlook),
        coming=going.coming(),
        first_young=going.first_young(),
        too_slow=slow,
        too_slow_said=slow_said,
        warmer=going.warmer(),
        room=going.room(room.register.boxes.values()),
        surplus=going.surplus(),
        out_of_range=going.out_of_range,
        curve=going.curve(events_of(book, room, one.colony, one.past)),
        weights=room.weights.said,
        limits=LIMITS,
        invented=bool(opened and opened.invented),
    )


def surplus(book: Book, box: str, *, on: date, learn: bool = True) -> Surplus:
    """How many may go from a box now.

    Raises:
        Refusal: as ``grow``.
    """
    room, one = believed_in(book, box, on=on, learn=learn)
    return _going(book, room, one).surplus()


def taking(book: Book, box: str, animals: int, *, on: date, learn: bool = True) -> Taking:
    """What taking so many animals would do. Nothing is written.

    Raises:
        Refusal: as ``grow``, or for a number that cannot be.
    """
    room, one = believed_in(book, box, on=on, learn=learn)
    return _going(book, room, one).taking(animals)


def _going(book: Book, room: beliefs.Room, one: beliefs.Believed) -> Going:
    rests_on = (room.on, room.weights)
    return _GOING.get(book, rests_on, one.box.code, lambda: _begun(book, room, one))


def _begun(book: Book, room: beliefs.Room, one: beliefs.Believed) -> Going:
    known = range_of(room.register, one.box.code)
    return Going(
        one.box,
        one.held,
        weekly_c(book, room, one),
        kept=(known[1], known[2]) if known else None,
        out_of_range=_out_of_range(book, room, one),
    )


def _out_of_range(book: Book, room: beliefs.Room, one: beliefs.Believed) -> str:
    """How its shelf is too warm for it or too cold, by its last look; empty where it is not."""
    spells = all_spells(book, room.register, one.box.code, on=room.on, zone=room.zone, weeks=8)
    found = [each for each in spells if each.spell.going_on]
    if not found:
        return ""
    worst = found[0]
    return tell(
        "shelf %(shelf)s was %(too)s at its last look on %(last)s: %(worst_c)g °C,"
        " kept at %(kept_at)s; see first that it is safe",
        worst,
        too=TOO[worst.spell.too],
        last=worst.spell.last,
    )
