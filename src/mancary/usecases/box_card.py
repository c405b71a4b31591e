"""A box's card: how it stands, what it wants, and its history as one time line."""

from dataclasses import replace
from datetime import date

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Pictured, Withdrawn
from mancary.husbandry.moments import Moment
from mancary.husbandry.order import key_of, withdrawn_ids
from mancary.husbandry.register import Register
from mancary.husbandry.standing import CountedLast, SeenLast, WeighedLast
from mancary.husbandry.states import Box, Colony, Line
from mancary.husbandry.telling import told
from mancary.usecases.record import known_box
from mancary.usecases.species_names import SpeciesName
from mancary.usecases.standings import carried_along, register_of, standing_of
from mancary.usecases.wants import BoxWants, as_weighed, box_wants
from mancary.usecases.warmth import BoxSpell, box_spells
from mancary.usecases.zone import zone_of


class Told(Struct, frozen=True, kw_only=True):
    """One fact on the time line; a withdrawn one stays, with the reason beside it."""

    id: str
    kind: str
    happened: Moment
    written: str
    words: str
    withdrawn: bool = False
    why_withdrawn: str = ""


class BoxPicture(Struct, frozen=True, kw_only=True):
    """A picture of the box that stands, and the fact that tells of it."""

    id: str
    happened: Moment
    fact: Pictured


class BoxCard(Struct, frozen=True, kw_only=True):
    """All there is to say of one box. The time line has the newest first.

    ``warmth`` are the spells out of its species' range that its shelf's last look still shows.
    """

    box: Box
    colony: Colony | None
    line: Line | None
    species: SpeciesName | None
    visited: str
    seen: dict[str, SeenLast]
    counted: CountedLast | None
    weighed: WeighedLast | None
    wants: BoxWants
    warmth: tuple[BoxSpell, ...]
    time_line: tuple[Told, ...]
    facts: int
    pictures: tuple[BoxPicture, ...]
    invented: bool


def box_card(book: Book, typed: str, *, on: date, most: int | None = None) -> BoxCard:
    """The card of a box; ``most`` cuts the time line to that many facts.

    Raises:
        UnknownSubject: when there is no such box.
    """
    code = known_box(book, typed)
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    if code not in register.boxes:
        unheard = {code: Box(code, first_told="")}
        register = replace(register, boxes=register.boxes | unheard)
    colony = register.colony_in(code)
    standing = carried_along(book, colony, standing_of(book, code, zone, until=on), zone)
    wanted = box_wants(register, standing, on=on, zone=zone)
    wanted = as_weighed(book, register, standing, wanted, on=on, zone=zone)
    entries = _history(book, register, code)
    line = tuple(sorted(entries, key=lambda entry: (key_of(entry, zone), entry.number))[::-1])
    gone, whys = withdrawn_ids(entries), _whys(entries)
    shown = [entry for entry in line if not isinstance(entry.fact, Withdrawn)]
    return BoxCard(
        box=register.boxes[code],
        colony=colony,
        line=register.line_in(code),
        species=wanted.species,
        visited=standing.visited,
        seen=standing.seen,
        counted=standing.counted if colony else None,
        weighed=standing.weighed,
        wants=wanted,
        warmth=box_spells(book, register, code, on=on, zone=zone),
        time_line=tuple(_told(entry, gone, whys) for entry in shown[:most]),
        facts=len(shown),
        pictures=tuple(
            BoxPicture(id=entry.id, happened=entry.happened, fact=entry.fact)
            for entry in shown
            if isinstance(entry.fact, Pictured) and entry.id not in gone
        ),
        invented=bool(register.opened and register.opened.invented),
    )


def _history(book: Book, register: Register, box: str) -> list[Entry]:
    found = {entry.number: entry for entry in book.entries_about(f"box:{box}")}
    colony = register.colony_in(box)
    if colony:
        found |= {entry.number: entry for entry in book.entries_about(f"colony:{colony.code}")}
    return sorted(found.values(), key=lambda entry: entry.number)


def _whys(entries: list[Entry]) -> dict[str, str]:
    return {
        entry.fact.mistaken: entry.fact.why
        for entry in entries
        if isinstance(entry.fact, Withdrawn)
    }


def _told(entry: Entry, gone: set[str], whys: dict[str, str]) -> Told:
    return Told(
        id=entry.id,
        kind=entry.fact.kind,
        happened=entry.happened,
        written=entry.written,
        words=told(entry.fact),
        withdrawn=entry.id in gone,
        why_withdrawn=whys.get(entry.id, "") if entry.id in gone else "",
    )
