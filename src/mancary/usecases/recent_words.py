"""The words a keeper wrote lately, so that pages can offer them first."""

from collections import Counter
from typing import Final

from mancary.book import Book
from mancary.husbandry.facts import CareGiven, SeenInBox

LATELY: Final = 300
"""Ours: so many of the newest facts, some evenings' worth."""


def recent_words(book: Book) -> tuple[str, ...]:
    """The cares and the seen words among the newest facts, the most frequent first.

    By how often and not by when, so that a word does not jump about under the thumb.
    """
    after = max(0, book.head().count - LATELY)
    counted: Counter[str] = Counter()
    for entry in book.entries_of((CareGiven.kind, SeenInBox.kind), after=after):
        match entry.fact:
            case CareGiven(care=word) | SeenInBox(word=word):
                counted[word] += 1
    return tuple(word for word, _ in sorted(counted.items(), key=lambda one: (-one[1], one[0])))
