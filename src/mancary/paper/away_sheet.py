"""The stand-in's sheet of an absence: visits, what not to do, the rack with its amounts."""

from typing import Final, Literal

from msgspec import Struct

from mancary.paper.round_sheet import day_said
from mancary.paper.typesetting import Typeset, printable, typeset
from mancary.usecases.away import Away
from mancary.usecases.stand_in import ShelfToWet

TEMPLATE: Final = "away_sheet.typ"
Paper = Literal["a4", "us-letter"]


class VisitLine(Struct, frozen=True):
    """A visit's number and its words."""

    number: int
    words: str


class AwayWords(Struct, frozen=True, kw_only=True):
    """All that stands on the sheet; the template only places it."""

    title: str
    room: str
    invented: bool
    span: str
    paper: Paper
    rules: tuple[str, ...]
    visits: tuple[VisitLine, ...]
    rack: tuple[ShelfToWet, ...]


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
        rack=found.rack,
    )


def _boxes(number: int) -> str:
    return "1 box" if number == 1 else f"{number} boxes"
