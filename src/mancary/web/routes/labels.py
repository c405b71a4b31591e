"""Labels: the page that asks which, the sheets as PDF, and the address a label's QR code opens."""

from typing import Annotated

from litestar import Response, get
from litestar.enums import MediaType
from litestar.params import Parameter
from litestar.response import Redirect
from msgspec import Struct

from mancary.husbandry.refusal import Refusal
from mancary.paper.label_sheet import label_sheet
from mancary.paper.label_sizes import SHEETS, USUAL, label_sheet_of
from mancary.settings import network_address
from mancary.usecases.labels import LabelKind, labels
from mancary.usecases.record import known_box
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.threads import threaded
from mancary.web.tongue import N_, _
from mancary.web.typed import whole_typed
from mancary.web.wording import box_address

LONGEST = 2000
KINDS_SAID: dict[LabelKind, str] = {
    "box": N_("boxes"), "lid": N_("lids"), "spare": N_("spare boxes")
}  # fmt: skip


class LabelsForm(Struct, frozen=True, kw_only=True):
    """Which labels, as typed: boxes by their codes, or a shelf, or neither for all."""

    boxes: str = ""
    shelf: str = ""
    size: str = USUAL
    first: str = ""
    outline: str = ""
    kinds: tuple[LabelKind, ...] = ("box",)


@get("/label/{box:path}", media_type=MediaType.HTML)
@threaded
def box_of_label(desk: Desk, box: str) -> Redirect:
    """The card of the box on a label."""
    with desk.open() as book:
        return Redirect(box_address(known_box(book.book, box.strip("/"))), status_code=303)


@get("/labels", media_type=MediaType.HTML)
@threaded
def labels_page(request: Asked, desk: Desk) -> Response[str]:
    """Asks which labels are to be printed; the answers stand in the address."""
    with desk.open() as book:
        return _page(request, book, _form(request), None)


@get("/labels/sheet", media_type="application/pdf")
@threaded
def labels_sheet(
    request: Asked,
    desk: Desk,
    boxes: Annotated[str, Parameter(max_length=LONGEST, description="codes of boxes")] = "",
    shelf: Annotated[str, Parameter(max_length=40, description="a shelf's code")] = "",
    size: Annotated[str, Parameter(max_length=40, description="of a label in mm")] = USUAL,
    first: Annotated[str, Parameter(max_length=6, description="first free place")] = "",
) -> Response[bytes] | Response[str]:
    """The sheets as a PDF."""
    del boxes, shelf, size, first  # read with the rest; named for those who read the description
    form = _form(request)
    with desk.open() as book:
        try:
            pdf = _pdf(book, form)
        except Refusal as fault:
            return _page(request, book, form, fault)
    return Response(
        pdf,
        media_type="application/pdf",
        headers={"content-disposition": 'inline; filename="labels.pdf"'},
    )


def _form(request: Asked) -> LabelsForm:
    told = request.query_params
    kinds = tuple(one for one in KINDS_SAID if one in told.getall("for", []))
    return LabelsForm(
        boxes=told.get("boxes", "")[:LONGEST],
        shelf=told.get("shelf", ""),
        size=told.get("size", USUAL),
        first=told.get("first", ""),
        outline=told.get("outline", ""),
        kinds=kinds or ("box",),
    )


def _pdf(book: OpenDesk, form: LabelsForm) -> bytes:
    sheet = label_sheet_of(form.size)
    first = whole_typed(form.first, "first", _("a place on the sheet"))
    found = labels(
        book.book,
        on=book.on,
        kinds=form.kinds,
        boxes=form.boxes.replace(",", " ").split(),
        shelf=form.shelf,
    )
    return label_sheet(
        found, sheet, address=network_address(), day=book.on, first=1 if first is None else first,
        outline=bool(form.outline),
    ).pdf  # fmt: skip


def _page(request: Asked, book: OpenDesk, form: LabelsForm, fault: Refusal | None) -> Response[str]:
    register = register_of(book.book, book.zone, until=book.on)
    return book.page(
        request,
        "labels.html",
        here="/labels",
        status=422 if fault else 200,
        form=form,
        fault=fault,
        wrong=fault.field if isinstance(fault, FormError) else "",
        sizes=list(SHEETS.values()),
        kinds=KINDS_SAID,
        shelves=[one.code for one in sorted(register.shelves.values(), key=lambda one: one.turn)],
        address=network_address(),
        longest=LONGEST,
    )
