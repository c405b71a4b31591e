"""How well the values of a column look like those of a role, 0 to 1."""

import re
from collections.abc import Callable, Sequence
from typing import Final

from mancary.sheets.plain import bare_words, plain
from mancary.sheets.telling.trade_words import tellings
from mancary.sheets.values.dates import looks_like_date
from mancary.sheets.values.numbers import NUMBER
from mancary.sheets.values.units import is_unit

_SAMPLE = 300
_CODE = re.compile(r"[^\W\d_]{0,4}[ .\-/#]?\d{1,4}[a-z]?", re.IGNORECASE)
_LATIN = re.compile(r"[A-Z][a-z]+\.? (?:sp\.|spp\.|cf\.|[a-z]{3,}).*")
_NUMBER_UNIT = re.compile(rf"(?:ca\.? ?|~)?{NUMBER}\s*([a-z]*)\.?\+?")
_VENTS = re.compile(r"\d+\s*(?:x|\*|×|mesh)\s*\d*.*")
_SHARE = re.compile(rf"{NUMBER}\s*%|\d\s*/\s*\d|half|halv|halb|0[.,]\d+")
_LITRES = re.compile(rf"{NUMBER}\s*(?:l|ml|litres?|liters?|ltr)\.?")
_SIZE = re.compile(r"\d+\s*[x×*]\s*\d+(?:\s*[x×*]\s*\d+).*")


def _amount(cell: str) -> bool:
    found = _NUMBER_UNIT.fullmatch(plain(cell))
    return bool(found and (not found[1] or is_unit(found[1]))) or is_unit(plain(cell))


_LOOKS: Final[dict[str, Callable[[str], bool]]] = {
    "box": lambda cell: bool(_CODE.fullmatch(cell)),
    "shelf": lambda cell: bool(_CODE.fullmatch(cell)),
    "species": lambda cell: bool(_LATIN.fullmatch(cell)),
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


def look(role: str, cells: Sequence[str]) -> float:
    """The share of the filled cells that look like the role's values; 0 where it has no look."""
    sees = _LOOKS.get(role)
    filled = [cell for cell in cells if cell][:_SAMPLE]
    if sees is None or not filled:
        return 0.0
    fitting = sum(map(sees, filled)) / len(filled)
    if role == "box":
        # a box list names each box once; shelves and journals name them again and again
        return fitting * (0.5 + 0.5 * len(set(filled)) / len(filled))
    return fitting
