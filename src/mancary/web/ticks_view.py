"""The plan kept for an evening in the order of its paper sheet, what is written already marked."""

from collections.abc import Sequence
from itertools import groupby

from msgspec import Struct

from mancary.husbandry.words import AT_HAND
from mancary.paper.round_sheet import APART
from mancary.usecases.round_ahead import Ahead, look_ahead
from mancary.usecases.round_evening import KeptEvening
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.web.desk import OpenDesk
from mancary.web.tongue import _, gettext


class TickLine(Struct, frozen=True, kw_only=True):
    """One box: the cares still to tick in the order of the hand, and those written already."""

    box: str
    shelf: str
    species: SpeciesName | None
    cares: tuple[str, ...]
    written: tuple[str, ...]


class TickPart(Struct, frozen=True, kw_only=True):
    """The boxes of one shelf, or all that are set apart."""

    name: str
    lines: tuple[TickLine, ...]


class TicksView(Struct, frozen=True, kw_only=True):
    """The parts in walking order, and the shelves a thermometer may have been read on."""

    kept: KeptEvening
    parts: tuple[TickPart, ...]
    shelves: tuple[str, ...]


def ticks_view(book: OpenDesk, kept: KeptEvening) -> TicksView:
    """The page of one kept plan."""
    ahead = look_ahead(book.book, on=kept.day, named=True, minutes=None)
    cares = dict(kept.stops)
    walk = [box for box in ahead.walk if box in cares]
    walk += [box for box in cares if box not in walk and box in ahead.register.boxes]

    def place(box: str) -> tuple[bool, str]:
        apart = _apart(ahead, box)
        return apart, "" if apart else ahead.register.boxes[box].shelf

    parts = [
        TickPart(
            name=gettext(APART)
            if apart
            else _("Shelf %(shelf)s", shelf=shelf)
            if shelf
            else _("No shelf said"),
            lines=tuple(_line(ahead, kept, box, cares[box]) for box in here),
        )
        for (apart, shelf), here in groupby(walk, key=place)
    ]
    due = {one.shelf for one in ahead.shelves}
    walked = {ahead.register.boxes[box].shelf for box in walk} | due
    shelves = sorted(ahead.register.shelves.values(), key=lambda one: one.turn)
    return TicksView(
        kept=kept,
        parts=tuple(parts),
        shelves=tuple(one.code for one in shelves if one.code in walked),
    )


def _apart(ahead: Ahead, box: str) -> bool:
    return ahead.register.boxes[box].quarantine is not None or box in ahead.catching


def _line(ahead: Ahead, kept: KeptEvening, box: str, cares: Sequence[str]) -> TickLine:
    line = ahead.register.line_in(box)
    ordered = sorted(cares, key=AT_HAND.index)
    return TickLine(
        box=box,
        shelf=ahead.register.boxes[box].shelf,
        species=species_name(ahead.register, line.species) if line else None,
        cares=tuple(care for care in ordered if (box, care) not in kept.recorded),
        written=tuple(care for care in ordered if (box, care) in kept.recorded),
    )
