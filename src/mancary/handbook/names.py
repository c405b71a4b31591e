"""Makes names comparable: case, space, quotes, brackets, accents and the ways to write "sp."."""

import re
import unicodedata
from collections.abc import Iterable
from typing import Final

from msgspec import Struct

UNSURE: Final = frozenset({"cf", "aff", "prob", "poss"})
"""Looks like, not sure."""

UNDETERMINED: Final = frozenset({"sp", "spp", "spec", "species", "ssp", "nov", "indet"})

NOISE: Final = frozenset(
    (
        *("isopod", "isopods", "woodlouse", "woodlice", "slater", "slaters", "pill", "pillbug"),
        *("pillbugs", "bug", "bugs", "springtail", "springtails", "colony", "culture", "starter"),
        *("group", "line", "strain", "morph", "form", "trade", "name", "the"),
    )
)
"""Words people set beside a name that name nothing."""

MOST_WORDS: Final = 16
"""Words of a text that are read as a name; what follows is a note, not a name."""

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")


def typed_words(text: str) -> tuple[str, ...]:
    """The words as they were typed, without quotes, brackets and other marks between them."""
    return tuple(_WORD.findall(unicodedata.normalize("NFC", text)))


def plain(word: str) -> str:
    """One word in lower case, without accents and apostrophes."""
    letters = unicodedata.normalize("NFKD", word.casefold())
    return "".join(mark for mark in letters if mark.isalnum())


def words(text: str) -> tuple[str, ...]:
    """The words of a name in lower case, without accents, quotes, brackets and other marks."""
    return tuple(made for word in typed_words(text) if (made := plain(word)))


def key(text: str) -> str:
    """The name as it is compared: its words without "sp.", "cf." and their like."""
    return " ".join(determined(words(text)))


def determined(found: Iterable[str]) -> tuple[str, ...]:
    """The words without those that only say that a form is not determined or not sure."""
    return tuple(word for word in found if word not in UNDETERMINED and word not in UNSURE)


def plain_slug(text: str) -> str:
    """A plain name for addresses and files: "Cubaris sp. Soil" is "cubaris-sp-soil"."""
    return "-".join(words(text))


class Typed(Struct, frozen=True):
    """What was typed, word by word: as it was and as it is compared."""

    raw: tuple[str, ...]
    plain: tuple[str, ...]
    unsure: bool

    @property
    def key(self) -> str:
        return " ".join(self.plain)

    def without_noise(self) -> "Typed":
        """The same without words that name nothing."""
        return self._kept(place for place, word in enumerate(self.plain) if word not in NOISE)

    def beside(self, start: int, end: int) -> "Typed":
        """What stands before and after a span of words."""
        places = range(len(self.plain))
        return self._kept(place for place in places if not start <= place < end).without_noise()

    def _kept(self, places: Iterable[int]) -> "Typed":
        kept = tuple(places)
        return Typed(
            tuple(self.raw[place] for place in kept),
            tuple(self.plain[place] for place in kept),
            self.unsure,
        )


def typed(text: str) -> Typed:
    """A name taken apart into words; "sp." and "cf." are noted and left out."""
    pairs = [(raw, plain(raw)) for raw in typed_words(text)[:MOST_WORDS]]
    kept = [pair for pair in pairs if pair[1] and pair[1] not in UNDETERMINED | UNSURE]
    return Typed(
        tuple(raw for raw, _ in kept),
        tuple(word for _, word in kept),
        any(word in UNSURE for _, word in pairs),
    )
