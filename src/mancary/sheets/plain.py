"""Text made plain, so that ways of typing the same word fall together."""

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

_GAPS = re.compile(r"\s+")
_NOT_WORDS = re.compile(r"[^\w%]+|_+")


def tidy(text: str) -> str:
    """The text in composed form, without outer space, one space where several were typed."""
    return _GAPS.sub(" ", unicodedata.normalize("NFC", text)).strip()


@lru_cache(maxsize=20_000)
def plain(text: str) -> str:
    """Small letters without accents, one space where several were typed: "Mögel " is "mogel"."""
    apart = unicodedata.normalize("NFKD", text.replace("\u2019", "'")).casefold()
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return _GAPS.sub(" ", bare.replace("\u2044", "/")).strip()


@lru_cache(maxsize=20_000)
def bare_words(text: str) -> str:
    """Plain words only, punctuation gone: "Protein / wk." is "protein wk"."""
    return _GAPS.sub(" ", _NOT_WORDS.sub(" ", plain(text))).strip()


def told_apart(names: Sequence[str], width: int) -> tuple[str, ...]:
    """So many headings, each by a name of its own: a blank by its column, one told twice "(2)"."""
    seen: Counter[str] = Counter()
    found = []
    for number in range(width):
        name = (names[number] if number < len(names) else "") or f"column {number + 1}"
        seen[name] += 1
        found.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return tuple(found)
