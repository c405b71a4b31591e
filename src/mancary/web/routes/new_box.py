"""Naming one box: a sheet of one row, read and shown like any other before it is written."""

import csv
import io
from typing import Annotated

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.sheets.values.vents import told_vents
from mancary.web.desk import Asked, Desk
from mancary.web.forms import FormError, NewBoxForm
from mancary.web.taking_in.incoming import Incoming
from mancary.web.threads import threaded
from mancary.web.typed import measure_typed


@get("/new-box", media_type=MediaType.HTML)
@threaded
def new_box_page(request: Asked, desk: Desk) -> Response[str]:
    """The form for one box."""
    with desk.open() as book:
        return book.page(request, "new_box.html", told=NewBoxForm(), fault=None)


@post("/new-box", media_type=MediaType.HTML, status_code=303)
@threaded
def name_box(
    request: Asked,
    desk: Desk,
    data: Annotated[NewBoxForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Puts the box down as a sheet of one row and shows what it says."""
    with desk.open() as book:
        try:
            code = data.checked_code()
            measure_typed(data.vents, "vents", told_vents)  # a slip is better told at once
        except FormError as fault:
            return book.page(request, "new_box.html", told=data, fault=fault, status=422)
        sheet = Incoming(book.book.path).keep(_one_row(data, code), f"box {code}.csv")
        return Redirect(f"/take-in/{sheet.mark}", status_code=303)


def _one_row(data: NewBoxForm, code: str) -> bytes:
    held = io.StringIO()
    writer = csv.writer(held, delimiter=";")
    told = {
        "Box": code,
        "Species": data.species,
        "Since": data.since,
        "How many": data.animals,
        "Litres": data.litres,
        "Shelf": data.shelf,
        "Length cm": data.length,
        "Width cm": data.width,
        "Height cm": data.height,
        "Vents": data.vents,
        "Damp share": data.damp,
    }
    kept = {heading: " ".join(text.split()) for heading, text in told.items() if text.strip()}
    writer.writerow(kept)
    writer.writerow(kept.values())
    return held.getvalue().encode()
