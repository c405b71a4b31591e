"""A box's card, and writing down what was done or seen in it."""

import secrets
from typing import Annotated

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body, Parameter
from litestar.response import Redirect

from mancary.husbandry.refusal import Refusal
from mancary.husbandry.wants import SLACK_SAID
from mancary.usecases.box_card import box_card
from mancary.usecases.coming import coming_to
from mancary.usecases.recent_words import recent_words
from mancary.usecases.record import known_box, write
from mancary.usecases.standings import register_of
from mancary.usecases.water import water_of
from mancary.web.chooser import drawers
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.drawing.plan import plan
from mancary.web.forms import FormError, NoteForm
from mancary.web.once import OncePen
from mancary.web.own_figures import FigureForm, figures_of_box
from mancary.web.pressing import pressing, waiting
from mancary.web.threads import threaded
from mancary.web.tongue import sentence
from mancary.web.wording import box_address
from mancary.web.written import Written, WrittenIds, written_address, written_of

SHOWN = 40


@get("/boxes/{box:path}", media_type=MediaType.HTML)
@threaded
def box_page(
    request: Asked,
    desk: Desk,
    box: str,
    most: Annotated[int, Parameter(description="how much of the time line", ge=1)] = SHOWN,
    written: WrittenIds = None,
) -> Response[str]:
    """A box's card: how it stands, what it wants, and its time line."""
    with desk.open() as book:
        code = known_box(book.book, box.strip("/"))
        just = written_of(book.book, written, about=f"box:{code}")
        return card_page(request, book, code, most=most, just=just)


@post("/boxes/{box:path}", media_type=MediaType.HTML, status_code=303)
@threaded
def note_in_box(
    request: Asked,
    desk: Desk,
    box: str,
    data: Annotated[NoteForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Writes down what was given, seen, counted or weighed; on disk when this answers."""
    with desk.open() as book:
        code = known_box(book.book, box.strip("/"))
        try:
            ids = _written(book, data, code)
        except FormError as fault:
            return card_page(request, book, code, fault=fault, form=data)
        return Redirect(written_address(box_address(code), ids), status_code=303)


def _written(book: OpenDesk, data: NoteForm, code: str) -> list[str]:
    """The ids of the facts; what a form wrote already is not written again."""
    facts, happened = data.facts(code), data.happened()
    pen = OncePen.of_form(book.pen, data, data.once, where=code)
    if before := pen.written(book.book):
        return before
    try:
        recorded = write(book.book, facts, pen=pen, happened=happened)
    except Refusal as fault:
        raise FormError("day" if happened else "amount", sentence(fault)) from None
    return [entry.id for entry in recorded.entries]


def card_page(
    request: Asked,
    book: OpenDesk,
    code: str,
    *,
    most: int = SHOWN,
    just: Written | None = None,
    fault: FormError | None = None,
    form: NoteForm | None = None,
    figure_fault: FormError | None = None,
    figure: FigureForm | None = None,
) -> Response[str]:
    """The card of a box, with what was typed where a field does not fit."""
    card = box_card(book.book, code, on=book.on, most=most)
    register = register_of(book.book, book.zone, until=book.on)
    return book.page(
        request,
        "box.html",
        status=422 if fault or figure_fault else 200,
        card=card,
        plan_of=plan(card.box),
        presses=pressing(card.wants.wants, book.on),
        waits=waiting(card.wants.wants, book.on),
        water=water_of(book.book, card.box.code, on=book.on) if card.colony else None,
        coming=coming_to(book.book, card.box.code, on=book.on) if card.colony else (),
        slack=SLACK_SAID,
        drawers=drawers(recent_words(book.book)),
        just=just,
        fault=fault,
        told=form or NoteForm(),
        own_figures=figures_of_box(register, code),
        figure_fault=figure_fault,
        figure_told=figure or FigureForm(),
        once=secrets.token_hex(16),
    )
