"""The ticks of a paper sheet typed in, box by box in the order of the sheet."""

from datetime import date
from typing import Annotated, Any

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body

from mancary.husbandry.cautions import cautions
from mancary.husbandry.refusal import Refusal
from mancary.usecases.evening_done import EveningDone, write_kept
from mancary.usecases.record import withdraw_many
from mancary.usecases.round_evening import KeptEvening, kept_evening, last_kept
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.round_form import many
from mancary.web.threads import threaded
from mancary.web.ticks_form import LONGEST_WORDS, ticks_typed
from mancary.web.ticks_view import TicksView, ticks_view
from mancary.web.tongue import _
from mancary.web.typed import day_typed

Typed = Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)]


@get("/round/ticks", media_type=MediaType.HTML)
@threaded
def ticks_page(request: Asked, desk: Desk, on: date | None = None) -> Response[str]:
    """The sheet of an evening that a plan was kept for; else of the last such evening."""
    with desk.open() as book:
        day = on or last_kept(book.book, until=book.on) or book.on
        kept = kept_evening(book.book, day) if day <= book.on else None
        if kept is None:
            return book.page(
                request, "ticks.html", status=200, view=None, day=day, done=None, undone=None
            )
        return _page(request, book, ticks_view(book, kept), {})


@post("/round/ticks", media_type=MediaType.HTML, status_code=201)
@threaded
def type_ticks(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Writes what has a tick as given, and what stands beside it; or only looks it over."""
    with desk.open() as book:
        kept = _kept(book, data)
        view = ticks_view(book, kept)
        try:
            typed = ticks_typed(data, kept, view.shelves, today=book.on)
            if data.get("do") == "check":
                return _page(request, book, view, data, checked=True)
            done = write_kept(
                book.book,
                kept,
                only=typed.shown,
                left_out=typed.left_out,
                beside=typed.beside,
                dated=typed.on,
                pen=book.pen,
            )
        except Refusal as fault:
            return _page(request, book, view, data, fault=fault)
        return _done(request, book, kept.day, done=done, mind=cautions(typed.beside))


@post("/round/ticks/undo", media_type=MediaType.HTML, status_code=201)
@threaded
def undo_ticks(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Withdraws all that one sending of a sheet wrote; it stays readable."""
    with desk.open() as book:
        ids = str(data.get("ids", "")).split()
        undone = withdraw_many(book.book, ids, why="the sheet was typed in wrongly", pen=book.pen)
        day = day_typed(str(data.get("sheet", "")), "sheet") or book.on
        return _done(request, book, day, undone=len(undone.entries))


def _kept(book: OpenDesk, data: dict[str, Any]) -> KeptEvening:
    day = day_typed(str(data.get("sheet", "")), "sheet")
    if day is None:
        raise FormError("sheet", _("The form does not say which evening's sheet it is."))
    kept = kept_evening(book.book, day)
    if kept is None:
        raise Refusal(_("No plan is kept for %(more)s; nothing was written.", more=day))
    return kept


def _done(
    request: Asked,
    book: OpenDesk,
    day: date,
    *,
    done: EveningDone | None = None,
    mind: tuple[str, ...] = (),
    undone: int | None = None,
) -> Response[str]:
    return book.page(
        request,
        "ticks.html",
        status=201,
        view=None,
        day=day,
        done=done,
        ids=_to_undo(done) if done else (),
        undone=undone,
        mind=mind,
    )


def _to_undo(done: EveningDone) -> tuple[str, ...]:
    """What this sending wrote; of a sheet sent twice, what the first sending wrote."""
    wrote = done.done
    return wrote.facts if wrote.given else (*done.before, *wrote.facts, *wrote.known)


def _page(
    request: Asked,
    book: OpenDesk,
    view: TicksView,
    data: dict[str, Any],
    *,
    fault: Refusal | None = None,
    checked: bool = False,
) -> Response[str]:
    return book.page(
        request,
        "ticks.html",
        status=422 if isinstance(fault, FormError) else 409 if fault else 200,
        view=view,
        day=view.kept.day,
        last=min(view.kept.until, book.on),
        form=data,
        ticked=set(many(data, "tick")) if data else None,
        fault=fault,
        wrong=fault.field if isinstance(fault, FormError) else "",
        checked=checked,
        longest=LONGEST_WORDS,
        done=None,
        undone=None,
    )
