"""One table from what can go wrong to a status, said as a page or, for programs, as JSON."""

import logging
from contextlib import suppress
from traceback import walk_tb
from typing import Any, Final

from litestar import MediaType, Response
from litestar.exceptions import (
    HTTPException,
    NotFoundException,
    PermissionDeniedException,
    ValidationException,
)
from litestar.types import ExceptionHandlersMap

from mancary.book import BookTrouble
from mancary.book.trouble import MovedOn
from mancary.handbook import UnknownPage
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.web.desk import Asked, Desk
from mancary.web.entering import NotLetIn
from mancary.web.forms import FormError
from mancary.web.routes.pairing import entrance_page
from mancary.web.tongue import N_, _, gettext, sentence

STATUS: Final[dict[type[Exception], int]] = {
    FormError: 422,
    UnknownSubject: 404,
    Refusal: 409,
    UnknownPage: 404,
    MovedOn: 409,
    BookTrouble: 503,
    ValidationException: 422,
    UnicodeDecodeError: 400,
    HTTPException: 0,
    Exception: 500,
}
"""The nearest class of an error decides; 0 stands for the status the error brings with it."""

_HEADING: Final[dict[int, str]] = {
    400: N_("That was not understood"),
    401: N_("Not let in"),
    403: N_("Nothing was written"),
    404: N_("There is no such page"),
    405: N_("That cannot be done here"),
    409: N_("The book did not take that"),
    413: N_("That is too large"),
    422: N_("One thing is missing or does not fit"),
    500: N_("Something is broken in Mancary"),
    503: N_("The book cannot be opened"),
}
_STALE: Final = N_(
    "This page was opened before Mancary was last started, or its form came from elsewhere."
    " Open the page again and send it once more."
)
_BUG: Final = N_(
    "This is a fault of the program, not of yours. Nothing was half-written: a fact is in the book"
    " whole or not at all. The terminal that serves this page says more."
)
_log = logging.getLogger("mancary.web")


def status_of(error: Exception) -> int:
    """The status an error is answered with."""
    if isinstance(error, UnicodeDecodeError) and not _sent(error):
        return 500
    nearest = next(kind for kind in type(error).__mro__ if kind in STATUS)
    return STATUS[nearest] or getattr(error, "status_code", 500)


def _sent(error: UnicodeDecodeError) -> bool:
    """Whether what was sent could not be read; the reader of forms lets that through unnamed."""
    frames = [frame.f_globals["__name__"] for frame, _ in walk_tb(error.__traceback__)]
    return frames[-1:] == ["litestar._multipart"]


def sentence_of(error: Exception) -> str:
    """What the keeper is told."""
    if isinstance(error, Refusal | BookTrouble | UnknownPage):
        return sentence(error)
    if isinstance(error, PermissionDeniedException):
        return gettext(_STALE)
    if isinstance(error, NotFoundException):
        return _("Nothing stands at this address.")
    if status_of(error) == 400 and isinstance(error, UnicodeDecodeError):
        return _("What was sent is no text. A file is chosen in the field for files.")
    if isinstance(error, ValidationException):
        return _(
            "%(detail)s. Fields: %(fields)s.",
            detail=error.detail,
            fields=", ".join(_fields(error)) or _("not said"),
        )
    return error.detail if isinstance(error, HTTPException) else gettext(_BUG)


def _fields(error: Exception) -> list[str]:
    if isinstance(error, FormError):
        return [error.field]
    extra = getattr(error, "extra", None) or []
    return [str(one["key"]) for one in extra if isinstance(one, dict) and "key" in one]


def handlers(desk: Desk) -> ExceptionHandlersMap:
    """The app's exception handlers."""

    def said(asked: Asked, error: Exception) -> Response[Any]:
        status = status_of(error)
        if status >= 500 and not isinstance(error, BookTrouble):
            _log.error("%s %s", asked.method, asked.url.path, exc_info=error)
        if asked.scope["path"].startswith("/json/"):
            told = {"status": status, "error": sentence_of(error), "fields": _fields(error)}
            return Response(told, status_code=status, media_type=MediaType.JSON)
        with suppress(BookTrouble):  # said by the page that follows
            desk.entrance.who(asked)
        if isinstance(error, NotLetIn):
            return entrance_page(asked, desk, status=status)
        words: dict[str, object] = {
            "heading": gettext(_HEADING.get(status, N_("That did not work"))),
            "sentence": sentence_of(error),
            "back": _way_back(asked),
        }
        return _page(desk, asked, status, words)

    return {Exception: said, 500: said}


def _page(desk: Desk, asked: Asked, status: int, words: dict[str, object]) -> Response[Any]:
    try:
        if not desk.entrance.known(asked).may("stand_in"):  # a stranger learns nothing of the book
            return desk.page(asked, "trouble.html", status=status, **words)
        with desk.open() as book:
            return book.page(asked, "trouble.html", status=status, **words)
    except BookTrouble:
        return desk.page(asked, "trouble.html", status=status, **words)


def _way_back(asked: Asked) -> str:
    """The page the form was on, where this machine's own page sent it."""
    came_from = asked.headers.get("referer", "")
    own = f"{asked.url.scheme}://{asked.url.netloc}/"
    path = came_from.removeprefix(own) if came_from.startswith(own) else ""
    return f"/{path.lstrip('/')}"
