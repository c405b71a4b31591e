"""One care of every box on a shelf, written in one go: "misted all of shelf B"."""

from datetime import date
from typing import get_args

from mancary.book import Book
from mancary.husbandry.codes import code
from mancary.husbandry.facts import Amount, CareGiven
from mancary.husbandry.moments import last_day, on_day
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import capital, in_a_row, tell
from mancary.husbandry.words import CARES, Care, said
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, past, write
from mancary.usecases.standings import register_of, standing_of, standings_of
from mancary.usecases.wants import walking_order
from mancary.usecases.zone import zone_of


def boxes_on(book: Book, shelf: str, *, on: date) -> list[str]:
    """The boxes with a colony on a shelf, in their order; those in quarantine stand apart.

    Raises:
        Refusal: for a shelf without such a box.
    """
    register = register_of(book, zone_of(book), until=on)
    named = code(shelf) if shelf else ""
    here = [
        box.code
        for box in register.boxes.values()
        if box.shelf == named and box.colony and not box.retired_on and not box.quarantine
    ]
    if not here:
        known = in_a_row(", ", sorted({box.shelf for box in register.boxes.values() if box.shelf}))
        raise Refusal(
            tell(
                "No box with a colony stands on shelf %(named)r. Shelves: %(what)s.",
                named=named,
                what=known or "none",
            )
        )
    return walking_order(register, here)


def care_for_shelf(book: Book, shelf: str, care: str, *, on: date | None, pen: Pen) -> Recorded:
    """Writes one care as given for every box on a shelf that had it not on that day.

    Raises:
        Refusal: for a word that is no care, an empty shelf, a day to come, or nothing to write.
    """
    word = care.strip().lower().replace("-", "_").replace(" ", "_")
    if word not in CARES:
        raise Refusal(
            tell(
                "%(care)r is no care; expected one of %(all)s.",
                care=care,
                all=in_a_row(", ", get_args(Care)),
            )
        )
    day = on or pen.now().astimezone(zone_of(book)).date()
    happened = past(book, on_day(on), pen=pen) if on else None
    boxes = [box for box in boxes_on(book, shelf, on=day) if not _given(book, box, word, day)]
    if not boxes:
        raise Refusal(
            tell(
                "%(word)s of all boxes on shelf %(shelf)s is written for %(day)s.",
                word=capital(said(word)),
                shelf=shelf,
                day=day,
            )
        )
    poured = _poured(book, boxes, day) if word == "mist" else {}
    facts = [CareGiven(box=box, care=word, amount=poured.get(box)) for box in boxes]  # type: ignore[arg-type]
    return write(book, facts, pen=pen, happened=happened)


def _poured(book: Book, boxes: list[str], on: date) -> dict[str, Amount]:
    """The mL that the scales of weighed boxes tell, as a round done as told would write them."""
    from mancary.usecases.water import pours_told  # numpy is slow to import

    standings = standings_of(book, zone_of(book), until=on)
    weighed = [box for box in boxes if box in standings and standings[box].just_right]
    return pours_told(book, weighed, on=on) if weighed else {}


def _given(book: Book, box: str, care: str, day: date) -> bool:
    zone = zone_of(book)
    last = standing_of(book, box, zone, until=day).given.get(care)
    return bool(last) and last_day(str(last), zone) == day
