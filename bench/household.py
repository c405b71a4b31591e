"""A household at the rack: five phones, fifty requests a second for a minute, on loopback.

The server runs in a process of its own, as a keeper starts it. Requests are sent by a timetable and
timed from the moment each was due, so that a server that falls behind is not spared by phones that
wait for it. Each phone has one connection, as one page has at a time.
"""

import http.client
import json
import secrets
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Final
from urllib.parse import urlencode

from msgspec import Struct

from bench.result import Result, against
from mancary.book import open_book
from mancary.demo import make_demo
from mancary.usecases.pen import Pen
from mancary.usecases.round_plan import accept_plan

PHONES: Final = 5
A_SECOND: Final = 50
SECONDS: Final = 60
LEARNING: Final = 12
"""Seconds in which the server, just started, learns from the colonies, as it does once a week."""
TURN: Final = (
    "round", "card", "card", "card", "note", "card", "register", "card", "card", "shelves",
)  # fmt: skip
"""What a phone asks for, over and over: mostly cards, and a fact written each second."""


class Asked(Struct, frozen=True):
    """One request: what it was, its status, and its time in ms from when it was due."""

    what: str
    status: int
    ms: float


@contextmanager
def household(folder: Path) -> Iterator[int]:
    """The port at which the demo room is served by a process of its own."""
    book, today = folder / "demo.mancary", datetime.now(tz=UTC).date()
    make_demo(book, on=today)
    with open_book(book) as opened:
        accept_plan(opened, on=today, named=True, pen=Pen())
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = int(free.getsockname()[1])
    command = [sys.executable, "-m", "mancary", "--book", str(book), "serve", "--port", str(port)]
    with (
        (folder / "served.txt").open("w") as said,
        subprocess.Popen(command, stdout=said, stderr=said) as server,
    ):
        try:
            _wait_for(port)
            yield port
        finally:
            server.terminate()


def _wait_for(port: int, longest: float = 60) -> None:
    end = time.monotonic() + longest
    while True:
        try:
            with socket.create_connection(("127.0.0.1", port), 1):
                return
        except OSError:
            if time.monotonic() > end:
                raise
            time.sleep(0.05)


def load(port: int, *, seconds: float = SECONDS) -> list[Asked]:
    """What five phones asked for, fifty times a second together."""
    found: list[Asked] = []
    begun = time.monotonic() + 0.5
    phones = [
        threading.Thread(target=_phone, args=(port, begun, seconds, number, found), daemon=True)
        for number in range(PHONES)
    ]
    for phone in phones:
        phone.start()
    for phone in phones:
        phone.join()
    return found


def _phone(port: int, begun: float, seconds: float, number: int, found: list[Asked]) -> None:
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    every = PHONES / A_SECOND
    for step in range(round(seconds / every)):
        due = begun + step * every + number / A_SECOND
        time.sleep(max(0.0, due - time.monotonic()))
        what = TURN[(step + 2 * number) % len(TURN)]
        try:
            status = _note(line, step, number) if what == "note" else _page(line, what, step)
        except OSError as fault:
            line.close()
            status, line = 0, http.client.HTTPConnection("127.0.0.1", port, timeout=60)
            sys.stderr.write(f"{what}: {fault}\n")
        found.append(Asked(what, status, (time.monotonic() - due) * 1000))
    line.close()


def _page(line: http.client.HTTPConnection, what: str, step: int) -> int:
    address = {
        "round": "/?today=true",
        "card": f"/boxes/{_box(step)}",
        "register": "/boxes?q=laevis",
        "shelves": "/shelves",
    }[what]
    line.request("GET", address, headers={"accept-encoding": "gzip"})
    answer = line.getresponse()
    answer.read()
    return answer.status


def _note(line: http.client.HTTPConnection, step: int, number: int) -> int:
    """As the phone's own outbox sends: a token asked for, then the entry with its own id."""
    line.request("GET", "/fresh.json")
    fresh = line.getresponse()
    kept, token = fresh.headers["set-cookie"] or "", json.loads(fresh.read())["token"]
    now = str(round(time.time() * 1000))
    body = {"word": "look", "once": secrets.token_hex(16), "note": f"phone {number}, {step}"}
    headers = {
        "content-type": "application/x-www-form-urlencoded",
        "cookie": kept.partition(";")[0],
        "x-csrftoken": token,
        "x-typed-ms": now,
        "x-clock-ms": now,
    }
    line.request("POST", f"/boxes/{_box(step)}", urlencode(body), headers)
    answer = line.getresponse()
    answer.read()
    return answer.status


def _box(step: int) -> str:
    return f"A{step % 12 + 1:02d}"


def measure() -> Iterator[Result]:
    """How long a keeper waits at the most; an error stops the benchmark."""
    with tempfile.TemporaryDirectory() as folder, household(Path(folder)) as port:
        time.sleep(LEARNING)
        load(port, seconds=2)
        alone = {what: _alone(port, what) for what in set(TURN)}
        found = load(port)
    if faults := [one for one in found if one.status != http.client.OK]:
        raise RuntimeError(f"{len(faults)} of {len(found)} failed, the first: {faults[0]}")
    for what in sorted(set(TURN)):
        times = [one.ms for one in found if one.what == what]
        yield against(
            f"household, {PHONES} phones, {A_SECOND} requests a second for {SECONDS} s, {what}, p95",
            statistics.quantiles(times, n=20, method="inclusive")[-1],
            alone[what],
            "ms",
            "the same asked for by one phone alone, median",
        )


def _alone(port: int, what: str, times: int = 20) -> float:
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    found = []
    for step in range(times):
        begun = time.monotonic()
        _note(line, step, 0) if what == "note" else _page(line, what, step)
        found.append((time.monotonic() - begun) * 1000)
    line.close()
    return statistics.median(found)
