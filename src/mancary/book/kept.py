"""Sums kept beside the facts under a name, so that they need not be done again. A mere cache."""

from collections.abc import Iterable, Mapping
from typing import Final

from mancary.book.book import Book
from mancary.book.trouble import BookTrouble, said_plainly

_AT_ONCE: Final = 400
"""SQLite takes so many names in one question, and more."""


def kept_bodies(book: Book, names: Iterable[str]) -> dict[str, bytes]:
    """The bodies kept under these names; what is not there is left out."""
    wanted = list(names)
    found: dict[str, bytes] = {}
    with said_plainly(book.path):
        for start in range(0, len(wanted), _AT_ONCE):
            some = wanted[start : start + _AT_ONCE]
            marks = ",".join("?" * len(some))
            query = f"SELECT name, body FROM kept WHERE name IN ({marks})"
            found.update(book.connection.execute(query, some).fetchall())
    return found


def keep_bodies(book: Book, bodies: Mapping[str, bytes]) -> bool:
    """Keeps bodies under their names. Each must say itself what it was made from.

    False, and nothing kept, where somebody is writing or the file may not be written.
    """
    if not bodies or book.connection.in_transaction:  # a reader of one moment writes nothing
        return False
    try:
        with book.writing(wait=False) as db:
            db.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?)", bodies.items())
    except BookTrouble:
        return False
    return True
