"""What the boxes want: shelf by shelf, in walking order."""

from collections.abc import Collection
from datetime import date, tzinfo
from itertools import groupby
from typing import Final

from litestar import Response, get
from litestar.enums import MediaType
from msgspec import Struct

from mancary.husbandry.moments import last_day
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box
from mancary.husbandry.wants import Want
from mancary.usecases.on_watch import on_watch
from mancary.usecases.standings import register_of
from mancary.usecases.wants import BoxWants, WantsList, wants_list
from mancary.web.desk import Asked, Desk
from mancary.web.drawing.standing_on import shelf_said, standing_on
from mancary.web.drawing.strip import Standing, Strip, strips, tag_of
from mancary.web.pressing import pressing, waiting
from mancary.web.threads import threaded
from mancary.web.tongue import _
from mancary.web.vocabulary import said

_SHOWN: Final = 3
_SILENT_DAYS: Final = 14
"""Ours: after two weeks without a word in the book, the page says since when it is silent."""


class BoxLine(Struct, frozen=True, kw_only=True):
    """A box and what presses; ``waits`` are the wants that can wait, the soonest first."""

    box: BoxWants
    presses: tuple[Want, ...]
    waits: tuple[Want, ...]

    @property
    def told(self) -> list[Want]:
        """What presses; a look goes without saying where anything else is to be done."""
        other = [want for want in self.presses if want.care != "look"]
        return other or list(self.presses)

    @property
    def shown(self) -> list[Want]:
        return self.told[:_SHOWN]

    @property
    def more(self) -> int:
        return max(0, len(self.told) - _SHOWN)


class ShelfView(Struct, frozen=True, kw_only=True):
    """One shelf: its picture, the boxes that want a visit, and those that can wait."""

    name: str
    strips: list[Strip]
    wanting: list[BoxLine]
    resting: list[BoxLine]
    rest_until: Want | None
    unknown: list[BoxLine]
    standing: int


@get("/wants", media_type=MediaType.HTML)
@threaded
def wants_page(request: Asked, desk: Desk) -> Response[str]:
    """What every box wants on the day, with each shelf drawn as it stands."""
    with desk.open() as book:
        listed = wants_list(book.book, on=book.on)
        register = register_of(book.book, book.zone, until=book.on)
        if not listed.boxes:
            return book.page(request, "empty.html", boxes=len(register.boxes))
        shelves = shelf_views(listed, register, on_watch(book.book, on=book.on))
        wanting = [line for shelf in shelves for line in shelf.wanting]
        late = sum(line.presses[0].state == "late" for line in wanting)
        newest = newest_care(listed, book.zone)
        return book.page(
            request,
            "wants.html",
            shelves=shelves,
            boxes=len(listed.boxes),
            late=late,
            due=len(wanting) - late,
            newest=newest if newest and (book.on - newest).days > _SILENT_DAYS else None,
            unrecorded=unrecorded(listed),
        )


def shelf_views(
    listed: WantsList, register: Register, watched: Collection[str] = ()
) -> list[ShelfView]:
    """The shelves in walking order; boxes set apart come last, whatever shelf they are on."""
    lines = [
        BoxLine(
            box=box, presses=pressing(box.wants, listed.on), waits=waiting(box.wants, listed.on)
        )
        for box in listed.boxes
    ]
    drawn = {line.box.box: line for line in lines}
    return [
        _view(shelf, list(group), register, drawn, apart=apart, watched=watched)
        for (apart, shelf), group in groupby(
            lines, key=lambda line: (line.box.quarantined, line.box.shelf)
        )
    ]


def _view(
    shelf: str,
    lines: list[BoxLine],
    register: Register,
    drawn: dict[str, BoxLine],
    *,
    apart: bool,
    watched: Collection[str],
) -> ShelfView:
    on_it = [line.box.box for line in lines]
    if shelf and not apart:
        on_it = standing_on(shelf, register)
    resting = [line for line in lines if line.waits and not line.presses]
    soonest = [line.waits[0] for line in resting]
    return ShelfView(
        name=shelf_said(shelf, apart=apart),
        strips=strips(
            [
                _standing(register.boxes[code], drawn.get(code), watched=code in watched)
                for code in on_it
            ]
        ),
        wanting=[line for line in lines if line.presses],
        resting=resting,
        rest_until=min(soonest, key=lambda want: str(want.latest), default=None),
        unknown=[line for line in lines if not line.presses and not line.waits],
        standing=len(lines),
    )


def _standing(box: Box, line: BoxLine | None, *, watched: bool) -> Standing:
    want = line.told[0] if line and line.presses else None
    watch = _("watch") if watched else ""
    if want is None:
        return Standing(box=box, tag=watch)
    tag = tag_of(want.care) if want.state == "late" else watch
    return Standing(box=box, state=want.state, tag=tag)


def newest_care(listed: WantsList, zone: tzinfo) -> date | None:
    """The last day on which any care of any box is written down."""
    given = [want.last for box in listed.boxes for want in box.wants if want.last]
    return max((last_day(moment, zone) for moment in given), default=None)


def unrecorded(listed: WantsList) -> list[tuple[str, list[str]]]:
    """Cares that the book holds no date of, with the boxes that is so for."""
    found: dict[str, list[str]] = {}
    for box in listed.boxes:
        for want in box.wants:
            if want.state == "no_record":
                found.setdefault(said(want.care), []).append(box.box)
    return sorted(found.items(), key=lambda item: -len(item[1]))
