"""What every page is made with: the book's path, the pen, the day, and the templates."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from gzip import compress
from pathlib import Path
from typing import Any

from jinja2 import Environment
from litestar import Request, Response
from litestar.enums import MediaType
from litestar.template.base import csrf_token
from msgspec import Struct

from mancary.access import Who
from mancary.book import Book, open_book
from mancary.husbandry.facts import BookOpened
from mancary.usecases.pen import Pen
from mancary.usecases.zone import zone_of
from mancary.web.entering import Entrance
from mancary.web.phone_clock import PHONE, PhonePen
from mancary.web.wording import Wording

Asked = Request[Any, Any, Any]
_LONG = 4096
_QUICK = 3
"""How hard pages are packed: a third of the time of the hardest for a few kilobytes more."""


class Desk(Struct, frozen=True):
    """Held by the app; a request opens the book anew and closes it."""

    path: Path
    pen: Pen
    today: Callable[[], date] | None
    templates: Environment
    entrance: Entrance
    learns: bool = True
    """Whether a page learns from the colonies itself, where that was not done this week."""

    @contextmanager
    def open(self) -> Iterator["OpenDesk"]:
        """The book opened for one request.

        Raises:
            BookTrouble: when there is no book, or it cannot be read.
        """
        with open_book(self.path) as book:
            yield OpenDesk(self, book)

    def page(
        self, asked: Asked, template: str, *, status: int = 200, **values: object
    ) -> Response[str]:
        """A page of the book's look, with the form's hidden token at hand."""
        html = self.templates.get_template(template).render(
            {
                "opened": None,
                "token": csrf_token({"request": asked}),
                "here": asked.url.path,
                "who": self.entrance.known(asked),
            }
            | values
        )
        return packed(asked, html, status)


def packed(asked: Asked, html: str, status: int) -> Response[Any]:
    """The page, gzipped (RFC 1952) where it is long and the browser takes that."""
    body = html.encode()
    if len(body) < _LONG or "gzip" not in asked.headers.get("accept-encoding", ""):
        return Response(html, media_type=MediaType.HTML, status_code=status)
    return Response(
        compress(body, _QUICK, mtime=0),
        media_type=MediaType.HTML,
        status_code=status,
        headers={"content-encoding": "gzip", "vary": "accept-encoding"},
    )


class OpenDesk:
    """The desk with the book open on it: whose it is, and which day it is there."""

    def __init__(self, desk: Desk, book: Book) -> None:
        self.book = book
        times = PHONE.get()
        self.pen = PhonePen(desk.pen, times) if times else desk.pen
        self.learns = desk.learns
        self.zone = zone_of(book)
        now = desk.pen.now().astimezone(self.zone)
        self.on = desk.today() if desk.today else now.date()
        self._desk = desk

    @property
    def opened(self) -> BookOpened | None:
        entries = self.book.entries_of(("book_opened",))
        fact = entries[-1].fact if entries else None
        return fact if isinstance(fact, BookOpened) else None

    def page(
        self, asked: Asked, template: str, *, status: int = 200, **values: object
    ) -> Response[str]:
        """As ``Desk.page``, with the book's name, its day and the words for dates."""
        return self._desk.page(asked, template, status=status, **self._said(), **values)

    def who(self, asked: Asked) -> Who:
        """Whoever asks."""
        return self._desk.entrance.known(asked)

    def html(self, template: str, **values: object) -> str:
        """The page's text for ``packed``; ``values`` hold the token and the address too."""
        return self._desk.templates.get_template(template).render(self._said() | values)

    def _said(self) -> dict[str, object]:
        say = Wording(on=self.on, zone=self.zone)
        return {"opened": self.opened, "on": self.on, "say": say}
