"""Before an absence: how sure each box is, what to do, and one page for the stand-in."""

from datetime import date, timedelta

from litestar import Response, get
from litestar.enums import MediaType
from msgspec import Struct

from mancary.husbandry.absence import RISK
from mancary.husbandry.refusal import Refusal
from mancary.usecases.away import Away, plan_absence
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.drawing.standing_on import shelf_said, standing_on
from mancary.web.drawing.strip import Standing, Strip, strips
from mancary.web.threads import threaded
from mancary.web.typed import day_typed, number_typed

_FORTNIGHT = timedelta(days=14)


class ShelfAway(Struct, frozen=True):
    """A shelf with boxes for the stand-in, drawn with the first day each is wetted."""

    name: str
    strips: list[Strip]


@get("/away", media_type=MediaType.HTML)
@threaded
def away_page(
    request: Asked, desk: Desk, leaving: str = "", back: str = "", heat: str = ""
) -> Response[str]:
    """The form alone, or with its dates the plan; nothing is written."""
    with desk.open() as book:
        fault: Refusal | None = None
        found: Away | None = None
        if leaving or back:
            try:
                found = plan_absence(
                    book.book,
                    leaving=day_typed(leaving, "leaving") or book.on,
                    back=day_typed(back, "back") or book.on + _FORTNIGHT,
                    heat_c=number_typed(heat, "heat") or 0.0,
                )
            except Refusal as refused:
                fault = refused
        return book.page(
            request,
            "away.html",
            status=422 if fault else 200,
            found=found,
            risky=[one for one in found.boxes if one.chance_dry > RISK] if found else [],
            done_before=found.asked() if found else {},
            told={one.box: one for one in found.boxes} if found else {},
            shelves=_shelves(book, found) if found else [],
            risk=RISK,
            fault=fault,
            form={
                "leaving": leaving or f"{book.on}",
                "back": back or f"{book.on + _FORTNIGHT}",
                "heat": heat,
            },
        )


def _shelves(book: OpenDesk, found: Away) -> list[ShelfAway]:
    register = register_of(book.book, book.zone, until=found.leaving)
    first: dict[str, date] = {}
    for visit in found.visits:
        for box in visit.boxes:
            first.setdefault(box, visit.day)
    on_shelves = dict.fromkeys(register.boxes[box].shelf for box in first)
    return [
        ShelfAway(
            shelf_said(shelf, apart=False),
            strips(
                [
                    Standing(
                        box=register.boxes[box],
                        state="late" if box in first else "later",
                        tag=f"{first[box].day} {first[box]:%b}" if box in first else "",
                    )
                    for box in standing_on(shelf, register)
                ]
            ),
        )
        for shelf in sorted(on_shelves)
        if shelf
    ]
