"""Setting up: rooms, shelves and their thermometers, boxes, quarantine, batches."""

from copy import deepcopy
from datetime import date
from typing import Any, cast

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.box_fit import misfit
from mancary.husbandry.codes import code, slug
from mancary.husbandry.facts import (
    BatchEnded,
    BatchMade,
    BoxDescribed,
    BoxRetired,
    Fact,
    PageOpened,
    Quarantined,
    QuarantineEnded,
    ShelfPlaced,
    ShelfRead,
    Shelved,
)
from mancary.husbandry.facts.places import Air
from mancary.husbandry.moments import Moment, day_said
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.shelf_climate import percent
from mancary.husbandry.states import Box
from mancary.usecases.admission import register_at
from mancary.usecases.colony_work import known_shelf
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, known_box, near_codes, write
from mancary.usecases.standings import register_of
from mancary.usecases.zone import zone_of


def describe_box(
    book: Book,
    box: str,
    *,
    pen: Pen,
    shelf: str = "",
    position: int | None = None,
    new_shelf: bool = True,
    happened: Moment | None = None,
    **figures: Any,  # noqa: ANN401  the fields of BoxDescribed
) -> Recorded:
    """A new box, or more about one that is there: its figures, and where it stands.

    Raises:
        Refusal: when nothing is said of a box that is there already, or figures cannot be of one
            box.
        UnknownSubject: for a shelf that is not in the book, where others are and ``new_shelf``
            says that it is not meant as a new one.
    """
    named = code(box)
    told = {name: value for name, value in figures.items() if value not in (None, "")}
    known = register_of(book).boxes.get(named)
    facts: list[Fact] = []
    if told or not known:
        fact = BoxDescribed(box=named, **told)
        after = deepcopy(known) if known else Box(named, first_told="")
        after.describe(fact)
        if wrong := misfit(after, fact):
            raise Refusal(wrong)
        facts.append(fact)
    if shelf:
        facts += _shelf(book, shelf, is_new=new_shelf)
        facts.append(Shelved(box=named, shelf=code(shelf, what="shelf"), position=position))
    if not facts:
        raise Refusal(
            tell("Box %(named)s is in the book already; say what is to be told of it.", named=named)
        )
    return write(book, facts, pen=pen, happened=happened)


def _shelf(book: Book, shelf: str, *, is_new: bool) -> list[Fact]:
    named = code(shelf, what="shelf")
    if book.is_known(f"shelf:{named}"):
        return []
    if not is_new and (others := book.subjects("shelf")):
        raise UnknownSubject("shelf", named, near=near_codes(named, others))
    return [ShelfPlaced(shelf=named, turn=1 + len(register_of(book).shelves))]


def retire_box(
    book: Book, box: str, *, pen: Pen, why: str = "", happened: Moment | None = None
) -> Recorded:
    """Takes an empty box out of use for good.

    Raises:
        Refusal: while a colony lives in it.
    """
    register = register_at(book, happened, pen=pen)
    named = known_box(book, box)
    if colony := register.colony_in(named):
        raise Refusal(
            tell("Box %(named)s holds colony %(code)s; move or end it first.", colony, named=named)
        )
    return write(book, [BoxRetired(box=named, why=why)], pen=pen, happened=happened)


def place_shelf(
    book: Book,
    shelf: str,
    *,
    pen: Pen,
    room: str = "",
    turn: int | None = None,
    level: int | None = None,
    air: Air | None = None,
) -> Recorded:
    """A shelf, its turn in the walk and how the air moves there; without a turn it comes last."""
    register = register_of(book)
    known = register.shelves.get(code(shelf, what="shelf"))
    last = 1 + max((one.turn for one in register.shelves.values()), default=0)
    fact = ShelfPlaced(
        shelf=code(shelf, what="shelf"),
        room=code(room, what="room") if room else (known.room or None if known else None),
        turn=turn if turn is not None else (known.turn if known else last),
        level=level if level is not None else (known.level if known else None),
        air=air or (cast("Air", known.air) or None if known else None),
        note=known.note if known else "",
    )
    return write(book, [fact], pen=pen)


def read_shelf(
    book: Book,
    shelf: str,
    *,
    lowest_c: float,
    highest_c: float,
    pen: Pen,
    humidity: tuple[float, float] | None = None,
    instrument: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """Lowest and highest temperature since the last look, in degrees Celsius.

    ``humidity`` is the lowest and the highest that the instrument showed, 0..1, uncorrected.

    Raises:
        Refusal: when a lowest is above its highest, or the shelf is not in the book.
    """
    if lowest_c > highest_c:
        raise Refusal(
            tell(
                "Lowest %(lowest_c)g °C is above highest %(highest_c)g °C.",
                lowest_c=lowest_c,
                highest_c=highest_c,
            )
        )
    driest, dampest = humidity or (None, None)
    if driest is not None and dampest is not None and driest > dampest:
        raise Refusal(
            tell(
                "Lowest %(driest)s is above highest %(dampest)s.",
                driest=percent(driest),
                dampest=percent(dampest),
            )
        )
    fact = ShelfRead(
        shelf=known_shelf(book, shelf),
        lowest_c=lowest_c,
        highest_c=highest_c,
        rh_lowest=driest,
        rh_highest=dampest,
        instrument=code(instrument, what="instrument") if instrument.strip() else None,
    )
    return write(book, [fact], pen=pen, happened=happened)


def quarantine(
    book: Book,
    box: str,
    *,
    why: Any,  # noqa: ANN401  checked by the fact's own declaration
    until: date | None,
    pen: Pen,
    happened: Moment | None = None,
) -> Recorded:
    """Sets a box apart: seen last on the round, with its own tools."""
    if until and until < pen.now().astimezone(zone_of(book)).date():
        raise Refusal(tell("%(until)s is over; a quarantine ends on a day to come.", until=until))
    end = until.isoformat() if until else None
    fact = Quarantined(box=known_box(book, box), why=why, until=end)
    return write(book, [fact], pen=pen, happened=happened)


def end_quarantine(
    book: Book, box: str, *, pen: Pen, note: str = "", happened: Moment | None = None
) -> Recorded:
    """Brings a box back to its place.

    Raises:
        Refusal: when it is not in quarantine.
    """
    named = known_box(book, box)
    then = register_at(book, happened, pen=pen).boxes.get(named)
    if then is None or then.quarantine is None:
        raise Refusal(tell("Box %(named)s is not in quarantine then.", named=named))
    return write(book, [QuarantineEnded(box=named, note=note)], pen=pen, happened=happened)


def make_batch(
    book: Book,
    batch: str,
    *,
    pen: Pen,
    happened: Moment | None = None,
    **told: Any,  # noqa: ANN401  the fields of BatchMade
) -> Recorded:
    """A sack, mixing, tin or culture under a code of its own.

    Raises:
        Refusal: when the code is taken or a figure does not fit.
    """
    named = code(batch, what="batch")
    if named in register_of(book).batches:
        raise Refusal(
            tell("There is a batch %(named)s already; give this one another code.", named=named)
        )
    return write(book, [BatchMade(batch=named, **told)], pen=pen, happened=happened)


def end_batch(
    book: Book, batch: str, *, pen: Pen, why: str = "", happened: Moment | None = None
) -> Recorded:
    """A batch is used up or thrown away.

    Raises:
        Refusal: when there is no such batch, or it is used up already.
    """
    named = code(batch, what="batch")
    held = register_of(book).batches.get(named)
    if held is None:
        raise Refusal(tell("There is no batch %(named)s in this book.", named=named))
    if held.ended_on:
        raise Refusal(
            tell(
                "Batch %(named)s was used up on %(ended_on)s already.",
                named=named,
                ended_on=day_said(held.ended_on, zone_of(book)),
            )
        )
    return write(book, [BatchEnded(batch=named, why=why)], pen=pen, happened=happened)


def open_page(book: Book, name: str, care_group: str, *, pen: Pen, note: str = "") -> Recorded:
    """The keeper's own page for a form that the handbook does not hold.

    Raises:
        Refusal: when the care group is unknown, or a page of that name is there.
    """
    groups = [group.slug for group in handbook.groups()]
    if care_group not in groups:
        raise Refusal(
            tell(
                "There is no care group %(care_group)r; expected one of %(all)s.",
                care_group=care_group,
                all=in_a_row(", ", groups),
            )
        )
    named = slug(name)
    if named in handbook.species_slugs() or named in register_of(book).pages:
        raise Refusal(tell("There is a page %(named)s already.", named=named))
    fact = PageOpened(species=named, name=name.strip(), care_group=care_group, note=note)
    return write(book, [fact], pen=pen)
