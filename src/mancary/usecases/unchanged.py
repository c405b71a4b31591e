"""Answers kept while a book stays as it is, so that a page asks for each of them once."""

from collections.abc import Callable, Hashable, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Generic, TypeVar

from mancary.book import Book, Head

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")


class Unchanged(Generic[Key, Value]):
    """Answers by key, of the last few ``states`` of books.

    A fact written makes another state; where ``kinds`` are given, only a fact of one of these does,
    so these must be all that the answers rest on.
    """

    def __init__(self, *, states: int, kinds: Sequence[str] = ()) -> None:
        self._kinds = tuple(dict.fromkeys(kinds))

        @lru_cache(maxsize=states)
        def kept(_path: Path, _head: Head, _asked: Hashable) -> dict[Key, Value]:
            return {}

        self._kept = kept

    def get(self, book: Book, asked: Hashable, key: Key, make: Callable[[], Value]) -> Value:
        """The answer to a key, made where it is not kept.

        ``asked`` is what else the answers of a state rest on: the day, the zone.
        """
        state = book.newest_of(self._kinds) if self._kinds else book.head()
        kept = self._kept(book.path, state, asked)
        if key not in kept:
            kept[key] = make()
        return kept[key]
