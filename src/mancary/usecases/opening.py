"""Opening a new book."""

from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from mancary.book import Book, create_book, open_book
from mancary.book.file import discard
from mancary.husbandry.codec import encode
from mancary.husbandry.facts import BookOpened
from mancary.husbandry.refusal import Refusal
from mancary.usecases.pen import Pen
from mancary.usecases.record import write


def open_new(
    path: Path, *, name: str, zone: str, pen: Pen, invented: bool = False, note: str = ""
) -> Book:
    """A new book with its first fact: whose it is, and in which zone its days are counted.

    Raises:
        Refusal: when the zone is not one of the IANA time zone database.
        BookTrouble: when the file cannot be made.
    """
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise Refusal(f"{zone!r} is no time zone; expected one like Europe/Stockholm.") from None
    opened = BookOpened(name=name.strip(), zone=zone, invented=invented, note=note)
    encode(opened)
    book = create_book(path)
    try:
        write(book, [opened], pen=pen)
    except BaseException:
        book.close()
        discard(path)
        raise
    return book


def clear_invented(path: Path) -> bool:
    """Removes a demonstration book at ``path``; True where there was one.

    Raises:
        Refusal: when a real book stands there.
        BookTrouble: when the file is no book.
    """
    if not path.exists():
        return False
    with open_book(path) as book:
        opened = [entry.fact for entry in book.entries_of((BookOpened.kind,))]
    if not opened or not all(isinstance(fact, BookOpened) and fact.invented for fact in opened):
        raise Refusal(f"{path} is a real book; the demonstration needs another place.")
    discard(path)
    return True
