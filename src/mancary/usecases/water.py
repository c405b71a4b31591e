"""The water of one box: what its weighings, its vents and its shelf tell of it on a day."""

from collections.abc import Iterable
from datetime import date, tzinfo
from functools import lru_cache
from typing import Any, Final

from mancary.book import Book
from mancary.husbandry.box_air import Modelled, Place, modelled, place_on, warmer_said
from mancary.husbandry.facts import Amount
from mancary.husbandry.register import Register
from mancary.husbandry.standing import Standing
from mancary.husbandry.states import Box
from mancary.husbandry.water import water_of_box
from mancary.husbandry.water_booked import ledger_of
from mancary.husbandry.water_due import MistDue, mist_of
from mancary.husbandry.water_state import BoxWater, Explained
from mancary.usecases.record import known_box
from mancary.usecases.shelf_readings import climate_of
from mancary.usecases.standings import register_of, standings_of
from mancary.usecases.water_shared import shared_of
from mancary.usecases.zone import zone_of


def water_of(book: Book, box: str, *, on: date) -> BoxWater:
    """The water of a box on the evening of a day, in numbers, words and questions.

    Raises:
        UnknownSubject: when there is no such box.
    """
    code = known_box(book, box)
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    return _water(book, register, code, on=on, zone=zone)


def mist_by_scale(
    book: Book, register: Register, standing: Standing, *, on: date, zone: tzinfo
) -> MistDue | None:
    """The misting a box's scale calls for; quick where no weight of it was marked just right."""
    if not standing.just_right:
        return None
    return mist_of(_water(book, register, standing.box, on=on, zone=zone))


def _water(book: Book, register: Register, code: str, *, on: date, zone: tzinfo) -> BoxWater:
    box = register.boxes.get(code) or Box(code, first_told="")
    ledger = ledger_of(book.entries_about(f"box:{code}"), code, zone, until=on)
    if not ledger.weights:
        return water_of_box(ledger, box, on=on)
    explained = _explained(book, box, on, zone)
    shared = shared_of(
        book, register, box, on=on, zone=zone,
        explain=lambda one: _explained(book, one, on, zone),
    )  # fmt: skip
    return water_of_box(ledger, box, on=on, explained=explained, shared=shared)


def _explained(book: Book, box: Box, on: date, zone: tzinfo) -> Explained | None:
    """What the vents explain in the air of the shelf that the box stands on."""
    climate = climate_of(book, box.shelf, on=on, zone=zone)
    place = place_on(climate, box)
    found = _modelled(*(getattr(box, name) for name in _TOLD), place=place)
    if found is None:
        return None
    return Explained(
        low=found.g_per_day_low,
        middle=found.g_per_day,
        high=found.g_per_day_high,
        assumed=(
            *climate.said,
            *warmer_said(box),
            *found.assumed,
            *found.limits,
        ),
    )


_TOLD: Final = (
    "litres", "length_cm", "width_cm", "height_cm", "wall_mm", "vents", "damp_share",
    "substrate_cm", "litter_cm",
)  # fmt: skip
"""What the model reads of a box; boxes told alike in one place are worked out once."""


@lru_cache(maxsize=1024)
def _modelled(*told: Any, place: Place) -> Modelled | None:  # noqa: ANN401  as described
    return modelled(Box("", "", **dict(zip(_TOLD, told, strict=True))), place)


def pours_told(book: Book, boxes: Iterable[str], *, on: date) -> dict[str, Amount]:
    """The mL that the round of an evening tells, for the boxes whose scale tells any.

    For writing down a misting done as told: without its mL no later weighing could be compared
    with an earlier one. Boxes that are to be left alone that evening are not in it.
    """
    zone = zone_of(book)
    wanted = set(boxes)
    marked = [one for one in standings_of(book, zone, until=on).values() if one.just_right]
    register = register_of(book, zone, until=on)
    found = {}
    for standing in marked:
        if standing.box in wanted:
            mist = mist_by_scale(book, register, standing, on=on, zone=zone)
            if mist and mist.amount_ml > 0:
                found[standing.box] = Amount(low=mist.amount_ml, unit="mL")
    return found
