"""A process that writes is killed at random moments; nothing acknowledged is ever lost."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from mancary.book import Book, open_book
from mancary.book.audit import audit

KILLS = 200
WRITER = Path(__file__).with_name("writer.py")


def start(path: Path) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, str(WRITER), str(path)], stdout=subprocess.PIPE)


def killed_after(process: subprocess.Popen[bytes], seconds: float) -> list[str]:
    """The ids acknowledged before the process was killed; a line cut in two does not count."""
    assert process.stdout is not None
    told = os.read(process.stdout.fileno(), 65536)
    time.sleep(seconds)
    process.send_signal(signal.SIGKILL)
    told += process.stdout.read()
    process.stdout.close()
    assert process.wait() == -signal.SIGKILL
    return [line.decode() for line in told.split(b"\n")[:-1]]


@pytest.mark.slow
def test_two_hundred_kills_lose_nothing_that_was_acknowledged(book: Book, path: Path) -> None:
    book.close()
    chance = random.Random(200)
    acknowledged: list[str] = []
    waiting = start(path)
    for _ in range(KILLS):
        process = waiting
        told = killed_after(process, chance.uniform(0, 0.03))
        assert told, "the writer was killed before it wrote anything: the test shows nothing"
        acknowledged += told
        with open_book(path) as opened:
            assert opened.has(told) == set(told)
        waiting = start(path)
    killed_after(waiting, 0)
    with open_book(path) as opened:
        assert opened.has(acknowledged) == set(acknowledged)
        assert audit(opened).faults == ()
        written = opened.head().count
    # Each kill may leave at most the one fact that was written and not yet acknowledged.
    assert len(acknowledged) > KILLS
    assert len(acknowledged) <= written <= len(acknowledged) + KILLS + 2
