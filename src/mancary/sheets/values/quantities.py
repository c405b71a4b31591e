"""Quantities as people write them: "ca. 40", "~300", "50+", "150-200", "half", "1/3", "20 ml"."""

import re
from functools import lru_cache
from typing import Literal

from msgspec import Struct

from mancary.sheets.faults import Unreadable
from mancary.sheets.plain import plain
from mancary.sheets.values.numbers import NUMBER, number

Style = Literal["exact", "about", "at_least", "at_most", "range"]

ABOUT_SHARE = 0.2
"""Ours: "about 40" is read as 32 to 48, a fifth either way; keepers do not say how close."""

_ABOUT = (
    r"(?:ca\.?|c\.|circa|cirka|about|around|approx\.?|approximately|roughly|est\.?|ungefar|omkring|"
)
_ABOUT += r"runt|etwa|ungefahr|rund|zirka|~|≈|±|\+/-)"
_AT_LEAST = r"(?:>=?|≥|over|more than|at least|min\.?|mer an|over|minst|uber|mehr als|mindestens)"
_AT_MOST = r"(?:<=?|≤|under|less than|at most|max\.?|up to|hogst|mindre an|hochstens|unter|bis zu)"
_TO = r"(?:-|–|—|−|\.\.+|to|till|bis)"
_RANGE = re.compile(rf"({_ABOUT})?\s*({NUMBER})\s*{_TO}\s*({NUMBER})\s*(.*)")
_SINGLE = re.compile(
    rf"(?:({_ABOUT})|({_AT_LEAST})|({_AT_MOST}))?\s*({NUMBER})\s*(\+|\?)?(?!\s*/\s*\d)\s*(.*)"
)
_MIXED = re.compile(rf"(?:({_ABOUT})\s*)?(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)\s*(.*)")
_NEGATIVE = re.compile(r"[-−–]\s*[.,]?\d")
_IN_WORDS = {
    "half a": 0.5, "half an": 0.5, "half": 0.5, "halv": 0.5, "halvt": 0.5, "halb": 0.5,
    "halber": 0.5, "halbe": 0.5, "a": 1, "an": 1, "one": 1, "en": 1, "ett": 1, "ein": 1,
    "eine": 1, "einen": 1, "two": 2, "tva": 2, "zwei": 2, "three": 3, "tre": 3, "drei": 3,
    "four": 4, "fyra": 4, "vier": 4, "five": 5, "fem": 5, "funf": 5, "six": 6, "ten": 10,
    "a dozen": 12, "dozen": 12, "a couple of": 2,
}  # fmt: skip
_WORDED = re.compile(rf"({'|'.join(sorted(_IN_WORDS, key=len, reverse=True))})(?:\s+(.*))?")


class Quantity(Struct, frozen=True, kw_only=True):
    """A number or a range, and the words after it. ``high`` is None for "at least"."""

    low: float
    high: float | None
    tail: str
    style: Style = "exact"


@lru_cache(maxsize=20_000)
def read_quantity(text: str, decimal: str | None) -> Quantity:
    """The quantity a text begins with; what follows the number is its tail, plain.

    Raises:
        Unclear: where a separator may mark decimals or thousands.
        Unreadable: where it begins with no number, or with one below zero.
    """
    told = plain(text)
    if _NEGATIVE.match(told):
        raise Unreadable("expected a number above 0")
    if found := _MIXED.fullmatch(told):
        return _from_fraction(found)
    if found := _RANGE.fullmatch(told):
        low, high = number(found[2], decimal), number(found[3], decimal)
        return Quantity(
            low=min(low, high), high=max(low, high), tail=found[4].lstrip("? "), style="range"
        )
    if found := _SINGLE.fullmatch(told):
        return _from_number(found, decimal)
    if found := _WORDED.fullmatch(told):
        value = _IN_WORDS[found[1]]
        return Quantity(low=value, high=value, tail=found[2] or "")
    raise Unreadable(f"expected a number, not {text!r}")


def _from_fraction(found: re.Match[str]) -> Quantity:
    above, below = int(found[3]), int(found[4])
    if not below:
        raise Unreadable("nothing can be parted by 0")
    value = int(found[2] or 0) + above / below
    return Quantity(low=value, high=value, tail=found[5], style="about" if found[1] else "exact")


def _from_number(found: re.Match[str], decimal: str | None) -> Quantity:
    value, tail = number(found[4], decimal), found[6]
    if found[2] or found[5] == "+":
        return Quantity(low=value, high=None, tail=tail, style="at_least")
    if found[3]:
        return Quantity(low=0, high=value, tail=tail, style="at_most")
    if found[1] or found[5] == "?":
        return Quantity(
            low=value * (1 - ABOUT_SHARE), high=value * (1 + ABOUT_SHARE), tail=tail, style="about"
        )
    return Quantity(low=value, high=value, tail=tail)
