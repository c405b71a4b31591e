"""How well the values of a column look like those of a role, 0 to 1."""

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Final

from mancary import handbook
from mancary.sheets.plain import bare_words, plain
from mancary.sheets.telling.trade_words import tellings
from mancary.sheets.values.dates import looks_like_date
from mancary.sheets.values.numbers import NUMBER
from mancary.sheets.values.units import is_unit

_SAMPLE = 300
_CODE = re.compile(r"[^\W\d_]{0,4}[ .\-/#]?\d{1,4}[a-z]?", re.IGNORECASE)
_LATIN = re.compile(
    r"[A-Z][a-z]+\.? (?:(?:sp|spp|cf)\b.*|[a-z]{2,}(?:us|um|is|a|ae|i|es|er|or|ans|ens)(?: .*)?)"
)
_NUMBER_UNIT = re.compile(rf"(?:ca\.? ?|~)?{NUMBER}\s*([a-z]*)\.?\+?")
_VENTS = re.compile(r"\d+\s*(?:x|\*|×|mesh)\s*\d*.*")
_SHARE = re.compile(rf"{NUMBER}\s*%|\d\s*/\s*\d|half|halv|halb|0[.,]\d+")
_LITRES = re.compile(rf"{NUMBER}\s*(?:l|ml|litres?|liters?|ltr)\.?")
_SIZE = re.compile(r"\d+\s*[x×*]\s*\d+(?:\s*[x×*]\s*\d+).*")


_NAMED = 0.8
"""Ours: full and trade names, abbreviations and slips of a letter; not colours alone."""
_MOST_NAMES = 40
_LONGEST_NAME = 200
_TRADE = 0.6


@lru_cache(maxsize=4096)
def name_likeness(cell: str) -> float:
    """How surely a text is a name: 1 as a scientific one the handbook knows, less as a trade name.

    Colours and patterns are trade names too, so a column of them alone is no sure sign.
    """
    if sum(map(str.isalpha, cell)) < 4 or looks_like_date(cell) or bare_words(cell) in tellings():
        return 0.0
    proposals = handbook.find(cell[:_LONGEST_NAME])
    if not proposals or proposals[0].confidence < _NAMED:
        return 0.0
    return _TRADE if proposals[0].how == "trade name" else 1.0


def _species_likeness(cell: str) -> float:
    return 1.0 if _LATIN.fullmatch(cell) else name_likeness(cell)


def _amount(cell: str) -> bool:
    found = _NUMBER_UNIT.fullmatch(plain(cell))
    return bool(found and (not found[1] or is_unit(found[1]))) or is_unit(plain(cell))


_LOOKS: Final[dict[str, Callable[[str], bool]]] = {
    "box": lambda cell: bool(_CODE.fullmatch(cell)),
    "shelf": lambda cell: bool(_CODE.fullmatch(cell)),
    "since": looks_like_date,
    "date": looks_like_date,
    "what": lambda cell: bare_words(cell) in tellings(),
    "vents": lambda cell: bool(_VENTS.fullmatch(plain(cell))),
    "damp": lambda cell: bool(_SHARE.fullmatch(plain(cell))),
    "litres": lambda cell: bool(_LITRES.fullmatch(plain(cell))),
    "size": lambda cell: bool(_SIZE.fullmatch(plain(cell))),
    "amount": _amount,
    "count": lambda cell: bool(re.match(rf"(?:ca\.? ?|~)?{NUMBER}\+?", plain(cell))),
}
"""Roles whose values have a look of their own."""


_SORTS: Final = ("since", "amount", "box", "what")


def sort_of_value(cell: str) -> str:
    """The sort of value a cell looks like, empty where it looks like none: a date is "since"."""
    found = next((role for role in _SORTS if _LOOKS[role](cell)), "")
    return found or ("species" if name_likeness(cell) else "")


def look(role: str, cells: Sequence[str]) -> float:
    """The share of the filled cells that look like the role's values; 0 where it has no look."""
    filled = [cell for cell in cells if cell][:_SAMPLE]
    if filled and role == "species":
        names = list(dict.fromkeys(filled))[:_MOST_NAMES]
        return sum(map(_species_likeness, names)) / len(names)
    sees = _LOOKS.get(role)
    if sees is None or not filled:
        return 0.0
    fitting = sum(map(sees, filled)) / len(filled)
    if role == "box":
        # a box list names each box once; shelves and journals name them again and again
        return fitting * (0.5 + 0.5 * distinct(filled))
    return fitting


def distinct(cells: Sequence[str]) -> float:
    """The share of the filled cells that differ from one another."""
    filled = [plain(cell) for cell in cells if cell]
    return len(set(filled)) / len(filled) if filled else 0.0
