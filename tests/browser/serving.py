"""The app on a real port of this machine, in a thread of the test."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import uvicorn

from mancary.usecases.pen import Pen
from mancary.web.app import create_app


@contextmanager
def served(
    book: Path,
    *,
    pen: Pen | None = None,
    today: Callable[[], date] | None = None,
    port: int = 0,
) -> Iterator[str]:
    """The address under which the book is served while the block runs."""
    # asyncio sends at once only on sockets that name their protocol; else each answer waits 40 ms
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(("127.0.0.1", port))
        port = listening.getsockname()[1]
        app = create_app(book, pen=pen, today=today)
        config = uvicorn.Config(app, log_level="warning", timeout_graceful_shutdown=2)
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        _wait(lambda: server.started)
        try:
            yield f"http://127.0.0.1:{port}"
        finally:
            server.should_exit = True
            thread.join(10)


def _wait(ready: Callable[[], bool], seconds: float = 20) -> None:
    end = time.monotonic() + seconds
    while not ready():
        if time.monotonic() > end:
            raise TimeoutError("the app did not start")
        time.sleep(0.02)
