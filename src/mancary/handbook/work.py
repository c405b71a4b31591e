"""What each care takes of the keeper's minutes, and how much its lateness harms."""

from functools import lru_cache
from pathlib import Path
from typing import Final

import msgspec
from msgspec import Struct, field

from mancary.handbook.rhythms import moisture_class
from mancary.handbook.shelf import bibliography, figures, group_figures, groups
from mancary.handbook.trouble import PageFault
from mancary.handbook.words import Kind

PAGE: Final = Path(__file__).with_name("pages") / "work.toml"


class Opening(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Minutes to take a box out, open it and put it back, whatever is done in it."""

    minutes_low: float
    minutes_high: float
    kind: Kind
    source: str
    note: str = ""

    @property
    def minutes(self) -> float:
        return (self.minutes_low + self.minutes_high) / 2


class Effort(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One care: its minutes, the harm of a day's lateness in minutes, and the days it forgives.

    ``moisture`` and ``growth`` multiply the harm for boxes of that class.
    """

    care: str
    minutes_low: float
    minutes_high: float
    harm: float
    tolerance_days: float
    kind: Kind
    source: str
    risk: str
    moisture: dict[str, float] = field(default_factory=dict)
    growth: dict[str, float] = field(default_factory=dict)

    @property
    def minutes(self) -> float:
        return (self.minutes_low + self.minutes_high) / 2


class _Page(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    opening: Opening
    care: tuple[Effort, ...]


@lru_cache(maxsize=1)
def _page() -> _Page:
    try:
        page = msgspec.toml.decode(PAGE.read_bytes(), type=_Page)
    except msgspec.DecodeError as fault:
        raise PageFault("work", "page", str(fault)) from None
    known = bibliography()
    told: tuple[Opening | Effort, ...] = (page.opening, *page.care)
    for one in told:
        if one.source not in known:
            raise PageFault("work", "source", f"{one.source!r} is not in the bibliography")
        if not 0 <= one.minutes_low <= one.minutes_high:
            raise PageFault("work", "minutes", "the low end is above the high end")
    return page


def opening() -> Opening:
    """What it takes to open any box."""
    return _page().opening


def efforts() -> dict[str, Effort]:
    """Each care's minutes and harm, by care."""
    return {one.care: one for one in _page().care}


def harm_of(effort: Effort, slug: str) -> float:
    """The harm of a day's lateness for a page or care group, in minutes.

    Raises:
        UnknownPage: when there is neither a page nor a care group of this plain name.
    """
    moisture, growth = _classes(slug)
    return effort.harm * effort.moisture.get(moisture, 1.0) * effort.growth.get(growth, 1.0)


@lru_cache(maxsize=1024)
def _classes(slug: str) -> tuple[str, str]:
    """The class of moisture and of growth of a page or care group; empty where unknown."""
    grouped = slug in {group.slug for group in groups()}
    known = group_figures(slug) if grouped else figures(slug)
    growth = known["growth_speed"].text if "growth_speed" in known else ""
    return moisture_class(slug) or "", growth
