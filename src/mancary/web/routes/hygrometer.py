"""The guided salt test: how it is done, writing down what was shown, and the line it gives."""

import secrets
from collections.abc import Mapping
from typing import Annotated, Any, get_args
from urllib.parse import urlencode

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.husbandry.cautions import SALTS
from mancary.husbandry.facts.instruments import Salt
from mancary.husbandry.salt_test import (
    HOW_BASIS,
    NAMES,
    STEPS,
    TRUTHS_AT_C,
    TRUTHS_BASIS,
    WENT_WRONG,
    salt_truths,
)
from mancary.usecases.hygrometers import check_hygrometer, hygrometers
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.drawing.salt_line import salt_graph
from mancary.web.forms import FormError
from mancary.web.once import OncePen
from mancary.web.salt_form import LONGEST_NOTE, ROWS, check_typed
from mancary.web.threads import threaded
from mancary.web.typed import happened_typed, tidy
from mancary.web.written import Written, WrittenIds, written_of


@get("/hygrometer", media_type=MediaType.HTML)
@threaded
def hygrometer_page(
    request: Asked, desk: Desk, instrument: str = "", written: WrittenIds = None
) -> Response[str]:
    """The steps of the test, its form, and how an instrument stands that the address names."""
    with desk.open() as book:
        form = {"instrument": tidy(instrument)[:40]}
        return _page(request, book, form, just=written_of(book.book, written))


@post("/hygrometer", media_type=MediaType.HTML, status_code=303)
@threaded
def check_hygrometer_page(
    request: Asked,
    desk: Desk,
    data: Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Writes a salt test down; rows left empty are passed over."""
    with desk.open() as book:
        form = {name: value for name, value in data.items() if isinstance(value, str)}
        try:
            instrument, ids = _written(book, form)
        except FormError as fault:
            return _page(request, book, form, fault=fault)
        told = [("instrument", instrument), *(("written", one) for one in ids)]
        return Redirect(f"/hygrometer?{urlencode(told)}#written", status_code=303)


def _written(book: OpenDesk, form: Mapping[str, str]) -> tuple[str, list[str]]:
    fact = check_typed(form)
    happened = happened_typed(book, form.get("day", ""))
    once = f"{form.get('once', '')}{happened or ''}"[:80]
    pen = OncePen.of_form(book.pen, fact, once, where="salt test")
    if before := pen.written(book.book):
        return fact.instrument, before
    recorded = check_hygrometer(
        book.book, fact.instrument, fact.readings, pen=pen, note=fact.note, happened=happened
    )
    return fact.instrument, [entry.id for entry in recorded.entries]


def _page(
    request: Asked,
    book: OpenDesk,
    form: Mapping[str, str],
    *,
    fault: FormError | None = None,
    just: Written | None = None,
) -> Response[str]:
    known = hygrometers(book.book, on=book.on)
    named = form.get("instrument", "").upper()
    shown = None if fault else next((one for one in known if one.instrument == named), None)
    return book.page(
        request,
        "hygrometer.html",
        status=422 if fault else 200,
        known=known,
        shown=shown,
        graph=salt_graph(shown) if shown else None,
        form=form,
        fault=fault,
        just=just,
        steps=STEPS,
        how_basis=HOW_BASIS,
        truths=salt_truths(),
        truths_at=TRUTHS_AT_C,
        truths_basis=TRUTHS_BASIS,
        went_wrong=WENT_WRONG,
        mind=SALTS,
        rows=ROWS,
        salts=[(salt, NAMES[salt]) for salt in get_args(Salt)],
        longest_note=LONGEST_NOTE,
        once=form.get("once") or secrets.token_hex(16),
    )
