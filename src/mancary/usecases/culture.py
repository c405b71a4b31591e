"""How a springtail culture goes: how fast it doubles in its warmth, and what share may go."""

import math
from collections.abc import Iterator
from datetime import date
from typing import Final

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.handbook.culture import CultureGrowth, culture_growth, first_taking_days
from mancary.handbook.words import Kind
from mancary.husbandry.moments import Moment, last_day
from mancary.husbandry.sentences import tell
from mancary.husbandry.shelf_climate import percent
from mancary.usecases.beliefs import is_culture
from mancary.usecases.record import known_box
from mancary.usecases.shelf_readings import climate_of
from mancary.usecases.species_names import species_name
from mancary.usecases.standings import register_of
from mancary.usecases.zone import zone_of

CROWDED: Final = tell(
    "A crowded culture stops growing: on plaster from some 10 to 30 animals a cm²"
    " on (common practice, no source). Of such a one more may go than the share"
    " says."
)
SPARE: Final = tell(
    "Keep two cultures apart from each other, so that one that turns is no loss"
    " (common practice, no source)."
)


class Culture(Struct, frozen=True, kw_only=True):
    """How a culture goes, as of a day. Days are 90 % of what is believed; None is never.

    ``weekly_share`` (0..1) may go each week. ``said`` are the sentences for the keeper.
    """

    box: str
    species: str
    on: date
    temp_c: float
    temp_said: str
    begun: Moment
    doubling_days: tuple[float | None, float | None]
    doubling_days_seldom_fed: tuple[float | None, float | None]
    first_taking_days: tuple[float | None, float | None]
    weekly_share: float
    kind: Kind
    basis: str
    said: tuple[str, ...]
    invented: bool


def culture_in(book: Book, typed: str, *, on: date) -> Culture | None:
    """The culture of a box; None where it holds none.

    Raises:
        UnknownSubject: when there is no such box.
    """
    code, zone = known_box(book, typed), zone_of(book)
    register = register_of(book, zone, until=on)
    colony = register.colony_in(code)
    if colony is None or not is_culture(register, colony.line):
        return None
    box, line = register.boxes[code], register.lines.get(colony.line)
    name = species_name(register, line.species if line else "")
    climate = climate_of(book, box.shelf, on=on, zone=zone)
    temp = round(climate.temperature.middle + (box.warmer_c or 0.0), 1)
    known = name.slug if name.slug in handbook.species_slugs() else None
    fed = culture_growth(temp, species=known)
    seldom = culture_growth(temp, species=known, seldom_fed=True)
    first = first_taking_days(temp)
    opened = register.opened
    return Culture(
        box=code,
        species=name.name,
        on=on,
        temp_c=temp,
        temp_said=climate.temperature_said,
        begun=colony.founded,
        doubling_days=_days(fed.doubling_days),
        doubling_days_seldom_fed=_days(seldom.doubling_days),
        first_taking_days=_days(first),
        weekly_share=fed.weekly_share,
        kind=fed.kind,
        basis=fed.basis,
        said=tuple(_said(fed, seldom, first, (on - last_day(colony.founded, zone)).days)),
        invented=bool(opened and opened.invented),
    )


def _days(span: tuple[float, float]) -> tuple[float | None, float | None]:
    low, high = (round(end, 1) if math.isfinite(end) else None for end in span)
    return low, high


def _said(
    fed: CultureGrowth,
    seldom: CultureGrowth,
    first: tuple[float, float],
    age_days: int,
) -> Iterator[str]:
    if fed.r_high <= 0:
        yield tell(
            "At this temperature nothing grows: it is too cold to develop, or too hot for eggs."
        )
        yield SPARE
        return
    well, poorly = _span(fed.doubling_days), _span(seldom.doubling_days)
    yield tell(
        "Well fed it doubles in %(well)s; seldom fed in %(poorly)s.", well=well, poorly=poorly
    )
    if age_days < first[1]:
        yield tell(
            "Begun %(age_days)s days ago: a starter's own young lay after %(first)s; take"
            " nothing before (ours).",
            age_days=age_days,
            first=_span(first),
        )
    yield tell(
        "Once it is dense, %(weekly_share)s may go each week (ours).",
        weekly_share=percent(fed.weekly_share),
    )
    yield CROWDED
    yield SPARE


def _span(days: tuple[float, float]) -> str:
    low, high = days
    if not math.isfinite(high):
        return tell("%(low).0f days or more", low=low)
    if high < 10:
        return tell("%(low).1f to %(high).1f days", low=low, high=high)
    return tell("%(low).0f to %(high).0f days", low=low, high=high)
