"""Rhythms under which the work fits the week: proposed, edited, worked out anew, accepted."""

import secrets
from collections.abc import Mapping
from typing import Annotated, Any

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from msgspec import Struct

from mancary import handbook
from mancary.husbandry.refusal import Refusal
from mancary.usecases.record import standing_entry, withdraw_many
from mancary.usecases.rhythm_units import Demand, demand
from mancary.usecases.sustainable import (
    Row,
    Sustainable,
    accept,
    chosen_of,
    proposed_of,
    row_said,
)
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.once import OncePen
from mancary.web.round_form import many
from mancary.web.threads import threaded
from mancary.web.tongue import _
from mancary.web.typed import number_typed

Typed = Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)]


class RhythmRow(Struct, frozen=True, kw_only=True):
    """One care of a care group: its boxes, the days of now, and the days typed or proposed."""

    name: str
    care: str
    group: str
    codes: tuple[str, ...]
    days: float
    typed: str
    taken: bool
    saved: float | None


@get("/rhythms", media_type=MediaType.HTML)
@threaded
def rhythms_page(request: Asked, desk: Desk) -> Response[str]:
    """Whether all that the boxes want fits the week; if not, the rhythms that would."""
    with desk.open() as book:
        wanted = demand(book.book, on=book.on)
        return _page(request, book, wanted, proposed_of(wanted), {})


@post("/rhythms", media_type=MediaType.HTML, status_code=201)
@threaded
def choose_rhythms(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Works the edited rhythms out anew, or writes them as the keeper's own."""
    with desk.open() as book:
        accepting = data.get("do") == "accept"
        pen = _pen(book, data)
        before = pen.written(book.book) if accepting else []
        if before:
            return _written(request, book, before)
        wanted = demand(book.book, on=book.on)
        try:
            found = chosen_of(wanted, _days_typed(data))
            if accepting and not found.proposals:
                raise FormError("", _("No row is ticked."))
        except Refusal as fault:
            return _page(request, book, wanted, proposed_of(wanted), data, fault=fault)
        if accepting:
            recorded = accept(book.book, found.proposals, pen=pen)
            return _written(request, book, [entry.id for entry in recorded.entries])
        return _page(request, book, wanted, found, data)


@post("/rhythms/undo", media_type=MediaType.HTML, status_code=201)
@threaded
def undo_rhythms(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Gives back, in one step, the rhythms that one press of the button chose."""
    with desk.open() as book:
        ids = str(data.get("ids", "")).split()
        why = "the rhythms were chosen by mistake"
        undone = withdraw_many(book.book, ids, why=why, pen=book.pen)
        wanted = demand(book.book, on=book.on)
        return _page(
            request, book, wanted, proposed_of(wanted), {}, status=201, undone=len(undone.entries)
        )


def _pen(book: OpenDesk, data: Mapping[str, Any]) -> OncePen:
    """Sent twice the form is written once; after an undo the same page may be sent anew."""
    typed = sorted((name, str(told)) for name, told in data.items() if name != "_csrf_token")
    mark = f"rhythms|{typed}|{data.get('once') or secrets.token_hex(16)}"
    pen = OncePen(book.pen, mark)
    tries = 0
    while (ids := pen.written(book.book)) and not _stands(book, ids[0]):
        tries += 1
        pen = OncePen(book.pen, f"{mark}|{tries}")
    return pen


def _stands(book: OpenDesk, fact_id: str) -> bool:
    try:
        standing_entry(book.book, fact_id)
    except Refusal:
        return False
    return True


def _row_of(name: str) -> Row:
    care, _, group = name.partition("|")
    return care, group


def _days_typed(data: Mapping[str, Any]) -> dict[Row, float]:
    found = {}
    for name in many(data, "take"):
        field = f"days|{name}"
        row = _row_of(name)
        try:
            days = number_typed(str(data.get(field, "")), field)
        except FormError as fault:
            raise FormError(field, f"{row_said(row)}: {fault}") from None
        if days is None:
            raise FormError(
                field, _("%(row)s: say how many days, or untick it.", row=row_said(row))
            )
        found[row] = days
    return found


def _written(request: Asked, book: OpenDesk, ids: list[str]) -> Response[str]:
    wanted = demand(book.book, on=book.on)
    return _page(request, book, wanted, proposed_of(wanted), {}, status=201, written=ids)


def _page(
    request: Asked,
    book: OpenDesk,
    wanted: Demand,
    found: Sustainable,
    data: Mapping[str, Any],
    *,
    fault: Refusal | None = None,
    status: int = 200,
    written: list[str] | None = None,
    undone: int | None = None,
) -> Response[str]:
    rows = _rows(wanted, found, data)
    return book.page(
        request,
        "rhythms.html",
        status=422 if fault else status,
        found=found,
        rows=rows,
        lead=next((row for row in rows if row.taken), None),
        edited=bool(data),
        groups={group.slug: group.name for group in handbook.groups()},
        fault=fault,
        wrong=fault.field if isinstance(fault, FormError) else "",
        written=written or [],
        undone=undone,
        once=data.get("once") or secrets.token_hex(16),
    )


def _rows(wanted: Demand, found: Sustainable, data: Mapping[str, Any]) -> list[RhythmRow]:
    """The proposed rows, and those of the form, in the order in which they were shown."""
    proposed = {(one.care, one.care_group): one for one in found.proposals}
    shown = [_row_of(name.removeprefix("days|")) for name in data if name.startswith("days|")]
    taken = {_row_of(name) for name in many(data, "take")} if data else set(proposed)
    units = {(unit.care, unit.group): unit for unit in wanted.units}
    return [
        RhythmRow(
            name=f"{row[0]}|{row[1]}",
            care=row[0],
            group=row[1],
            codes=wanted.boxes[row],
            days=round(units[row].days, 1),
            typed=str(data[f"days|{row[0]}|{row[1]}"])
            if row in shown
            else f"{proposed[row].proposed_days:g}",
            taken=row in taken,
            saved=proposed[row].minutes_saved_a_week if row in proposed else None,
        )
        for row in dict.fromkeys([*shown, *proposed])
        if row in units
    ]
