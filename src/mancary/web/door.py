"""The door: whom it answers, under which addresses, and with which headers."""

from typing import Any

from litestar import Litestar
from litestar.enums import ScopeType
from litestar.types import Message, Receive, Scope, Send

from mancary.web.addresses import inside
from mancary.web.entering import client_of, host_of
from mancary.web.phone_clock import PHONE, phone_times
from mancary.web.reach import Reach
from mancary.web.reading import READING, reading_of

HEADERS: dict[str, str] = {
    "content-security-policy": (
        "default-src 'none'; style-src 'self'; img-src 'self' blob:; script-src 'self';"
        " connect-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self';"
        " base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=(), payment=(), usb=()",
}


class Door(Litestar):
    """The app behind a door that answers to its own names alone.

    Some addresses are kept under others; see ``mancary.web.addresses``.
    """

    def __init__(self, reach: Reach, **settings: Any) -> None:  # noqa: ANN401  Litestar's own
        super().__init__(**settings)
        self._reach = reach

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:  # type: ignore[override]
        if scope["type"] != ScopeType.HTTP:
            await super().__call__(scope, receive, send)
        elif not self._reach.knows(host_of(scope), client_of(scope)):
            await _turn_away(send)
        else:
            path = scope["path"]
            named = path.startswith("/static/") and bool(scope["query_string"])
            scope["path"] = inside(path)
            times = phone_times(scope)
            PHONE.set(times)
            READING.set(reading_of(scope))
            onward = _going_on(send) if times else send
            await super().__call__(scope, receive, _with_headers(onward, kept=named))


def _with_headers(send: Send, *, kept: bool) -> Send:
    """``kept``: the address changes with the content, so it may be kept for long."""

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


def _going_on(send: Send) -> Send:
    """For the phone's script: where the browser would be sent on to is told, and not fetched."""

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start" and message["status"] == 303:
            goes = [(b"x-goes-to", v) for n, v in message["headers"] if n.lower() == b"location"]
            held = [(n, v) for n, v in message["headers"] if n.lower() != b"location"]
            message["headers"], message["status"] = [*held, *goes], 200
        await send(message)

    return sending


async def _turn_away(send: Send) -> None:
    words = (
        b"This book answers under its own names only, on its own machine as localhost or 127.0.0.1."
        b" It was asked for under another name."
    )
    headers = [(b"content-type", b"text/plain; charset=utf-8")]
    headers += [(name.encode(), value.encode()) for name, value in HEADERS.items()]
    await send({"type": "http.response.start", "status": 421, "headers": headers})
    await send({"type": "http.response.body", "body": words, "more_body": False})
