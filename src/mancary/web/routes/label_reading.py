"""A label read with the camera of the phone, or its code typed, and the card of its box opened."""

from typing import Annotated

from litestar import Response, get, post
from litestar.datastructures import UploadFile
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect
from msgspec import Struct

from mancary.husbandry.refusal import Refusal
from mancary.paper.label_reading import MOST_BYTES, box_on, texts_in
from mancary.usecases.record import known_box
from mancary.web.desk import Asked, Desk
from mancary.web.threads import threaded
from mancary.web.tongue import _
from mancary.web.wording import box_address


class LabelForm(Struct):
    """A picture of a label, or the code that stands on it."""

    label: UploadFile | None = None
    code: str = ""


@get("/read-label", media_type=MediaType.HTML)
@threaded
def read_label_page(request: Asked, desk: Desk) -> Response[str]:
    """Asks for a picture of a label, or for its code."""
    with desk.open() as book:
        return book.page(request, "read_label.html", fault=None, code="")


@post(
    "/read-label",
    media_type=MediaType.HTML,
    status_code=303,
    request_max_body_size=MOST_BYTES + 100_000,
)
@threaded
def read_label(
    request: Asked,
    desk: Desk,
    data: Annotated[LabelForm, Body(media_type=RequestEncodingType.MULTI_PART)],
) -> Response[str] | Redirect:
    """Leads to the card of the box; the picture is read and not kept."""
    sent = data.label.file.read() if data.label else b""
    with desk.open() as book:
        try:
            code = data.code.strip() if not sent else _code_in(sent)
            if not code:
                raise Refusal(_("Take a picture of a label, or type the code that stands on it."))
            return Redirect(box_address(known_box(book.book, code)), status_code=303)
        except Refusal as fault:
            return book.page(
                request, "read_label.html", status=422, fault=fault, code=data.code[:60]
            )


def _code_in(sent: bytes) -> str:
    texts = texts_in(sent)
    if codes := [code for text in texts if (code := box_on(text))]:
        return codes[0]
    if texts:
        raise Refusal(_("This code is not of a label of this book: %(text)s", text=texts[0][:200]))
    raise Refusal(
        _(
            "No code was found in the picture. Go nearer, hold still, and let no light shine on it;"
            " or type the code in large letters beside it."
        )
    )
