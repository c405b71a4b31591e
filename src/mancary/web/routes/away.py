"""Before an absence: how sure each box is, what to do, and one page for the stand-in."""

from datetime import timedelta

from litestar import Response, get
from litestar.enums import MediaType

from mancary.husbandry.absence import RISK
from mancary.husbandry.refusal import Refusal
from mancary.usecases.away import Away, plan_absence
from mancary.usecases.stand_in import racks_of
from mancary.web.desk import Asked, Desk
from mancary.web.drawing.standing_on import shelf_said
from mancary.web.threads import threaded
from mancary.web.typed import day_typed, number_typed

_FORTNIGHT = timedelta(days=14)


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
                    back=day_typed(back, "back")
                    or (day_typed(leaving, "leaving") or book.on) + _FORTNIGHT,
                    heat_c=number_typed(heat, "heat") or 0.0,
                    today=book.on,
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
            racks=racks_of(found.rack) if found else (),
            shelf_said=shelf_said,
            risk=RISK,
            fault=fault,
            form={
                "leaving": leaving or f"{book.on}",
                "back": back or f"{book.on + _FORTNIGHT}",
                "heat": heat,
            },
        )
