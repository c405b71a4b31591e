"""Tonight's round: what fits, in walking order, written down by exception."""

from itertools import groupby
from typing import Annotated, Any, Final

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.husbandry.cautions import cautions
from mancary.usecases.record import withdraw_many
from mancary.usecases.round_kept import write_done
from mancary.usecases.round_plan import Round, accept_plan
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.planned import round_for
from mancary.web.round_form import round_typed
from mancary.web.threads import threaded

MET: Final = ("mould", "mites", "left_over", "young_seen", "dry", "wet", "smells", "all_gone")
"""The words offered for what is met on a round; all others are on the box's own page."""

MANY_DEAD: Final = ("1", "2", "3", "4", "5")
Typed = Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)]


@get("/round", media_type=MediaType.HTML)
@threaded
def round_page(request: Asked, desk: Desk, today: bool = False) -> Response[str]:  # noqa: FBT001, FBT002
    """The next working evening's round, or with ``today`` one for this very day."""
    with desk.open() as book:
        told = round_for(book, named=today)
        return _page(request, book, told)


@post("/round", media_type=MediaType.HTML, status_code=201)
@threaded
def round_done(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Writes the round down: the cares as given, all but the exceptions, and what was met."""
    with desk.open() as book:
        try:
            typed = round_typed(data)
        except FormError as fault:
            told = round_for(book, named=True)
            return _page(request, book, told, data=data, fault=fault)
        done = write_done(
            book.book,
            typed.stops,
            on=book.on,
            left_out=typed.left_out,
            skipped=typed.skipped,
            beside=typed.beside,
            pen=book.pen,
        )
        return book.page(
            request, "round_written.html", status=201, done=done, mind=cautions(typed.beside)
        )


@post("/round/keep", media_type=MediaType.HTML, status_code=303)
@threaded
def keep_round(request: Asked, desk: Desk, data: Typed) -> Redirect:  # noqa: ARG001
    """Keeps the plan as a fact: the page is quick from then on, and later plans stay near it."""
    with desk.open() as book:
        today = data.get("today") == "1"
        accept_plan(book.book, on=book.on, named=today, pen=book.pen)
        return Redirect("/round?today=true" if today else "/round", status_code=303)


@post("/round/undo", media_type=MediaType.HTML, status_code=201)
@threaded
def undo_round(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Withdraws all that one press of the button wrote; it stays readable."""
    with desk.open() as book:
        ids = str(data.get("ids", "")).split()
        why = "the round was written down by mistake"
        undone = withdraw_many(book.book, ids, why=why, pen=book.pen)
        return book.page(
            request, "round_written.html", status=201, done=None, undone=len(undone.entries)
        )


def _page(
    request: Asked,
    book: OpenDesk,
    told: Round,
    *,
    data: dict[str, Any] | None = None,
    fault: FormError | None = None,
) -> Response[str]:
    shelves = [
        (shelf, apart, list(stops))
        for (apart, shelf), stops in groupby(
            told.stops, key=lambda stop: (stop.quarantined, stop.shelf)
        )
    ]
    return book.page(
        request,
        "round.html",
        status=422 if fault else 200,
        told=told,
        shelves=shelves,
        met=MET,
        dead=MANY_DEAD,
        form=data or {},
        fault=fault,
        tonight=told.date == book.on,
        late=[one for one in told.put_off if not one.risk.startswith("none")],
    )
