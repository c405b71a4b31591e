"""The round's page of 96 boxes against the page of a book without boxes, served alike."""

import http.client
import socket
import statistics
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path

import uvicorn

from bench.result import Result, against, seconds
from mancary.book import open_book
from mancary.demo import make_demo
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen
from mancary.usecases.round_plan import accept_plan
from mancary.web.app import create_app

DAY = date(2026, 11, 1)
TIMES, WARM_UP = 400, 20
PATH = "/?today=true"
PEN = Pen(clock=lambda: datetime(2026, 11, 1, 18, tzinfo=UTC))


@contextmanager
def served(book: Path) -> Iterator[int]:
    """The port of this machine at which the book is served while the block runs."""
    # asyncio sends at once only on sockets that name their protocol; else each answer waits 40 ms
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP) as listening:
        listening.bind(("127.0.0.1", 0))
        app = create_app(book, pen=PEN, today=lambda: DAY)
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
        run = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        run.start()
        while not server.started:
            time.sleep(0.02)
        try:
            yield listening.getsockname()[1]
        finally:
            server.should_exit = True
            run.join(10)


def measure() -> Iterator[Result]:
    """Both pages in turns over connections that stay open, the plan accepted beforehand."""
    with tempfile.TemporaryDirectory() as folder:
        book, empty = Path(folder) / "demo.mancary", Path(folder) / "empty.mancary"
        make_demo(book, on=DAY)
        open_new(empty, name="Empty", zone="UTC", pen=PEN).close()
        with open_book(book) as opened:
            accept_plan(opened, on=DAY, named=True, pen=PEN)
        with served(book) as port, served(empty) as empty_port:
            ours, theirs = _asked_in_turns(port, empty_port)
    reference = "the page of a book without boxes, of the same server"
    for name, low in (("p95", 0.95), ("median", 0.5)):
        yield against(
            f"round page, 96 boxes, {name}",
            _quantile(ours, low) * 1000,
            _quantile(theirs, low) * 1000,
            "ms",
            reference,
        )


def _asked_in_turns(port: int, empty_port: int) -> tuple[list[float], list[float]]:
    ours, theirs = (http.client.HTTPConnection("127.0.0.1", one) for one in (port, empty_port))
    _ask(theirs, "Nothing stands in it yet")
    _ask(ours, "A01")
    pairs = [(seconds(lambda: _ask(ours)), seconds(lambda: _ask(theirs))) for _ in range(TIMES)]
    ours.close()
    theirs.close()
    return [pair[0] for pair in pairs[WARM_UP:]], [pair[1] for pair in pairs[WARM_UP:]]


def _ask(server: http.client.HTTPConnection, holding: str = "") -> None:
    server.request("GET", PATH)
    told = server.getresponse()
    body = told.read()
    if told.status != http.client.OK or holding.encode() not in body:
        raise RuntimeError(f"{told.status}: {body[:200]!r}")


def _quantile(times: list[float], low: float) -> float:
    return statistics.quantiles(times, n=100, method="inclusive")[round(low * 100) - 1]
