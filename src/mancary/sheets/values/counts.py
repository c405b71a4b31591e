"""Numbers of animals as people write them."""

import math

from msgspec import Struct

from mancary.husbandry.words import BANDS, Band
from mancary.sheets.faults import Unreadable
from mancary.sheets.plain import bare_words, plain
from mancary.sheets.values.measures import is_unknown
from mancary.sheets.values.quantities import ABOUT_SHARE, Style, read_quantity
from mancary.sheets.values.units import unit_of

_MOST_ANIMALS = 1_000_000
_MANY = BANDS["many"][0]
_BAND_WORDS: dict[str, Band] = {
    "none": "none", "no": "none", "inga": "none", "keine": "none", "few": "few", "a few": "few",
    "some": "few", "nagra": "few", "fa": "few", "ett fatal": "few", "einige": "few",
    "wenige": "few", "ein paar": "few", "tens": "tens", "tiotals": "tens", "dutzende": "tens",
    "dozens": "tens", "many": "many", "manga": "many", "viele": "many", "crowded": "crowded",
    "trangt": "crowded", "uberfullt": "crowded", "hundreds": "crowded", "hundratals": "crowded",
    "hunderte": "crowded",
}  # fmt: skip
_LOTS = frozenset(
    [
        "lots",
        "loads",
        "plenty",
        "masses",
        "lots of",
        "a lot",
        "heaps",
        "swarming",
        "massor",
        "mycket",
        "jattemanga",
        "massenhaft",
        "sehr viele",
        "jede menge",
        "haufen",
        "lots and lots",
        "tons",
        "full",
    ]
)


class Count(Struct, frozen=True, kw_only=True):
    """At least ``low``, at most ``high`` animals; the words where they say more than a number."""

    low: int
    high: int | None = None
    band: Band | None = None
    as_written: str = ""
    said: str = ""


def read_count(text: str, decimal: str | None) -> Count | None:
    """The animals a text tells of; None where it says it is not known.

    Raises:
        Unreadable: where it is no number of animals.
    """
    if is_unknown(text):
        return None
    words = bare_words(text)
    if words in _LOTS:
        return Count(low=_MANY, as_written=text, said=f"our reading: at least {_MANY}")
    if words in _BAND_WORDS:
        band = _BAND_WORDS[words]
        low, high = BANDS[band]
        return Count(low=low, high=high, band=band, as_written=text, said=f"size band {band}")
    told = read_quantity(text, decimal)
    if told.tail and unit_of(told.tail)[0] not in ("animals", "piece"):
        raise Unreadable("expected a number of animals")
    if told.style == "exact" and told.low != int(told.low):
        raise Unreadable("expected a whole number of animals")
    high = None if told.high is None else _whole(told.high, up=True)
    plainly = told.style == "exact" and plain(text).isdigit()
    return Count(
        low=_whole(told.low, up=False),
        high=high,
        as_written="" if plainly else text,
        said=_said(told.style),
    )


def _whole(value: float, *, up: bool) -> int:
    near = round(value, 6)
    if near > _MOST_ANIMALS:
        raise Unreadable("expected a number of animals up to a million")
    return math.ceil(near) if up else math.floor(near)


def _said(style: Style) -> str:
    if style == "about":
        return f"our reading of about: {ABOUT_SHARE:.0%} either way"
    return {"at_least": "at least", "at_most": "at most", "range": "a range"}.get(style, "")
