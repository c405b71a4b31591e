"""The water of one box: what its weighings, its vents and its shelf tell of it on a day."""

from collections.abc import Iterable
from datetime import date, timedelta, tzinfo
from functools import lru_cache
from typing import Any, Final

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.box_air import Modelled, Place, modelled
from mancary.husbandry.facts import Amount, ShelfRead
from mancary.husbandry.moments import first_day
from mancary.husbandry.order import in_order
from mancary.husbandry.register import Register
from mancary.husbandry.standing import Standing
from mancary.husbandry.states import Box
from mancary.husbandry.water import water_of_box
from mancary.husbandry.water_booked import ledger_of
from mancary.husbandry.water_due import MistDue, mist_of
from mancary.husbandry.water_state import BoxWater, Explained
from mancary.usecases.record import known_box
from mancary.usecases.standings import register_of, standings_of
from mancary.usecases.zone import zone_of

READ_WITHIN_DAYS: Final = 60
"""Ours: an older reading of the shelf tells of another season."""


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
    explained = _explained(book, box, on, zone) if ledger.weights else None
    return water_of_box(ledger, box, on=on, explained=explained)


def _explained(book: Book, box: Box, on: date, zone: tzinfo) -> Explained | None:
    """What the vents explain where the box stands; the room's humidity is assumed."""
    room = handbook.ventilation_room()
    temp_c, told = _shelf_c(book, box.shelf, on, zone) or (
        room.temp_c,
        f"{room.temp_c:g} °C, for its shelf was not read lately",
    )
    found = _modelled(*(getattr(box, name) for name in _TOLD), place=_place(temp_c, room.humidity))
    if found is None:
        return None
    return Explained(
        low=found.g_per_day_low,
        middle=found.g_per_day,
        high=found.g_per_day_high,
        assumed=(
            told,
            f"room air of {room.humidity * 100:.0f} % humidity",
            *found.assumed,
            *found.limits,
        ),
    )


def _shelf_c(book: Book, shelf: str, on: date, zone: tzinfo) -> tuple[float, str] | None:
    """The middle of the shelf's last readings, and the words for it."""
    about = f"shelf:{shelf}"
    since = on - timedelta(days=READ_WITHIN_DAYS)
    entries = in_order(book.entries_about(about), zone) if shelf else []
    read = [
        (entry.fact.lowest_c + entry.fact.highest_c) / 2
        for entry in entries
        if isinstance(entry.fact, ShelfRead)
        and since <= first_day(entry.happened, zone) <= on
        and entry.fact.lowest_c <= entry.fact.highest_c
    ]
    if not read:
        return None
    middle = sum(read) / len(read)
    return middle, f"{middle:.1f} °C, the middle of its shelf's readings"


_TOLD: Final = (
    "litres", "length_cm", "width_cm", "height_cm", "wall_mm", "vents", "damp_share",
    "substrate_cm", "litter_cm",
)  # fmt: skip
"""What the model reads of a box; boxes told alike at one temperature are worked out once."""


def _place(temp_c: float, humidity: float) -> Place:
    return Place(temp_c=round(temp_c, 1), rh_outside=humidity)


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
