"""The app: pages, twins for programs, and the rules that hold for all of them."""

import secrets
from collections.abc import Callable
from datetime import date
from pathlib import Path

from litestar import Litestar
from litestar.config.csrf import CSRFConfig
from litestar.di import Provide

from mancary.access import Doorkeeper
from mancary.book import open_book
from mancary.husbandry.sentences import Told
from mancary.usecases.pen import Pen
from mancary.usecases.zone import zone_of
from mancary.web.described import openapi
from mancary.web.desk import Desk
from mancary.web.door import Door
from mancary.web.entering import Entrance
from mancary.web.errors import handlers
from mancary.web.reach import Reach
from mancary.web.routes import ROUTES
from mancary.web.templating import environment

_FORM_BYTES = 2_000_000


def create_app(
    book_path: Path,
    *,
    pen: Pen | None = None,
    today: Callable[[], date] | None = None,
    learns: bool = True,
    keeper: Doorkeeper | None = None,
    reach: Reach | None = None,
) -> Litestar:
    """The web face of the book at ``book_path``.

    Without ``learns`` pages take what was last learned from the colonies: somebody else learns.

    ``reach`` says from where it may be asked, this machine alone where it is left out; ``keeper``
    is handed in by whoever shows its code elsewhere too.

    ``today`` says which day the pages are for; left out, it is the pen's day in the keeper's zone.
    The book is opened for each request, so it may be made or replaced while the app runs.
    """
    held, open_to = pen or Pen(), reach or Reach()
    guarding = keeper or doorkeeper(book_path, held, today)
    entrance = Entrance(guarding, open_to, book_path)
    desk = Desk(book_path, held, today, environment(), entrance, learns)
    return Door(
        open_to,
        route_handlers=[*ROUTES],
        guards=[entrance.guard()],
        dependencies={"desk": Provide(lambda: desk, sync_to_thread=False)},
        exception_handlers=handlers(desk),
        csrf_config=_form_token(secure=open_to.secure),
        openapi_config=openapi(),
        request_max_body_size=_FORM_BYTES,
        type_encoders={Told: str},
        logging_config=None,
    )


def doorkeeper(book: Path, pen: Pen, today: Callable[[], date] | None = None) -> Doorkeeper:
    """The one who lets in, by the pen's clock and the keeper's day."""
    return Doorkeeper(book, clock=pen.now, today=today or (lambda: _day(book, pen)))


def _day(path: Path, pen: Pen) -> date:
    with open_book(path) as book:
        return pen.now().astimezone(zone_of(book)).date()


def _form_token(*, secure: bool) -> CSRFConfig:
    """A secret for this start. The cookie's name holds a part of its own.

    Cookies are shared by all ports of a machine; with one name, two open books would take each
    other's token and refuse every form.
    """
    return CSRFConfig(
        secret=secrets.token_hex(32),
        cookie_name=f"mancary_{secrets.token_hex(4)}",
        cookie_httponly=True,
        cookie_secure=secure,
        cookie_samesite="lax",
        exclude=["^/static/"],
    )
