"""Remarks: what in them is a word of the trade for something seen, and what stays a note."""

import re

from msgspec import Struct

from mancary.sheets.faults import Unclear, Unreadable
from mancary.sheets.plain import bare_words, plain, tidy
from mancary.sheets.telling.trade_words import Telling, telling_of
from mancary.sheets.values.measures import read_share

_PARTS = re.compile(r"[,;.!\n]+(?:\s|$)|\s+(?:and|och|und|&|\+)\s+")
_SHARE = (
    r"((?:a |one |the )?(?:half|third|quarter)|two thirds|three quarters|halv|halften|halfte|halb|"
    r"en tredjedel|ein drittel|\d\s*/\s*\d|\d{1,3}\s*%|0[.,]\d+)"
)
_LEFT = r"(?:left over|left|kvar|ubrig|remaining|uneaten|not eaten)"
_SHARE_LEFT = re.compile(rf"(?:{_LEFT}\s+{_SHARE}|{_SHARE}\s+(?:of it )?(?:was )?{_LEFT})")
_SHARE_EATEN = re.compile(rf"(?:(?:ate|eaten)\s+{_SHARE}|{_SHARE}\s+(?:was )?(?:eaten|gone))")
_DASHED = re.compile(r"[-−–—]\s*\d")
"""A number below 0, a range, or a list sign before a number: no number is taken from it."""
_NUMBERED = re.compile(r"(\d{1,5})\s+(.+)|(.+?)\s+(\d{1,5})")


class Sight(Struct, frozen=True, kw_only=True):
    """Something seen, with its number or share where told, and the words it was told in."""

    word: str
    animals: int | None = None
    share: float | None = None
    as_written: str = ""


class Remark(Struct, frozen=True, kw_only=True):
    """What a remark tells as seen, and what is left of it as a note."""

    sights: tuple[Sight, ...] = ()
    note: str = ""


def read_remark(text: str) -> Remark:
    """Parts that are words of the trade become sights; with a part that is not, all is kept."""
    sights, rest = [], []
    for part in _PARTS.split(text):
        if not tidy(part):
            continue
        sight = read_sight(part)
        if sight:
            sights.append(sight)
        else:
            rest.append(tidy(part))
    return Remark(sights=tuple(sights), note=tidy(text) if rest and sights else ", ".join(rest))


def read_sight(text: str) -> Sight | None:
    """The sight a phrase tells of, "left half" and "2 dead" too; None where it tells none."""
    told = telling_of(text)
    if told and told.kind == "seen":
        return Sight(word=told.word)
    return _shared(text) or _numbered(text)


def _shared(text: str) -> Sight | None:
    for shape, eaten in ((_SHARE_LEFT, False), (_SHARE_EATEN, True)):
        if found := shape.fullmatch(plain(text)):
            try:
                share = read_share(next(part for part in found.groups() if part), None)
            except (Unclear, Unreadable):
                return None
            left = 1 - share if eaten else share
            return Sight(word="left_over", share=left, as_written=tidy(text))
    return None


def _numbered(text: str) -> Sight | None:
    found = _NUMBERED.fullmatch(bare_words(text))
    if not found or _DASHED.search(plain(text)):
        return None
    told: Telling | None = telling_of(found[2] or found[3])
    if told and told.kind == "seen":
        return Sight(word=told.word, animals=int(found[1] or found[4]))
    return None
