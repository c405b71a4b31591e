"""Volumes, lengths, weights, shares and times a week, as people write them."""

import re
from typing import Final

from mancary.sheets.faults import Choice, Unclear, Unreadable
from mancary.sheets.plain import plain
from mancary.sheets.values.quantities import Quantity, read_quantity
from mancary.sheets.values.units import unit_of

_NOT_KNOWN = frozenset(
    {"", "?", "??", "-", "–", "—", "n/a", "na", "unknown", "not known", "okant", "unbekannt", "x"}
)
_LITRES: Final = {"mL": 0.001, "L": 1.0}
_CM: Final = {"cm": 1.0, "": 1.0, "mm": 0.1, "m": 100.0, "in": 2.54, "inch": 2.54, "inches": 2.54}
_MOST_LITRES = 2000
_MOST_CM = 500
_MOST_GROSS_G = 200_000
_KILOS_BELOW = 20
_MOST_FEEDS = 14
_SHARES = {
    "a third": 1 / 3, "one third": 1 / 3, "third": 1 / 3, "two thirds": 2 / 3, "a quarter": 0.25,
    "quarter": 0.25, "three quarters": 0.75, "half": 0.5, "a half": 0.5, "one half": 0.5,
    "half half": 0.5, "halv": 0.5, "halften": 0.5, "en tredjedel": 1 / 3, "tva tredjedelar": 2 / 3,
    "en fjardedel": 0.25, "tre fjardedelar": 0.75, "halfte": 0.5, "die halfte": 0.5, "halb": 0.5,
    "ein drittel": 1 / 3, "drittel": 1 / 3, "zwei drittel": 2 / 3, "ein viertel": 0.25,
    "viertel": 0.25, "drei viertel": 0.75, "all": 1.0, "whole": 1.0, "none": 0.0, "hela": 1.0,
    "ganz": 1.0,
}  # fmt: skip
_BY = re.compile(r"\s*(?:x|\*|×|by|/)\s*")
_EVERY = re.compile(
    r"(?:every|once every|1 every|var|alle|1x every)\s*(\d+|other|second|andra|zwei|two|three)?"
    r"\s*(week|weeks|vecka|veckor|wochen|woche|day|days|dag|dagar|tage)"
)
_NUMBER_WORDS = {"other": 2, "second": 2, "andra": 2, "zwei": 2, "two": 2, "three": 3}
_A_WEEK = re.compile(
    r"(?:x|times?|ggr|gang|ganger|mal|feeds?)?\s*(?:/|a|per|pro|each|i|om)?\s*"
    r"(?:wk|week|weekly|vecka|veckan|woche)?\.?"
)
_TIMES = {"once": "1", "twice": "2", "weekly": "1", "never": "0"}


def is_unknown(text: str) -> bool:
    """True for an empty cell and for the ways of writing "not known"."""
    return plain(text) in _NOT_KNOWN


def read_litres(text: str, decimal: str | None, unit: str = "") -> float:
    """A volume in litres; ``unit`` is the heading's, litres where there is none.

    Raises:
        Unreadable: where it is not one volume above 0, or beyond 2000 litres.
    """
    expected = "expected one volume above 0 litres, like 3 L or 500 ml"
    try:
        told = read_quantity(text, decimal)
        word, factor = unit_of(told.tail or unit or "l")
    except Unreadable:
        raise Unreadable(expected) from None
    if word not in _LITRES or told.style not in ("exact", "about"):
        raise Unreadable(expected)
    litres = round(_middle(told) * factor * _LITRES[word], 6)
    if not 0 < litres <= _MOST_LITRES:
        raise Unreadable(f"{expected}, and at most {_MOST_LITRES}")
    return litres


def _middle(told: Quantity) -> float:
    return (told.low + (told.low if told.high is None else told.high)) / 2


def read_cm(text: str, decimal: str | None, unit: str = "") -> float:
    """A length in cm; ``unit`` is the heading's, cm where there is none."""
    told = read_quantity(text, decimal)
    factor = _CM.get((told.tail or unit).strip(" ."))
    cm = _middle(told) * factor if factor else 0.0
    if not 0 < cm <= _MOST_CM:
        raise Unreadable(f"expected a length above 0 cm and up to {_MOST_CM} cm")
    return round(cm, 4)


def read_size(text: str, decimal: str | None, unit: str = "") -> tuple[float, ...]:
    """Length, width and perhaps height in cm of "30x20x15 cm"."""
    told = plain(text)
    tail = re.search(r"[a-z]+\.?$", told)
    word = tail.group().strip(".") if tail and tail.group().strip(".") in _CM else ""
    parts = _BY.split(told.removesuffix(tail.group()) if tail and word else told)
    if len(parts) not in (2, 3):
        raise Unreadable("expected length x width x height, like 30x20x15 cm")
    return tuple(read_cm(part.strip(), decimal, word or unit) for part in parts)


def read_gross_g(text: str, decimal: str | None, unit: str = "") -> float:
    """A box's weight in grams; without a unit grams, or asked where the number is small.

    Raises:
        Unclear: where a bare number below 20 may be kilograms.
        Unreadable: where it is no single weight above 0.
    """
    told = read_quantity(text, decimal)
    word, factor = unit_of(told.tail or unit)
    if word not in ("g", "not_said") or told.style not in ("exact", "about"):
        raise Unreadable("expected one weight, like 1455 g or 1,46 kg")
    value = _middle(told)
    if word == "not_said" and 0 < value < _KILOS_BELOW:
        raise Unclear(
            f"{text} may be grams or kilograms",
            (
                Choice(value=f"{text} kg", words=f"{value:g} kg", likelihood=0.85),
                Choice(value=f"{text} g", words=f"{value:g} g", likelihood=0.15),
            ),
        )
    if not 0 < value * factor <= _MOST_GROSS_G:
        raise Unreadable("expected a weight above 0 g and up to 200 kg")
    return round(value * factor, 4)


def read_share(
    text: str, decimal: str | None, unit: str = "", *, of: str = "of the floor"
) -> float:
    """A part of the whole, 0 to 1: "1/3", "half", "0,5", "40%", and "30" as 30 %.

    ``of`` says in a refusal which part was expected: "of the floor", "left over".

    Raises:
        Unclear: for a bare 1, which may be all of it or one per cent.
        Unreadable: where it is no part of a whole.
    """
    told = plain(text)
    if told in _SHARES:
        return _SHARES[told]
    quantity = _part(told, decimal, of)
    value = _middle(quantity)
    if quantity.tail.strip(" .") in ("%", "percent", "per cent", "procent", "prozent", "pct"):
        value /= 100
    elif quantity.tail:
        raise Unreadable(f"expected the part {of}, like 1/3, half, 0.4 or 40%")
    elif value == 1 and unit != "%":
        raise Unclear(f"1 may be all {of}, or one per cent", _ONE)
    elif value >= 1 and "/" not in told:
        value /= 100
    if not 0 <= value <= 1:
        raise Unreadable(f"expected the part {of}, between 0 and 1, or 0 and 100 %")
    return value


def _part(told: str, decimal: str | None, of: str) -> Quantity:
    try:
        return read_quantity(told, decimal)
    except Unreadable:
        raise Unreadable(
            f"expected the part {of}, between 0 and 1, or 0 and 100 %, like 1/3, half or 40%"
        ) from None


_ONE = (
    Choice(value="100%", words="all of it", likelihood=0.7),
    Choice(value="1%", words="one per cent of it", likelihood=0.3),
)


def read_per_week(text: str, decimal: str | None) -> tuple[float, float]:
    """Times a week, lowest and highest: "1", "0,5", "1-2", "2x", "every 2 weeks".

    Raises:
        Unreadable: where it is no rhythm, or more than twice a day.
    """
    told = plain(text)
    told = _TIMES.get(told, told)
    if found := _EVERY.fullmatch(told):
        step = _NUMBER_WORDS.get(found[1] or "1") or int(found[1] or 1)
        days = step * (7 if found[2][0] in "wv" else 1)
        if not days:
            raise Unreadable("expected times a week, like 1 or every 2 weeks")
        return 7 / days, 7 / days
    quantity = read_quantity(told, decimal)
    low, high = quantity.low, quantity.low if quantity.high is None else quantity.high
    if not _A_WEEK.fullmatch(quantity.tail):
        raise Unreadable("expected times a week, like 1 or every 2 weeks")
    if not 0 <= low <= high <= _MOST_FEEDS:
        raise Unreadable(f"expected times a week from 0 to {_MOST_FEEDS}")
    return low, high
