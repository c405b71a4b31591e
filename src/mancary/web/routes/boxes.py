"""The register of boxes, a box's card, and writing down what was done or seen in it."""

import secrets
from typing import Annotated

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body, Parameter
from litestar.response import Redirect

from mancary.husbandry.refusal import Refusal
from mancary.husbandry.telling import told
from mancary.usecases.box_card import BoxCard, Told, box_card
from mancary.usecases.record import known_box, write
from mancary.web.chooser import DRAWERS
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.drawing.plan import plan
from mancary.web.forms import FormError, NoteForm
from mancary.web.once import OncePen
from mancary.web.pressing import pressing, waiting
from mancary.web.registered import SORTS, found_boxes
from mancary.web.threads import threaded
from mancary.web.wording import box_address

PAGE = 100
SHOWN = 40


@get("/boxes", media_type=MediaType.HTML)
@threaded
def boxes_page(
    request: Asked,
    desk: Desk,
    q: Annotated[str, Parameter(description="words to look for", max_length=200)] = "",
    sort: Annotated[str, Parameter(description=f"one of {', '.join(SORTS)}")] = "box",
    after: Annotated[int, Parameter(description="how many to pass over", ge=0)] = 0,
) -> Response[str]:
    """The register: every box, found by its code, species, trade name or line."""
    with desk.open() as book:
        found = found_boxes(book.book, book.zone, words=q, sort=sort)
        return book.page(
            request,
            "boxes.html",
            found=found[after : after + PAGE],
            total=len(found),
            after=after,
            page=PAGE,
            q=q,
            sort=sort,
        )


@get("/boxes/{box:path}", media_type=MediaType.HTML)
@threaded
def box_page(
    request: Asked,
    desk: Desk,
    box: str,
    most: Annotated[int, Parameter(description="how much of the time line", ge=1)] = SHOWN,
    written: Annotated[str, Parameter(description="the fact just written", max_length=64)] = "",
) -> Response[str]:
    """A box's card: how it stands, what it wants, and its time line."""
    with desk.open() as book:
        card = box_card(book.book, box.strip("/"), on=book.on, most=most)
        return _card_page(request, book, card, just=_just(book, card.box.code, written))


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
            happened = data.happened()
            receipt = _written(book, data, code, happened)
        except FormError as fault:
            card = box_card(book.book, code, on=book.on, most=SHOWN)
            return _card_page(request, book, card, fault=fault, form=data, status=422)
        return Redirect(f"{box_address(code)}?written={receipt}#written", status_code=303)


def _written(book: OpenDesk, data: NoteForm, code: str, happened: str | None) -> str:
    """The id of the first fact; what a form wrote already is not written again."""
    facts = data.facts(code)
    pen = OncePen(book.pen, f"{code}|{data.once or secrets.token_hex(16)}")
    if not book.book.has([pen.first_id()]):
        try:
            write(book.book, facts, pen=pen, happened=happened)
        except Refusal as fault:
            raise FormError("day" if happened else "amount", str(fault)) from None
    return pen.first_id()


def _just(book: OpenDesk, code: str, fact_id: str) -> Told | None:
    """What was written a moment ago, also where the time line is cut before it."""
    entry = book.book.entry(fact_id)
    if entry is None or f"box:{code}" not in entry.fact.subjects():
        return None
    return Told(
        id=entry.id,
        kind=entry.fact.kind,
        happened=entry.happened,
        written=entry.written,
        words=told(entry.fact),
    )


def _card_page(
    request: Asked,
    book: OpenDesk,
    card: BoxCard,
    *,
    status: int = 200,
    just: Told | None = None,
    fault: FormError | None = None,
    form: NoteForm | None = None,
) -> Response[str]:
    return book.page(
        request,
        "box.html",
        status=status,
        card=card,
        plan_of=plan(card.box),
        presses=pressing(card.wants.wants, book.on),
        waits=waiting(card.wants.wants, book.on),
        drawers=DRAWERS,
        just=just,
        fault=fault,
        told=form or NoteForm(),
        once=secrets.token_hex(16),
    )
