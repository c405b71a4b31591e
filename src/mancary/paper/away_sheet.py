"""The stand-in's sheet of an absence: visits, what not to do, the rack with its amounts."""

from typing import Final, Literal

from msgspec import Struct

from mancary.paper.round_sheet import day_said
from mancary.paper.typesetting import Typeset, printable, typeset
from mancary.usecases.away import Away
from mancary.usecases.stand_in import BoxToWet, ShelfToWet, racks_of

TEMPLATE: Final = "away_sheet.typ"
_MOST_IN_COLUMN: Final = 12
Paper = Literal["a4", "us-letter"]


class VisitLine(Struct, frozen=True):
    """A visit's number and its words."""

    number: int
    words: str


class ShelfOnPaper(Struct, frozen=True):
    """A shelf of a rack; without boxes where all of them are left alone."""

    shelf: str
    alone: str
    boxes: tuple[BoxToWet, ...]


class AwayWords(Struct, frozen=True, kw_only=True):
    """All that stands on the sheet; the template only places it."""

    title: str
    room: str
    invented: bool
    span: str
    paper: Paper
    rules: tuple[str, ...]
    visits: tuple[VisitLine, ...]
    racks: tuple[tuple[ShelfOnPaper, ...], ...]


def away_sheet(found: Away, *, room: str, paper: Paper = "a4") -> Typeset:
    """The sheet as a PDF, with a line for the keeper's telephone number."""
    return typeset(TEMPLATE, away_words(found, room=room, paper=paper), day=found.leaving)


def away_words(found: Away, *, room: str, paper: Paper) -> AwayWords:
    """The words of the sheet."""
    return AwayWords(
        title="For the stand-in",
        room=printable(room),
        invented=found.invented,
        span=f"{day_said(found.leaving)} to {day_said(found.back)}",
        paper=paper,
        rules=found.stand_in,
        visits=tuple(
            VisitLine(number, f"{day_said(one.day)}: {_boxes(len(one.boxes))}")
            for number, one in enumerate(found.visits, 1)
        ),
        racks=tuple(tuple(map(_on_paper, rack)) for rack in _columns(racks_of(found.rack))),
    )


def _columns(racks: tuple[tuple[ShelfToWet, ...], ...]) -> tuple[tuple[ShelfToWet, ...], ...]:
    """The racks as they stand; a tall one that stands alone goes on in the second column."""
    if len(racks) != 1 or len(racks[0]) <= _MOST_IN_COLUMN:
        return racks
    half = -(-len(racks[0]) // 2)
    return racks[0][:half], racks[0][half:]


def _on_paper(one: ShelfToWet) -> ShelfOnPaper:
    if one.alone:
        return ShelfOnPaper(one.shelf, f"leave all {len(one.boxes)} alone", ())
    return ShelfOnPaper(one.shelf, "", one.boxes)


def _boxes(number: int) -> str:
    return "1 box" if number == 1 else f"{number} boxes"
