"""What to mind beside facts just written, where it takes the book to know it."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import tzinfo
from typing import Literal

from mancary.book import Book
from mancary.husbandry.box_fit import wide_holes
from mancary.husbandry.cautions import cautions
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import BoxDescribed, CareGiven, Fact, ShelfRead, Shelved
from mancary.husbandry.order import key_of
from mancary.husbandry.out_of_range import TOO
from mancary.husbandry.register import Register
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.states import Box
from mancary.husbandry.water_booked import WATER
from mancary.usecases.standings import register_of
from mancary.usecases.warmth import WHAT_TO_DO, came_there, range_of
from mancary.usecases.zone import zone_of

_FLOOD = 0.05
"""Ours: a pour of more than a twentieth of the box is asked about; usual ones are under it."""
_NAMED = 12
"""So many boxes are named in one line; of more, how many there are besides."""


def minds(book: Book, entries: Sequence[Entry]) -> tuple[str, ...]:
    """The sentences that belong beside these facts: heat first, then places, then cautions."""
    zone = zone_of(book)
    facts: list[Fact] = [entry.fact for entry in entries]
    of_book: list[str] = []
    if any(isinstance(fact, ShelfRead | Shelved) for fact in facts):
        register = register_of(book, zone)
        of_book = [*_warmth(register, entries, zone), *_places(register, facts)]
    if any(isinstance(fact, CareGiven) and fact.care == "mist" for fact in facts):
        of_book += _floods(register_of(book, zone), entries)
    holes = [wide_holes(fact) for fact in facts if isinstance(fact, BoxDescribed)]
    return tuple(dict.fromkeys((*of_book, *filter(None, holes), *cautions(facts))))


def _warmth(register: Register, entries: Iterable[Entry], zone: tzinfo) -> list[str]:
    read: dict[str, list[tuple[str, ShelfRead]]] = defaultdict(list)
    for entry in entries:
        if isinstance(entry.fact, ShelfRead):
            read[entry.fact.shelf].append((key_of(entry, zone), entry.fact))
    found = []
    for too in ("hot", "cold"):
        for shelf, looks in read.items():
            boxes = [one for one in register.boxes.values() if one.shelf == shelf and one.colony]
            found += _shelf_warmth(register, shelf, boxes, looks, "hot" if too == "hot" else "cold")
    return found


def _shelf_warmth(
    register: Register,
    shelf: str,
    boxes: Iterable[Box],
    looks: Sequence[tuple[str, ShelfRead]],
    too: Literal["hot", "cold"],
) -> list[str]:
    """One line for a shelf whose looks left the range of boxes that stood on it by then."""
    past: dict[str, float] = {}
    for box in boxes:
        known, since = range_of(register, box.code), came_there(register, box)
        for key, fact in looks if known else ():
            low_c, high_c = known[:2] if known else (0.0, 0.0)
            by = fact.highest_c - high_c if too == "hot" else low_c - fact.lowest_c
            if by > 0 and key >= since:
                past[box.code] = max(by, past.get(box.code, by))
    if not past:
        return []
    most = max(past, key=lambda code: past[code])
    worst = max if too == "hot" else min
    reading = worst(fact.highest_c if too == "hot" else fact.lowest_c for _, fact in looks)
    known = range_of(register, most)
    kept_at = known[2] if known else ""
    return [
        (
            tell(
                "shelf %(shelf)s read %(reading)g °C, %(too)s for %(past)s; furthest past"
                " for %(most)s, by %(past2).3g °C: %(kept_at)s. %(what_to_do)s",
                shelf=shelf,
                reading=reading,
                too=TOO[too],
                past=_named(sorted(past)),
                most=most,
                past2=past[most],
                kept_at=kept_at,
                what_to_do=WHAT_TO_DO[too],
            )
        )
    ]


def _floods(register: Register, entries: Iterable[Entry]) -> list[str]:
    """A question about a pour that is large beside the box."""
    found = []
    for entry in entries:
        fact = entry.fact
        if not isinstance(fact, CareGiven) or fact.care != "mist" or fact.amount is None:
            continue
        box = register.boxes.get(fact.box)
        ml = fact.amount.low * WATER.get(fact.amount.unit, 0.0)
        if box and box.litres and ml > _FLOOD * box.litres * 1000:
            found.append(
                tell(
                    "%(ml)g mL into box %(box)s of %(litres)g L? A box can drown: 5-15 mL is usual"
                    " in a small box, 50-150 mL in a large one (common practice, from memory). Was"
                    " it a slip: mancary withdraw %(id)s, or its line in the time line.",
                    box,
                    ml=ml,
                    box=fact.box,
                    id=entry.id[-8:],
                )
            )
    return found


def _named(codes: Sequence[str]) -> str:
    rest = len(codes) - _NAMED
    return in_a_row(", ", codes[:_NAMED]) + (
        tell(" and %(rest)s more", rest=rest) if rest > 0 else ""
    )


def _places(register: Register, facts: Iterable[Fact]) -> list[str]:
    """Boxes that the book has at one place of one shelf."""
    found = []
    for fact in facts:
        if not isinstance(fact, Shelved) or fact.position is None:
            continue
        here = [
            one.code
            for one in register.boxes.values()
            if (one.shelf, one.position) == (fact.shelf, fact.position)
            and one.code != fact.box
            and not one.retired_on
        ]
        if here:
            place = tell("place %(position)s of shelf %(shelf)s", fact)
            found.append(
                tell(
                    "%(all)s stand at %(place)s in the book too: where is each now?",
                    all=in_a_row(", ", here),
                    place=place,
                )
                if len(here) > 1
                else tell(
                    "%(all)s stands at %(place)s in the book too: where is it now?",
                    all=in_a_row(", ", here),
                    place=place,
                )
            )
    return found
