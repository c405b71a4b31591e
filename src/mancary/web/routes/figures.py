"""Figures of the keeper's own, chosen or given back on a box's card or a species' page."""

from typing import Annotated

from litestar import Response, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.usecases.record import known_box
from mancary.usecases.species_page import species_page
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.once import OncePen
from mancary.web.own_figures import FigureForm, choose
from mancary.web.routes.boxes import card_page
from mancary.web.routes.species import page_of_species
from mancary.web.threads import threaded
from mancary.web.wording import box_address, species_address
from mancary.web.written import written_address

Sent = Annotated[FigureForm, Body(media_type=RequestEncodingType.URL_ENCODED)]


@post("/box-figures/{box:path}", media_type=MediaType.HTML, status_code=303)
@threaded
def choose_for_box(request: Asked, desk: Desk, box: str, data: Sent) -> Response[str] | Redirect:
    """Chooses a figure for a box, its line, species or care group, or all boxes."""
    with desk.open() as book:
        code = known_box(book.book, box.strip("/"))
        try:
            ids = _written(book, data)
        except FormError as fault:
            return card_page(request, book, code, figure_fault=fault, figure=data)
        return Redirect(written_address(box_address(code), ids), status_code=303)


@post("/species/{slug:str}/figures", media_type=MediaType.HTML, status_code=303)
@threaded
def choose_for_species(
    request: Asked, desk: Desk, slug: str, data: Sent
) -> Response[str] | Redirect:
    """Chooses a figure for a species, its care group or one of its lines, or all boxes."""
    with desk.open() as book:
        page = species_page(book.book, slug.lower()).species.slug
        try:
            ids = _written(book, data)
        except FormError as fault:
            return page_of_species(request, book, page, figure_fault=fault, figure=data)
        return Redirect(written_address(species_address(page), ids), status_code=303)


def _written(book: OpenDesk, data: FigureForm) -> list[str]:
    pen = OncePen.of_form(book.pen, data, data.once, where="figure")
    if before := pen.written(book.book):
        return before
    return [entry.id for entry in choose(book.book, data, pen=pen).entries]
