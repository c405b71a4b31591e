"""Where plain HTTP answers beside HTTPS: the desk, and how a phone comes to trust the book."""

from typing import Final

from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Receive, Scope, Send

from mancary.web.entering import host_of
from mancary.web.reach import Reach

OPEN_PATHS: Final = ("/authority", "/authority.crt")


class SideDoor:
    """Sends the home network on to HTTPS at ``port``, but for the authority's own page.

    The desk asks under this machine's own names and goes on as ever: what it says stays inside.
    """

    def __init__(self, app: ASGIApp, reach: Reach, port: int) -> None:
        self._app, self._reach, self._port = app, reach, port

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """As ASGI asks."""
        if scope["type"] == ScopeType.HTTP and self._goes_on(scope):
            await self._on_to_https(scope, send)
        else:
            await self._app(scope, receive, send)

    def _goes_on(self, scope: Scope) -> bool:
        path = scope["path"]
        known = host_of(scope) in self._reach.names
        return known and path not in OPEN_PATHS and not path.startswith("/static/")

    async def _on_to_https(self, scope: HTTPScope, send: Send) -> None:
        query = scope["query_string"].decode("latin-1")
        raw = scope["raw_path"].partition(b"?")[0] or b"/"  # some servers put the query there too
        onward = f"https://{host_of(scope)}:{self._port}{raw.decode('latin-1')}"
        headers = [(b"location", (onward + (f"?{query}" if query else "")).encode("latin-1"))]
        headers += [(b"content-length", b"0"), (b"cache-control", b"no-store")]
        status = 307 if scope["method"] in ("GET", "HEAD") else 421
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send({"type": "http.response.body", "body": b"", "more_body": False})
