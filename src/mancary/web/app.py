"""The app: pages, twins for programs, and the rules that hold for all of them."""

import secrets
from collections.abc import Callable
from datetime import date
from pathlib import Path

from litestar import Litestar
from litestar.config.csrf import CSRFConfig
from litestar.di import Provide
from litestar.static_files import create_static_files_router

from mancary.usecases.pen import Pen
from mancary.web.described import openapi
from mancary.web.desk import Desk
from mancary.web.door import Door
from mancary.web.errors import handlers
from mancary.web.routes import ROUTES
from mancary.web.templating import STATIC, environment

_FORM_BYTES = 2_000_000


def create_app(
    book_path: Path,
    *,
    pen: Pen | None = None,
    today: Callable[[], date] | None = None,
    learns: bool = True,
) -> Litestar:
    """The web face of the book at ``book_path``.

    Without ``learns`` pages take what was last learned from the colonies: somebody else learns.

    ``today`` says which day the pages are for; left out, it is the pen's day in the keeper's zone.
    The book is opened for each request, so it may be made or replaced while the app runs.
    """
    desk = Desk(book_path, pen or Pen(), today, environment(), learns)
    return Door(
        route_handlers=[*ROUTES, create_static_files_router(path="/static", directories=[STATIC])],
        dependencies={"desk": Provide(lambda: desk, sync_to_thread=False)},
        exception_handlers=handlers(desk),
        csrf_config=_form_token(),
        openapi_config=openapi(),
        request_max_body_size=_FORM_BYTES,
        logging_config=None,
    )


def _form_token() -> CSRFConfig:
    """A secret for this start. The cookie's name holds a part of its own.

    Cookies are shared by all ports of a machine; with one name, two open books would take each
    other's token and refuse every form.
    """
    return CSRFConfig(
        secret=secrets.token_hex(32),
        cookie_name=f"mancary_{secrets.token_hex(4)}",
        cookie_httponly=True,
        cookie_samesite="strict",
        exclude=["^/static/"],
    )
