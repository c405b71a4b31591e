"""How one colony goes, what may go from it, and writing a count of it down."""

import secrets
from collections.abc import Sequence
from typing import Annotated, Any

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body, Parameter
from litestar.response import Redirect
from msgspec import Struct

from mancary.husbandry.cautions import RULES
from mancary.husbandry.count_told import CountTold, count_told
from mancary.husbandry.facts import Counted
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.watch_reasons import chance_said
from mancary.husbandry.words import BANDS as SIZE_BANDS
from mancary.usecases.beliefs import believed_in
from mancary.usecases.count_moves import chance_without
from mancary.usecases.counts import count, refuse_culture
from mancary.usecases.culture import culture_in
from mancary.usecases.grow import Grow, Taking, grow, taking
from mancary.usecases.record import known_box
from mancary.usecases.watch import watch_of
from mancary.web.count_form import LONGEST_NOTE, WAYS, CountForm
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.drawing.curve import drawn, table
from mancary.web.drawing.taken import effect
from mancary.web.forms import FormError
from mancary.web.once import OncePen
from mancary.web.routes.watch import BANDS, names_in
from mancary.web.threads import threaded
from mancary.web.tongue import _, sentence
from mancary.web.typed import happened_typed, whole_typed
from mancary.web.wording import box_address
from mancary.web.written import WrittenIds, written_address, written_of


class JustCounted(Struct, frozen=True, kw_only=True):
    """A count written a moment ago, and what it tells."""

    id: str
    told: CountTold


@get("/box-colony/{box:path}", media_type=MediaType.HTML)
@threaded
def colony_page(
    request: Asked,
    desk: Desk,
    box: str,
    taking: Annotated[str, Parameter(description="animals to be taken", max_length=20)] = "",
    written: WrittenIds = None,
) -> Response[str]:
    """How the colony of a box goes; with ``taking`` what so many fewer would mean."""
    with desk.open() as book:
        code = known_box(book.book, box.strip("/"))
        return _page(request, book, code, taking_typed=taking, written=written or ())


@post("/box-colony/{box:path}", media_type=MediaType.HTML, status_code=303)
@threaded
def count_colony(
    request: Asked,
    desk: Desk,
    box: str,
    data: Annotated[CountForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Writes a count down; on disk when this answers. The same form again is written once."""
    with desk.open() as book:
        code = known_box(book.book, box.strip("/"))
        refuse_culture(book.book, code, pen=book.pen)
        try:
            ids = _written(book, code, data)
        except FormError as fault:
            return _page(request, book, code, form=data, fault=fault)
        return Redirect(written_address(colony_address(code), ids), status_code=303)


def colony_address(code: str) -> str:
    """The address at which it is told how a colony goes."""
    return f"{box_address(code)}/colony"


def _written(book: OpenDesk, code: str, form: CountForm) -> list[str]:
    typed = form.typed(code)
    happened = happened_typed(book, form.day)
    pen = OncePen.of_form(book.pen, form, form.once, where=f"count of {code}")
    if before := pen.written(book.book):
        return before
    try:
        return list(count(book.book, code, typed, pen=pen, happened=happened).ids)
    except Refusal as fault:
        raise FormError("day" if happened else "", sentence(fault)) from None


def _page(
    request: Asked,
    book: OpenDesk,
    code: str,
    *,
    form: CountForm | None = None,
    fault: FormError | None = None,
    taking_typed: str = "",
    written: Sequence[str] = (),
) -> Response[str]:
    if culture := culture_in(book.book, code, on=book.on):
        here = box_address(code)
        return book.page(
            request,
            "culture.html",
            here=here,
            box=code,
            culture=culture,
            name=names_in(book, [code]).get(code),
        )
    row = watch_of(book.book, code, on=book.on, learn=book.learns)
    found, no_growth = _grown(book, code)
    taken, taking_fault = _taken(book, code, taking_typed) if found else (None, None)
    return book.page(
        request,
        "colony.html",
        status=422 if fault or taking_fault else 200,
        here=box_address(code),
        box=code,
        row=row,
        name=names_in(book, [code]).get(code),
        found=found,
        no_growth=no_growth,
        bands=BANDS,
        chance=chance_said,
        ways=WAYS,
        size_bands=SIZE_BANDS,
        longest_note=LONGEST_NOTE,
        rules=RULES,
        form=form or CountForm(),
        fault=fault,
        once=form.once if form and form.once else secrets.token_hex(16),
        taking_typed=taking_typed,
        taking_fault=taking_fault,
        taken=taken,
        drawn_effect=effect(taken) if taken else None,
        c=drawn(found.curve, book.on) if found else None,
        lines=table(found.curve) if found else (),
        weights=found.weights if found else "",
        **_just(book, code, written),
    )


def _grown(book: OpenDesk, code: str) -> tuple[Grow | None, str]:
    """How it grows, or why that cannot be told."""
    try:
        return grow(book.book, code, on=book.on, learn=book.learns), ""
    except Refusal as fault:
        return None, sentence(fault)


def _taken(book: OpenDesk, code: str, typed: str) -> tuple[Taking | None, Refusal | None]:
    try:
        animals = whole_typed(typed, "taking", _("a number of animals"))
        return (
            taking(book.book, code, animals, on=book.on, learn=book.learns) if animals else None
        ), None
    except Refusal as fault:
        return None, fault


def _just(book: OpenDesk, code: str, written: Sequence[str]) -> dict[str, Any]:
    """What was written a moment ago, what its counts tell, and the chance without them."""
    just = written_of(book.book, written, about=f"box:{code}")
    counted: list[JustCounted] = []
    for one in just.told if just else ():
        entry = book.book.entry(one.id)
        if entry is not None and isinstance(entry.fact, Counted):
            counted.append(JustCounted(id=one.id, told=count_told(entry.fact)))
    before = None
    if counted:
        room, one_believed = believed_in(book.book, code, on=book.on, learn=book.learns)
        before = chance_without(book.book, room, one_believed, [one.id for one in counted])
    return {"just": just, "counted": counted, "before": before}
