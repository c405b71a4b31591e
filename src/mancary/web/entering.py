"""Who asks for a page, and whether it is opened to him. A page says itself who may see it.

A handler names the least that may open it as ``who=``: "anyone", "stand_in", "keeper" or "desk";
one that says nothing is for the keeper.
"""

from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from litestar.connection import ASGIConnection
from litestar.datastructures import Cookie
from litestar.exceptions import HTTPException
from litestar.handlers import BaseRouteHandler
from litestar.types import Guard, Scope

from mancary.access import NOBODY, Doorkeeper, Role, Who
from mancary.web.reach import Reach
from mancary.web.tongue import N_

Asking = ASGIConnection[Any, Any, Any, Any]
FOUR_HUNDRED_DAYS: Final = 400 * 86_400
"""As long as browsers keep a cookie (RFC 6265bis, from memory)."""
_OPT: Final = "who"
_WHO: Final = "mancary.who"


class NotLetIn(HTTPException):
    """Somebody without a pass; the page on which a phone is paired is shown instead."""

    status_code = 401
    detail = N_("This phone is not paired with the book yet, or was signed out at the desk.")


class NotForYou(HTTPException):
    """Somebody with a pass to something else."""

    status_code = 403
    detail = N_("This part of the book is not open to you. It is seen and changed at the desk.")


class Entrance:
    """Reads the token of whoever asks. One for each app."""

    def __init__(self, keeper: Doorkeeper, reach: Reach, book: Path) -> None:
        self.keeper = keeper
        self.reach = reach
        mark = sha256(str(book.absolute()).encode()).hexdigest()[:8]
        self.cookie_name = f"mancary_in_{mark}"
        """Ports of one machine share their cookies; each book has one of its own."""

    def who(self, asking: Asking) -> Who:
        """Whoever asks; asked once for each request."""
        scope: Scope = asking.scope
        state: dict[str, Any] = scope["state"]
        if _WHO not in state:
            token = asking.cookies.get(self.cookie_name, "")
            state[_WHO] = self.keeper.who(token, at_desk=self.at_desk(asking))
        told: Who = state[_WHO]
        return told

    def known(self, asking: Asking) -> Who:
        """Whoever asks, if that was found out before; else a stranger."""
        told: Who = asking.scope["state"].get(_WHO, NOBODY)
        return told

    def at_desk(self, asking: Asking) -> bool:
        """Whether this machine itself asks."""
        return self.reach.is_desk(host_of(asking.scope), client_of(asking.scope))

    def guard(self) -> Guard:
        """Opens a handler to those it is for."""

        def may_enter(asking: Asking, handler: BaseRouteHandler) -> None:
            least: Role = handler.opt.get(_OPT, "keeper")
            who = self.who(asking)
            if who.may(least):
                return
            raise NotLetIn if who == NOBODY else NotForYou

        return may_enter

    def cookie(self, token: str) -> Cookie:
        """Holds the token where no script reads it, sent to this book alone."""
        return Cookie(
            key=self.cookie_name,
            value=token,
            max_age=FOUR_HUNDRED_DAYS if token else 0,
            httponly=True,
            samesite="lax",  # a link that came by mail opens the sheet; forms have their own token
            secure=self.reach.secure,
        )


def host_of(scope: Scope) -> str:
    """The name in the Host header, without its port."""
    for name, value in scope["headers"]:
        if name == b"host":
            host = value.decode("latin-1").lower()
            return host.rsplit(":", 1)[0] if not host.endswith("]") else host
    return ""


def client_of(scope: Scope) -> str:
    """The address of whoever asks."""
    client = scope.get("client")
    return str(client[0]) if client else ""
