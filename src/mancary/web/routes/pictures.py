"""Pictures of a box: taken with the phone or chosen, kept beside the book, shown on its card."""

from hashlib import sha256
from typing import Annotated

from litestar import Response, get, post
from litestar.datastructures import UploadFile
from litestar.enums import MediaType, RequestEncodingType
from litestar.exceptions import NotFoundException
from litestar.params import Body, Parameter
from litestar.response import Redirect
from msgspec import Struct

from mancary.book.pictures import folder_of, read
from mancary.husbandry.refusal import Refusal
from mancary.usecases.pictures import MOST_BYTES, SMALL_PX, attach, scaled
from mancary.usecases.record import known_box
from mancary.web.desk import Asked, Desk
from mancary.web.forms import FormError
from mancary.web.once import OncePen
from mancary.web.routes.boxes import card_page
from mancary.web.threads import threaded
from mancary.web.tongue import _, sentence
from mancary.web.wording import box_address
from mancary.web.written import written_address

_KEPT = {"cache-control": "private, max-age=31536000, immutable"}
"""A picture's name says what it holds, so it never changes under its address."""


class PictureForm(Struct):
    """The form: the file, and words beside it."""

    picture: UploadFile | None = None
    note: str = ""
    once: str = ""


class _Sent(Struct, frozen=True):
    """By what a form sent again is known."""

    picture: str
    note: str


@get("/pictures/{name:str}", media_type="image/jpeg")
@threaded
def picture_file(
    desk: Desk,
    name: Annotated[str, Parameter(description="the SHA-256 of the picture, and .jpg")],
    small: Annotated[str, Parameter(description="yes for a small one", max_length=9)] = "",
) -> Response[bytes]:
    """A picture as it is kept, or small for a card."""
    with desk.open() as book:
        data = read(folder_of(book.book.path), name)
    if data is None:
        raise NotFoundException(_("This picture is not beside the book, or not as it was."))
    if small == "yes":
        data = scaled(data, SMALL_PX).data
    return Response(data, media_type="image/jpeg", headers=_KEPT)


@post(
    "/box-picture/{box:path}",
    media_type=MediaType.HTML,
    status_code=303,
    request_max_body_size=MOST_BYTES + 100_000,
)
@threaded
def take_picture(
    request: Asked,
    desk: Desk,
    box: str,
    data: Annotated[PictureForm, Body(media_type=RequestEncodingType.MULTI_PART)],
) -> Response[str] | Redirect:
    """Keeps the picture and writes it down; sent again it is written once."""
    sent = data.picture.file.read() if data.picture else b""
    with desk.open() as book:
        code = known_box(book.book, box.strip("/"))
        if not sent:
            fault = FormError("picture", _("No picture was chosen."))
            return card_page(request, book, code, fault=fault)
        form = _Sent(sha256(sent).hexdigest(), data.note)
        pen = OncePen.of_form(book.pen, form, data.once[:64], where=f"picture {code}")
        ids = pen.written(book.book)
        try:
            ids = ids or [one.id for one in attach(book.book, code, sent, pen=pen, note=data.note)]
        except Refusal as fault:
            return card_page(request, book, code, fault=FormError("picture", sentence(fault)))
        return Redirect(written_address(box_address(code), ids), status_code=303)
