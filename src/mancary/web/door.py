"""The door: whom it answers, under which addresses, and with which headers."""

from collections.abc import Iterable

from litestar import Litestar
from litestar.enums import ScopeType
from litestar.types import Message, Receive, Scope, Send

from mancary.web.addresses import inside

OWN_NAMES = frozenset({"127.0.0.1", "localhost", "[::1]"})
"""The names under which this machine speaks to itself. Any other is a page of somebody else's."""

HEADERS: dict[str, str] = {
    "content-security-policy": (
        "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self';"
        " base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}


def host_name(headers: Iterable[tuple[bytes, bytes]]) -> str:
    """The name in the Host header, without its port."""
    for name, value in headers:
        if name == b"host":
            host = value.decode("latin-1").lower()
            return host.rsplit(":", 1)[0] if not host.endswith("]") else host
    return ""


class Door(Litestar):
    """The app behind a door.

    A page of another site that has its name pointed at this machine (DNS rebinding) still sends
    its own name as Host, and is turned away. Some addresses are kept under others; see
    ``mancary.web.addresses``.
    """

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:  # type: ignore[override]
        if scope["type"] != ScopeType.HTTP:
            await super().__call__(scope, receive, send)
        elif host_name(scope["headers"]) not in OWN_NAMES:
            await _turn_away(send)
        else:
            path = scope["path"]
            scope["path"] = inside(path)
            await super().__call__(scope, receive, _with_headers(send, path))


def _with_headers(send: Send, path: str) -> Send:
    kept = path.startswith("/static/")

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            held = {name.lower() for name, _ in message["headers"]}
            more = {**HEADERS, "cache-control": "max-age=31536000" if kept else "no-store"}
            message["headers"] = [
                *message["headers"],
                *((n.encode(), v.encode()) for n, v in more.items() if n.encode() not in held),
            ]
        await send(message)

    return sending


async def _turn_away(send: Send) -> None:
    words = (
        b"This book answers on its own machine only, as localhost or 127.0.0.1."
        b" It was asked for under another name."
    )
    headers = [(b"content-type", b"text/plain; charset=utf-8")]
    headers += [(name.encode(), value.encode()) for name, value in HEADERS.items()]
    await send({"type": "http.response.start", "status": 421, "headers": headers})
    await send({"type": "http.response.body", "body": words, "more_body": False})
