"""The shelves in walking order: their last readings, and writing down new ones."""

import secrets
from collections.abc import Mapping
from typing import Annotated, Any

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.usecases.set_up import read_shelf
from mancary.usecases.standings import register_of
from mancary.usecases.warmth import WHAT_TO_DO, warmth
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.once import OncePen
from mancary.web.thermometers import instruments_named, readings_typed, shelf_states
from mancary.web.threads import threaded
from mancary.web.typed import happened_typed
from mancary.web.written import Written, WrittenIds, written_address, written_of


@get("/shelves", media_type=MediaType.HTML)
@threaded
def shelves_page(request: Asked, desk: Desk, written: WrittenIds = None) -> Response[str]:
    """Every shelf with its last reading, and the boxes whose species' range it left."""
    with desk.open() as book:
        return _shelves_page(request, book, {}, just=written_of(book.book, written))


@post("/shelves", media_type=MediaType.HTML, status_code=303)
@threaded
def read_shelves(
    request: Asked,
    desk: Desk,
    data: Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Writes the lowest and highest of each shelf that is filled in."""
    with desk.open() as book:
        form = {name: value for name, value in data.items() if isinstance(value, str)}
        try:
            ids = _written(book, form)
        except FormError as fault:
            return _shelves_page(request, book, form, fault=fault)
        return Redirect(written_address("/shelves", ids), status_code=303)


def _written(book: OpenDesk, form: Mapping[str, str]) -> list[str]:
    shelves = register_of(book.book, book.zone).shelves
    happened = happened_typed(book, form.get("day", ""))
    ids: list[str] = []
    for fact in readings_typed(form, shelves):
        once = f"{form.get('once', '')}{happened or ''}"[:80]
        pen = OncePen.of_form(book.pen, fact, once, where="shelf")
        if not (before := pen.written(book.book)):
            recorded = read_shelf(
                book.book,
                fact.shelf,
                lowest_c=fact.lowest_c,
                highest_c=fact.highest_c,
                humidity=_span(fact.rh_lowest, fact.rh_highest),
                instrument=fact.instrument or "",
                pen=pen,
                happened=happened,
            )
            before = [entry.id for entry in recorded.entries]
        ids += before
    return ids


def _span(low: float | None, high: float | None) -> tuple[float, float] | None:
    return None if low is None or high is None else (low, high)


def _shelves_page(
    request: Asked,
    book: OpenDesk,
    form: Mapping[str, str],
    *,
    fault: FormError | None = None,
    just: Written | None = None,
) -> Response[str]:
    register = register_of(book.book, book.zone, until=book.on)
    return book.page(
        request,
        "shelves.html",
        status=422 if fault else 200,
        shelves=shelf_states(book.book, register, on=book.on, zone=book.zone),
        form=form,
        fault=fault,
        just=just,
        warmth=warmth(book.book, on=book.on),
        what_to_do=WHAT_TO_DO,
        instruments=instruments_named(book.book, on=book.on, zone=book.zone),
        once=form.get("once") or secrets.token_hex(16),
    )
