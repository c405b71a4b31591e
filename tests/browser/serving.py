"""The app on a real port of this machine, in a thread of the test."""

import socket
import ssl
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import uvicorn
from litestar import Litestar

from mancary.access import Doorkeeper
from mancary.usecases.pen import Pen
from mancary.web.app import create_app, doorkeeper
from mancary.web.reach import Reach


@contextmanager
def served(
    book: Path,
    *,
    pen: Pen | None = None,
    today: Callable[[], date] | None = None,
    port: int = 0,
) -> Iterator[str]:
    """The address under which the book is served while the block runs."""
    with _listening(create_app(book, pen=pen, today=today), port) as held:
        yield f"http://127.0.0.1:{held}"


@contextmanager
def served_to_network(
    book: Path, pen: Pen, reach: Reach, *, name: str, tls: ssl.SSLContext | None = None
) -> Iterator[tuple[str, Doorkeeper]]:
    """The address by a name of the network, over HTTPS with ``tls``, and who lets phones in."""
    keeper = doorkeeper(book, pen)
    app = create_app(book, pen=pen, keeper=keeper, reach=reach)
    with _listening(app, tls=tls) as held:
        yield f"{'https' if tls else 'http'}://{name}:{held}", keeper


@contextmanager
def _listening(app: Litestar, port: int = 0, tls: ssl.SSLContext | None = None) -> Iterator[int]:
    # asyncio sends at once only on sockets that name their protocol; else each answer waits 40 ms
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(("127.0.0.1", port))
        port = listening.getsockname()[1]
        config = uvicorn.Config(
            app,
            log_level="warning",
            timeout_graceful_shutdown=2,
            ssl_context_factory=(lambda *_: tls) if tls else None,
        )
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        _wait(lambda: server.started)
        try:
            yield port
        finally:
            server.should_exit = True
            thread.join(10)


def _wait(ready: Callable[[], bool], seconds: float = 20) -> None:
    end = time.monotonic() + seconds
    while not ready():
        if time.monotonic() > end:
            raise TimeoutError("the app did not start")
        time.sleep(0.02)
