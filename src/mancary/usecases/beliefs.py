"""What is believed of every colony on a day, carried on from where it was left."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, tzinfo
from typing import Final

from mancary.book import Book
from mancary.book.kept import keep_bodies, kept_bodies
from mancary.husbandry.colony_belief import KeptBelief, Outlook, pack, unpack
from mancary.husbandry.colony_held import Held, held
from mancary.husbandry.colony_pace import Pace, as_held, pace_of
from mancary.husbandry.colony_past import PAST_KINDS, Past, pasts_of
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box, Colony
from mancary.usecases.belief_weights import Weights, weights_of
from mancary.usecases.record import known_box
from mancary.usecases.shelf_readings import climate_of
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import register_of
from mancary.usecases.zone import zone_of

CULTURES: Final = frozenset({"springtails", "cleanup-crew-springtails"})
"""Care groups that are kept as cultures, not as colonies."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Believed:
    """One living colony, its box, its species, and what is held of it."""

    box: Box
    colony: Colony
    species: SpeciesName
    held: Held

    @property
    def past(self) -> Past:
        return self.held.past

    @property
    def pace(self) -> Pace:
        return self.held.pace

    @property
    def outlook(self) -> Outlook:
        return self.held.outlook


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """All that is read once for all colonies."""

    register: Register
    zone: tzinfo
    pasts: dict[str, Past]
    paces: dict[str, Pace]
    weights: Weights
    on: date


def room_of(book: Book, *, on: date, learn: bool = True) -> Room:
    """The register, every colony's past and the weights the keeper's own colonies taught.

    Without ``learn`` no seconds are spent on learning; what was last learned stands.
    """
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    pasts = pasts_of(register.colonies.values(), book.entries_of(PAST_KINDS), zone, until=on)
    paces = {code: _pace(book, register, one, on, zone) for code, one in pasts.items()}
    pasts = {code: as_held(one, paces[code]) for code, one in pasts.items()}
    colonies = {code: one for code, one in pasts.items() if not is_culture(register, one.line)}
    weights = weights_of(book, colonies, paces, on=on, learn=learn)
    return Room(register=register, zone=zone, pasts=pasts, paces=paces, weights=weights, on=on)


def _pace(book: Book, register: Register, past: Past, on: date, zone: tzinfo) -> Pace:
    name = _name(register, past.line)
    box = register.boxes.get(past.box)
    climate = climate_of(book, box.shelf if box else "", on=on, zone=zone)
    warmer = (box.warmer_c or 0.0) if box else 0.0
    return pace_of(name.slug, name.care_group, climate, warmer_c=warmer)


def _name(register: Register, line: str) -> SpeciesName:
    known = register.lines.get(line)
    return species_name(register, known.species if known else "")


def is_culture(register: Register, line: str) -> bool:
    """Whether a line is of springtails."""
    return _name(register, line).care_group in CULTURES


def believed(book: Book, room: Room, *, fell: bool = True) -> tuple[Believed, ...]:
    """Every living colony of isopods, in the order of their codes.

    Without ``fell`` no time is spent on whether each has fallen.
    """
    living = [
        colony
        for colony in room.register.colonies.values()
        if colony.ended is None
        and colony.code in room.pasts
        and not is_culture(room.register, colony.line)
    ]
    return _believed(book, room, sorted(living, key=lambda colony: colony.code), fell=fell)


def believed_in(book: Book, typed: str, *, on: date, learn: bool = True) -> tuple[Room, Believed]:
    """The colony of one box; ``learn`` as in ``room_of``.

    Raises:
        UnknownSubject: when there is no such box.
        Refusal: when it holds no colony, or a culture of springtails.
    """
    code = known_box(book, typed)
    room = room_of(book, on=on, learn=learn)
    colony = room.register.colony_in(code)
    if colony is None or colony.code not in room.pasts:
        raise Refusal(f"Box {code} holds no colony on {on}.")
    if is_culture(room.register, colony.line):
        raise Refusal(
            f"Box {code} holds a culture of springtails; its animals are not counted."
            f" How fast it goes: mancary grow {code}."
        )
    return room, _believed(book, room, [colony])[0]


def _believed(
    book: Book, room: Room, colonies: Sequence[Colony], *, fell: bool = True
) -> tuple[Believed, ...]:
    bodies = kept_bodies(book, [_kept_as(colony.code) for colony in colonies])
    found, fresh = [], {}
    for colony in colonies:
        body = bodies.get(_kept_as(colony.code))
        one = _one(room, colony, unpack(body), fell=fell)
        found.append(one)
        packed = pack(one.held.kept)
        if packed != body:
            fresh[_kept_as(colony.code)] = packed
    keep_bodies(book, fresh)
    return tuple(found)


def _kept_as(colony: str) -> str:
    return f"belief {colony}"


def _one(room: Room, colony: Colony, kept: KeptBelief, *, fell: bool) -> Believed:
    past, pace = room.pasts[colony.code], room.paces[colony.code]
    return Believed(
        box=room.register.boxes.get(colony.box) or Box(colony.box, first_told=""),
        colony=colony,
        species=_name(room.register, colony.line),
        held=held(past, pace, room.weights, kept, on=room.on, fell=fell),
    )
