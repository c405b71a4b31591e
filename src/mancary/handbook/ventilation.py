"""What a ventilation class stands for: air changes a day and mL a week, as ranges, all ours."""

from functools import lru_cache
from pathlib import Path
from typing import Final

import msgspec
from msgspec import Struct, field

from mancary.handbook.model import Figure
from mancary.handbook.shelf import bibliography, figures, group_figures, groups
from mancary.handbook.trouble import PageFault
from mancary.handbook.words import Kind

PAGE: Final = Path(__file__).with_name("pages") / "ventilation.toml"


class Ventilation(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One class. Air changes a day; mL a week for a litre of air over the floor.

    The water goes for a room of the page's temperature and humidity; ``also`` are other words.
    """

    name: str
    air_changes_low: float
    air_changes_high: float
    ml_a_week_low: float
    ml_a_week_high: float
    kind: Kind
    source: str
    also: tuple[str, ...] = ()


class VentilationRoom(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The room the mL of the classes go for; ``humidity`` is 0..1."""

    temp_c: float
    humidity: float


class _Page(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    room: VentilationRoom
    classes: tuple[Ventilation, ...] = field(name="class")


@lru_cache(maxsize=1)
def _page() -> _Page:
    try:
        page = msgspec.toml.decode(PAGE.read_bytes(), type=_Page)
    except msgspec.DecodeError as fault:
        raise PageFault("ventilation", "page", str(fault)) from None
    for one in page.classes:
        _check(one)
    return page


def _check(one: Ventilation) -> None:
    if one.source not in bibliography():
        raise PageFault("ventilation", "source", f"{one.source!r} is not in the bibliography")
    for low, high in (
        (one.air_changes_low, one.air_changes_high),
        (one.ml_a_week_low, one.ml_a_week_high),
    ):
        if not 0 < low < high:
            raise PageFault("ventilation", one.name, "the low end is not below the high end")


def ventilations() -> dict[str, Ventilation]:
    """The classes by name, the least air first."""
    return {one.name: one for one in _page().classes}


def ventilation_room() -> VentilationRoom:
    """The room for which the mL a week of the classes go."""
    return _page().room


def ventilation_said(words: str) -> Ventilation | None:
    """The class a word means ("medium", "airy"), or None."""
    told = " ".join(words.split()).casefold()
    return next((one for one in _page().classes if told in (one.name, *one.also)), None)


def ventilation_figure(slug: str) -> Figure | None:
    """The class a page or care group is put in, with its kind and source; None where blank.

    Raises:
        UnknownPage: when there is neither a page nor a care group of this plain name.
    """
    grouped = slug in {group.slug for group in groups()}
    known = group_figures(slug) if grouped else figures(slug)
    return known.get("ventilation_class")
