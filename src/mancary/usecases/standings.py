"""The register and the standings, from the cache where it holds."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import tzinfo
from zoneinfo import ZoneInfo

from mancary.book import Book
from mancary.book.cache import keep_standings, kept_standing, kept_standings, kept_upto
from mancary.husbandry.entries import Entry
from mancary.husbandry.register import REGISTER_KINDS, Register, read_register
from mancary.husbandry.standing import STANDING_SHAPE, Standing, advance, fold, pack, unpack


def zone_of(book: Book) -> tzinfo:
    """The keeper's zone, as said when the book was opened."""
    opened = book.entries_of(("book_opened",))
    return ZoneInfo(opened[-1].fact.zone) if opened else ZoneInfo("UTC")  # type: ignore[attr-defined]


def register_of(book: Book, zone: tzinfo | None = None) -> Register:
    """Which rooms, shelves, boxes, lines and colonies there are now."""
    return read_register(book.entries_of(REGISTER_KINDS), zone or zone_of(book))


def standings_of(book: Book, zone: tzinfo | None = None) -> dict[str, Standing]:
    """The standing of every box that any fact is about, by code."""
    zone = zone or zone_of(book)
    kept = kept_standings(book, shape=STANDING_SHAPE)
    fresh = _by_box(book.entries(after=kept.upto))
    standings = {box: unpack(body) for box, body in kept.bodies.items()}
    if not fresh:
        return standings
    for box, entries in fresh.items():
        known = standings.get(box)
        if kept.upto == 0:
            standings[box] = fold(box, entries, zone)
        elif known is None or not advance(known, entries, zone):
            standings[box] = fold(box, book.entries_about(f"box:{box}"), zone)
    _keep(book, {box: standings[box] for box in fresh}, fresh, afresh=kept.upto == 0)
    return standings


def standing_of(book: Book, box: str, zone: tzinfo | None = None) -> Standing:
    """The standing of one box, without a look at the others."""
    zone = zone or zone_of(book)
    upto = kept_upto(book, shape=STANDING_SHAPE)
    known = kept_standing(book, box) if upto else None
    if known is not None:
        standing = unpack(known)
        if advance(standing, book.entries_about(f"box:{box}", after=upto), zone):
            return standing
    return fold(box, book.entries_about(f"box:{box}"), zone)


def _by_box(entries: Iterable[Entry]) -> dict[str, list[Entry]]:
    found: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        for subject in set(entry.fact.subjects()):
            if subject.startswith("box:"):
                found[subject[4:]].append(entry)
    return found


def _keep(
    book: Book, changed: dict[str, Standing], fresh: dict[str, list[Entry]], *, afresh: bool
) -> None:
    upto = max(entries[-1].number for entries in fresh.values())
    bodies = ((box, pack(standing)) for box, standing in changed.items())
    keep_standings(book, bodies, upto=upto, shape=STANDING_SHAPE, afresh=afresh)
