"""What befell a colony beside what was seen of it: changes of its floor, moves, shelves too hot."""

from collections.abc import Iterator
from datetime import date

from mancary.book import Book
from mancary.husbandry.colony_curve import Happened
from mancary.husbandry.colony_past import Past
from mancary.husbandry.facts import CareGiven, Fact, Moved, Shelved
from mancary.husbandry.moments import last_day
from mancary.husbandry.order import keyed
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Colony
from mancary.husbandry.words import said
from mancary.usecases.beliefs import Room
from mancary.usecases.warmth import all_spells

_CHANGES = ("substrate_half", "substrate_whole")
_ALL_WEEKS = 520


def events_of(book: Book, room: Room, colony: Colony, past: Past) -> tuple[Happened, ...]:
    """The events up to the day, in order; a hot spell stands where it was found."""
    told = [*_facts(book, room, colony), *_hot(book, room, colony)]
    since = past.since
    return tuple(sorted((one for one in told if one.on >= since), key=lambda one: one.on))


def _facts(book: Book, room: Room, colony: Colony) -> Iterator[Happened]:
    ends = [key for _, key in colony.stays[1:]] + [colony.ended_key or "~"]
    for (box, came), left in zip(colony.stays, ends, strict=True):
        for key, _, entry in keyed(book.entries_about(f"box:{box}"), room.zone):
            day = last_day(entry.happened, room.zone)
            if came <= key <= left and day <= room.on and (told := _told(entry.fact, day)):
                yield told


def _told(fact: Fact, day: date) -> Happened | None:
    match fact:
        case CareGiven(care=care) if care in _CHANGES:
            return Happened(on=day, what="floor", said=said(care))
        case Moved():
            return Happened(on=day, what="rehoused", said=tell("moved to %(to_box)s", fact))
        case Shelved():
            return Happened(on=day, what="rehoused", said=tell("put on shelf %(shelf)s", fact))
    return None


def _hot(book: Book, room: Room, colony: Colony) -> Iterator[Happened]:
    for one in all_spells(
        book, room.register, colony.box, on=room.on, zone=room.zone, weeks=_ALL_WEEKS
    ):
        if one.spell.too == "hot":
            yield Happened(
                on=one.worst_on,
                what="hot",
                said=tell("shelf %(shelf)s too hot, %(worst_c)g °C", one),
            )
