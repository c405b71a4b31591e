"""How pages read on this device: its language, its units, and large type by night."""

from typing import Annotated

from litestar import Response, get, post
from litestar.datastructures import Cookie
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body, Parameter
from litestar.response import Redirect
from msgspec import Struct

from mancary.web.desk import Asked, Desk
from mancary.web.entering import FOUR_HUNDRED_DAYS
from mancary.web.reading import COOKIE, LANGUAGES, READING, reading
from mancary.web.threads import threaded

_LONGEST = 300


class ReadingForm(Struct, frozen=True, kw_only=True):
    """What was chosen, and the page to go back to."""

    language: str = ""
    units: str = ""
    size: str = ""
    back: str = "/"


@get("/reading", media_type=MediaType.HTML, who="anyone")
@threaded
def reading_page(
    request: Asked,
    desk: Desk,
    back: Annotated[str, Parameter(description="the page to go back to", max_length=_LONGEST)] = "",
) -> Response[str]:
    """Asks how pages are to read; it tells nothing of the book."""
    return desk.page(
        request, "reading.html", chosen=READING.get(), languages=LANGUAGES, back=_within(back)
    )


@post("/reading", media_type=MediaType.HTML, status_code=303, who="anyone")
@threaded
def choose_reading(
    request: Asked,
    desk: Desk,
    data: Annotated[ReadingForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Redirect:
    """Keeps the choice on this device for as long as its browser keeps anything."""
    del request
    kept = Cookie(
        key=COOKIE,
        value=reading(data.language, data.units, data.size).kept(),
        max_age=FOUR_HUNDRED_DAYS,
        httponly=True,
        samesite="lax",
        secure=desk.entrance.reach.secure,
    )
    return Redirect(_within(data.back), status_code=303, cookies=[kept])


def _within(address: str) -> str:
    """An address of this book, whatever a foreign page asked to be led to."""
    plain = address.startswith("/") and not address.startswith(("//", "/\\"))
    return address[:_LONGEST] if plain and address.isprintable() else "/"
