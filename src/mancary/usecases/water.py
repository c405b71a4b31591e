"""The water of one box: what its weighings, its vents and its shelf tell of it on a day."""

from collections.abc import Iterable
from datetime import date, tzinfo

from mancary.book import Book
from mancary.husbandry.facts import Amount
from mancary.husbandry.register import Register
from mancary.husbandry.standing import Standing
from mancary.husbandry.states import Box
from mancary.husbandry.water import water_of_box
from mancary.husbandry.water_due import MistDue, mist_of
from mancary.husbandry.water_state import BoxWater
from mancary.usecases.record import known_box
from mancary.usecases.standings import register_of, standings_of
from mancary.usecases.water_shared import shared_of
from mancary.usecases.water_weighed import weighings_of
from mancary.usecases.zone import zone_of


def water_of(book: Book, box: str, *, on: date) -> BoxWater:
    """The water of a box on the evening of a day, in numbers, words and questions.

    Raises:
        UnknownSubject: when there is no such box.
    """
    code = known_box(book, box)
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    return water_in(book, register, code, on=on, zone=zone)


def water_in(book: Book, register: Register, code: str, *, on: date, zone: tzinfo) -> BoxWater:
    """The same for one of many boxes, out of their register of that day."""
    box = register.boxes.get(code) or Box(code, first_told="")
    told = weighings_of(book, box, on=on, zone=zone)
    if not told.ledger.weights:
        return water_of_box(told.ledger, box, on=on)
    shared = shared_of(book, register, box, on=on, zone=zone)
    return water_of_box(
        told.ledger, box, on=on, explained=told.explained, shared=shared, learnt=told.learnt
    )


def mist_by_scale(
    book: Book, register: Register, standing: Standing, *, on: date, zone: tzinfo
) -> MistDue | None:
    """The misting a box's scale calls for; quick where no weight of it was marked just right."""
    if not standing.just_right:
        return None
    return mist_of(water_in(book, register, standing.box, on=on, zone=zone))


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
