"""What the boxes of one make taught by an evening, gathered once for all of them."""

from datetime import date, tzinfo
from typing import Final

from mancary.book import Book
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box
from mancary.husbandry.water_shared import Make, Shared, Taught, make_of, shared_among
from mancary.usecases.unchanged import Unchanged
from mancary.usecases.water_weighed import weighings_of


def shared_of(book: Book, register: Register, box: Box, *, on: date, zone: tzinfo) -> Shared | None:
    """What the other boxes of a box's make teach it; None where it has no make or they are silent.

    Only boxes in use and weighed lately teach.

    The weighings of a make are looked at once while the book stays as it is, not once a box.
    """
    make = make_of(box)
    if make is None:
        return None
    return _SHARED.get(
        book, (on, zone), make, lambda: _of_make(book, register, make, on, zone)
    ).get(box.code)


_SHARED: Final[Unchanged[Make, dict[str, Shared]]] = Unchanged(states=4)
_MAKES: Final[Unchanged[None, dict[Make, list[Box]]]] = Unchanged(states=4)


def _of_make(
    book: Book, register: Register, make: Make, on: date, zone: tzinfo
) -> dict[str, Shared]:
    makes = _MAKES.get(book, (on, zone), None, lambda: _sorted_out(register))
    boxes = makes.get(make, [])
    return _gathered(book, boxes, on, zone) if len(boxes) > 1 else {}


def _sorted_out(register: Register) -> dict[Make, list[Box]]:
    """The boxes of each make, those out of use left out."""
    makes: dict[Make, list[Box]] = {}
    for box in register.boxes.values():
        if not box.retired_on and (make := make_of(box)):
            makes.setdefault(make, []).append(box)
    return makes


def _gathered(book: Book, boxes: list[Box], on: date, zone: tzinfo) -> dict[str, Shared]:
    taught = {}
    for box in boxes:
        told = weighings_of(book, box, on=on, zone=zone)
        explained, loss = told.explained, told.learnt.loss
        if explained is None or explained.middle <= 0:
            continue
        taught[box.code] = Taught(
            rate=loss.rate if loss else None,
            rate_sd=loss.rate_sd if loss else None,
            model=explained.middle,
        )
    return shared_among(taught, boxes[0].make)
