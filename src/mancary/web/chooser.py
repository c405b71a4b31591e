"""The words a keeper chooses from when writing down: those written lately first."""

from collections.abc import Iterable, Sequence
from typing import Final

from msgspec import Struct

from mancary.husbandry.words import BANDS, CARES, SEEN
from mancary.web.tongue import _
from mancary.web.vocabulary import band_said, said


class Word(Struct, frozen=True, kw_only=True):
    """One word: ``value`` is sent, ``words`` are shown."""

    value: str
    words: str


class Drawer(Struct, frozen=True, kw_only=True):
    """Words of one sort; ``more`` lie folded away until asked for."""

    name: str
    words: tuple[Word, ...]
    more: tuple[Word, ...] = ()


_FOREMOST: Final = 6
_GIVEN_FIRST: Final = ("look", "mist", "vegetable", "protein", "leaf_litter", "leftovers_out")
_SEEN_FIRST: Final = ("young_seen", "none_seen", "dead", "left_over", "all_gone", "mould")


def foremost(words: Iterable[str], usual: Sequence[str], recent: Sequence[str]) -> list[str]:
    """All the words: those written lately, then the usual ones, then the rest."""
    known = list(words)
    first = [word for word in recent if word in known][:_FOREMOST]
    return list(dict.fromkeys((*first, *(word for word in usual if word in known), *known)))


def _drawer(name: str, words: Iterable[str], usual: Sequence[str], recent: Sequence[str]) -> Drawer:
    told = tuple(Word(value=word, words=said(word)) for word in foremost(words, usual, recent))
    return Drawer(name=name, words=told[:_FOREMOST], more=told[_FOREMOST:])


def drawers(recent: Sequence[str] = ()) -> tuple[Drawer, ...]:
    """What may be written down of a box; ``recent`` are the words written lately."""
    return (
        _drawer(_("Given"), CARES, _GIVEN_FIRST, recent),
        _drawer(_("Seen"), SEEN, _SEEN_FIRST, recent),
        Drawer(
            name=_("Size band, at a glance"),
            words=tuple(Word(value=band, words=band_said(band)) for band in BANDS),
        ),
        Drawer(
            name=_("Measured or told"),
            words=(
                Word(value="count", words=_("counted")),
                Word(value="weigh", words=_("weighed, lid on")),
                Word(value="note", words=_("a note")),
            ),
        ),
    )


CORRECTABLE: Final = frozenset({"care_given", "seen", "counted", "weighed", "noted"})
"""The kinds of fact that one word and an amount can tell anew."""
