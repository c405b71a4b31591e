"""The register and the standings, from the cache where it holds."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, timedelta, tzinfo
from itertools import pairwise
from typing import Final
from zlib import crc32

from mancary.book import Book
from mancary.book.cache import (
    Kept,
    keep_standings,
    kept_standing,
    kept_standings,
    kept_upto,
)
from mancary.husbandry.entries import Entry
from mancary.husbandry.order import key_of, withdrawn_ids
from mancary.husbandry.register import REGISTER_KINDS, Register, read_register
from mancary.husbandry.standing import STANDING_SHAPE, Standing, advance, fold, pack, unpack
from mancary.husbandry.states import Colony
from mancary.usecases.unchanged import Unchanged
from mancary.usecases.zone import zone_of


def register_of(book: Book, zone: tzinfo | None = None, *, until: date | None = None) -> Register:
    """Which rooms, shelves, boxes, lines and colonies there are now, or were at a day's end.

    Read once while no fact of the register's kinds is written; whoever gets it changes nothing.
    """
    zone = zone or zone_of(book)
    return _REGISTERS.get(book, (zone, until), None, lambda: _register(book, zone, until))


_REGISTERS: Final[Unchanged[None, Register]] = Unchanged(states=8, kinds=REGISTER_KINDS)


def _register(book: Book, zone: tzinfo, until: date | None) -> Register:
    return read_register(_until(book.entries_of(REGISTER_KINDS), until, zone), zone)


def standings_of(
    book: Book, zone: tzinfo | None = None, *, until: date | None = None
) -> dict[str, Standing]:
    """The standing of every box that any fact is about, by code; what came later left out."""
    zone = zone or zone_of(book)
    standings = _caught_up(book, zone)
    if until is None:
        return standings
    end = _after(until)
    return {
        box: standing
        if standing.latest < end
        else fold(box, _until(book.entries_about(f"box:{box}"), until, zone), zone)
        for box, standing in standings.items()
    }


def standing_of(
    book: Book, box: str, zone: tzinfo | None = None, *, until: date | None = None
) -> Standing:
    """The standing of one box, without a look at the others."""
    zone = zone or zone_of(book)
    with book.one_moment():
        standing = _caught_up_one(book, box, zone)
    if until is None or standing.latest < _after(until):
        return standing
    return fold(box, _until(book.entries_about(f"box:{box}"), until, zone), zone)


def carried_along(book: Book, colony: Colony | None, standing: Standing, zone: tzinfo) -> Standing:
    """The standing of a box with what its colony was given and seen in the boxes before this one.

    Substrate and label stay with the box they were given to.
    """
    if colony is None or len(colony.stays) < 2 or colony.box != standing.box:
        return standing
    for (before, came), (_, left) in reversed(list(pairwise(colony.stays))):
        entries = [
            entry
            for entry in book.entries_about(f"box:{before}")
            if came <= key_of(entry, zone) <= left
        ]
        standing.inherit(fold(before, entries, zone))
    return standing


def _caught_up(book: Book, zone: tzinfo) -> dict[str, Standing]:
    shape = _shape(zone)
    with book.one_moment():
        kept = kept_standings(book, shape=shape)
        try:
            standings = {box: unpack(body) for box, body in kept.bodies.items()}
        except ValueError:  # a damaged cache is no loss
            kept, standings = Kept(0, {}), {}
        upto = book.head().count
        if upto == kept.upto:
            return standings
        fresh = _by_box(book.entries(after=kept.upto))
        for box, entries in fresh.items():
            known = standings.get(box)
            if kept.upto == 0:
                standings[box] = fold(box, entries, zone)
            elif known is None or not advance(known, entries, zone):
                standings[box] = fold(box, book.entries_about(f"box:{box}"), zone)
    bodies = ((box, pack(standings[box])) for box in fresh)
    keep_standings(book, bodies, since=kept.upto, upto=upto, shape=shape)
    return standings


def _caught_up_one(book: Book, box: str, zone: tzinfo) -> Standing:
    upto = kept_upto(book, shape=_shape(zone))
    known = kept_standing(book, box) if upto else None
    if known is not None:
        try:
            standing = unpack(known)
        except ValueError:
            standing = Standing("")
        fresh = book.entries_about(f"box:{box}", after=upto)
        if standing.box == box and advance(standing, fresh, zone):
            return standing
    return fold(box, book.entries_about(f"box:{box}"), zone)


def _shape(zone: tzinfo) -> int:
    """Standings folded in another zone, or by another program, are of another shape."""
    return STANDING_SHAPE << 32 | crc32(str(zone).encode())


def _after(until: date) -> str:
    return (until + timedelta(days=1)).isoformat() if until < date.max else "~"


def _until(entries: list[Entry], until: date | None, zone: tzinfo) -> list[Entry]:
    """The entries that happened up to a day, with every withdrawal that is known of them."""
    if until is None:
        return entries
    gone, end = withdrawn_ids(entries), _after(until)
    return [entry for entry in entries if entry.id not in gone and key_of(entry, zone) < end]


def _by_box(entries: Iterable[Entry]) -> dict[str, list[Entry]]:
    found: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        for subject in set(entry.fact.subjects()):
            if subject.startswith("box:"):
                found[subject[4:]].append(entry)
    return found
