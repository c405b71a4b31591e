"""What the boxes of one make taught by an evening, gathered once for all of them."""

from datetime import date, tzinfo
from functools import lru_cache
from pathlib import Path

from mancary.book import Book, Head
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box
from mancary.husbandry.water_shared import Make, Shared, Taught, make_of, shared_among
from mancary.usecases.water_weighed import weighings_of


def shared_of(book: Book, register: Register, box: Box, *, on: date, zone: tzinfo) -> Shared | None:
    """What the other boxes of a box's make teach it; None where it has no make or they are silent.

    Only boxes in use and weighed lately teach.

    The weighings of a make are looked at once while the book stays as it is, not once a box.
    """
    make = make_of(box)
    if make is None:
        return None
    kept = _kept(book.path, book.head(), on, zone)
    if make not in kept:
        makes = _sorted_out(register, _makes(book.path, book.head(), on, zone))
        boxes = makes.get(make, [])
        kept[make] = _gathered(book, boxes, on, zone) if len(boxes) > 1 else {}
    return kept[make].get(box.code)


@lru_cache(maxsize=4)
def _kept(_path: Path, _head: Head, _on: date, _zone: tzinfo) -> dict[Make, dict[str, Shared]]:
    """What makes share as far as it was asked, of one state of a book and for one evening."""
    return {}


@lru_cache(maxsize=4)
def _makes(_path: Path, _head: Head, _on: date, _zone: tzinfo) -> dict[Make, list[Box]]:
    """The boxes of each make, sorted out at the first asking."""
    return {}


def _sorted_out(register: Register, makes: dict[Make, list[Box]]) -> dict[Make, list[Box]]:
    if not makes:
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
