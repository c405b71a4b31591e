"""The words a keeper chooses from when writing down, foremost ones first."""

from typing import Final

from msgspec import Struct

from mancary.husbandry.words import BANDS, CARES, SEEN, band_said, said


class Word(Struct, frozen=True, kw_only=True):
    """One word: ``value`` is sent, ``words`` are shown."""

    value: str
    words: str


class Drawer(Struct, frozen=True, kw_only=True):
    """Words of one sort; ``more`` lie folded away until asked for."""

    name: str
    words: tuple[Word, ...]
    more: tuple[Word, ...] = ()


_GIVEN_FIRST: Final = ("look", "mist", "vegetable", "protein", "leaf_litter", "leftovers_out")
_SEEN_FIRST: Final = ("young_seen", "none_seen", "dead", "left_over", "all_gone", "mould")


def _drawer(name: str, words: tuple[str, ...], first: tuple[str, ...]) -> Drawer:
    return Drawer(
        name=name,
        words=tuple(Word(value=word, words=said(word)) for word in first),
        more=tuple(Word(value=word, words=said(word)) for word in words if word not in first),
    )


DRAWERS: Final[tuple[Drawer, ...]] = (
    _drawer("Given", CARES, _GIVEN_FIRST),
    _drawer("Seen", SEEN, _SEEN_FIRST),
    Drawer(
        name="Size band, at a glance",
        words=tuple(Word(value=band, words=band_said(band)) for band in BANDS),
    ),
    Drawer(
        name="Measured or told",
        words=(
            Word(value="count", words="counted"),
            Word(value="weigh", words="weighed, lid on"),
            Word(value="note", words="a note"),
        ),
    ),
)

CORRECTABLE: Final = frozenset({"care_given", "seen", "counted", "weighed", "noted"})
"""The kinds of fact that one word and an amount can tell anew."""
