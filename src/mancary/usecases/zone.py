"""The keeper's zone: in it days begin and end."""

from datetime import tzinfo
from zoneinfo import ZoneInfo

from mancary.book import Book
from mancary.husbandry.facts import BookOpened, Withdrawn
from mancary.husbandry.order import withdrawn_ids


def zone_of(book: Book) -> tzinfo:
    """The zone said when the book was opened, or the last that stands; UTC where none does."""
    opened = book.entries_of((BookOpened.kind,))
    if not opened:
        return ZoneInfo("UTC")
    gone = withdrawn_ids(book.entries_of((Withdrawn.kind,))) if len(opened) > 1 else set()
    zones = [
        entry.fact.zone
        for entry in opened
        if isinstance(entry.fact, BookOpened) and entry.id not in gone
    ]
    return ZoneInfo(zones[-1] if zones else "UTC")
