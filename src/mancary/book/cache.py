"""Standings kept beside the facts so that they need not be folded again. May be thrown away."""

from collections.abc import Iterable

from msgspec import Struct

from mancary.book.book import Book
from mancary.book.trouble import BookTrouble, said_plainly


class Kept(Struct, frozen=True):
    """Cached bodies by box, and the number of the last fact that is in them."""

    upto: int
    bodies: dict[str, bytes]


def kept_upto(book: Book, *, shape: int) -> int:
    """The number of the last fact in the cache; 0 where there is none of this shape."""
    with said_plainly(book.path):
        row = book.connection.execute("SELECT number, shape FROM standing_upto").fetchone()
    return row[0] if row and row[1] == shape else 0


def kept_standings(book: Book, *, shape: int) -> Kept:
    """All cached bodies, or none where they are of another shape."""
    upto = kept_upto(book, shape=shape)
    if not upto:
        return Kept(0, {})
    with said_plainly(book.path):
        return Kept(upto, dict(book.connection.execute("SELECT box, body FROM standing")))


def kept_standing(book: Book, box: str) -> bytes | None:
    """One cached body."""
    with said_plainly(book.path):
        row = book.connection.execute("SELECT body FROM standing WHERE box = ?", (box,)).fetchone()
    return row[0] if row else None


def keep_standings(
    book: Book, bodies: Iterable[tuple[str, bytes]], *, since: int, upto: int, shape: int
) -> bool:
    """Keeps bodies as of fact ``upto`` that were advanced from the cache as of fact ``since``.

    False, and nothing kept, where another reader has kept its own meanwhile, somebody is writing,
    or the file may not be written: a cache is done without.
    """
    if book.connection.in_transaction:  # a reader of one moment writes nothing
        return False
    try:
        with book.writing(wait=False) as db:
            if kept_upto(book, shape=shape) != since:
                return False
            if since == 0:
                db.execute("DELETE FROM standing")
            db.executemany("INSERT OR REPLACE INTO standing VALUES (?, ?)", bodies)
            db.execute("INSERT OR REPLACE INTO standing_upto VALUES (1, ?, ?)", (upto, shape))
    except BookTrouble:
        return False
    return True
