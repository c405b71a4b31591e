"""The words the book stores, as they are said in the language of the one who reads."""

from mancary.husbandry import words
from mancary.web.measures import num
from mancary.web.tongue import _, gettext


def said(word: str) -> str:
    """A stored word: ``young_seen`` is "young seen"."""
    return gettext(words.said(word))


def band_said(band: str) -> str:
    """A size band with its numbers: "tens (10-49)"."""
    low, high = words.BANDS[band]
    name = gettext(band)
    if high is None:
        return f"{name} ({low}+)"
    return f"{name} ({low}-{high})" if high else name


def range_said(low: float | None, high: float | None, unit: str = "") -> str:
    """A range: "8-12 animals", "at least 50", "not counted"; the unit already in words."""
    tail = f" {unit}" if unit else ""
    if low is None and high is None:
        return _("not counted")
    if low is None:
        return _("at most %(number)s", number=f"{num(high or 0)}{tail}")
    if high is None:
        return _("at least %(number)s", number=f"{num(low)}{tail}")
    return f"{num(low)}{tail}" if low == high else f"{num(low)}-{num(high)}{tail}"
