"""How much of something was given, as people write it."""

from msgspec import Struct

from mancary.husbandry.facts import Amount
from mancary.sheets.faults import Unreadable
from mancary.sheets.plain import bare_words, plain
from mancary.sheets.values.measures import is_unknown
from mancary.sheets.values.quantities import read_quantity
from mancary.sheets.values.units import EXPECTED, MEASURED, is_unit, unit_of

_MOST = 1e7
_VAGUE = frozenset(
    [
        "some",
        "a bit",
        "a little",
        "little",
        "lots",
        "lots of",
        "plenty",
        "much",
        "a lot",
        "more",
        "less",
        "normal",
        "usual",
        "as usual",
        "lite",
        "mycket",
        "etwas",
        "wenig",
        "viel",
        "bisschen",
        "ein bisschen",
        "few",
        "a few",
        "thin layer",
        "a layer",
        "layer",
        "yes",
        "x",
        "done",
    ]
)


class Dose(Struct, frozen=True, kw_only=True):
    """An amount with a number, or words alone where the keeper gave none."""

    amount: Amount | None = None
    words: str = ""


def read_dose(text: str, decimal: str | None, unit: str = "") -> Dose:
    """The dose a text tells; ``unit`` is the heading's or the unit column's.

    Raises:
        Unreadable: where the unit is not known, or the number is not above 0.
    """
    if is_unknown(text) and plain(text) != "x":
        return Dose()
    if bare_words(text) in _VAGUE:
        return Dose(words=text)
    if is_unit(plain(text)):
        word, _ = unit_of(plain(text))
        return Dose(amount=Amount(low=1, unit=word, as_written=text))
    return Dose(amount=_amount(text, decimal, unit))


def _amount(text: str, decimal: str | None, unit: str) -> Amount:
    try:
        told = read_quantity(text, decimal)
    except Unreadable as fault:
        if str(fault) == "expected a number above 0":
            raise
        raise Unreadable(f"expected an amount, like 20 ml, with {EXPECTED}") from None
    word, factor = unit_of(told.tail or unit)
    low = round(told.low * factor, 6)
    high = None if told.high is None else round(told.high * factor, 6)
    if (high if high is not None else low) <= 0 or max(low, high or 0) > _MOST:
        raise Unreadable("expected an amount above 0")
    measured = told.style == "exact" and (word in MEASURED or not told.tail)
    return Amount(
        low=low,
        high=None if high == low else high,
        unit=word,
        as_written="" if measured else text,
    )
