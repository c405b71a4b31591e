"""Several processes at one book: each fact once, the cache true, the check calm."""

import subprocess
import sys
import time
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from mancary.book import Book, open_book
from mancary.book.audit import audit
from mancary.husbandry.standing import fold
from mancary.usecases.standings import standings_of

WRITER = """
import sys
from pathlib import Path
from mancary.book import open_book
from mancary.husbandry.facts import CareGiven
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
with open_book(Path(sys.argv[1])) as book:
    for number in range(150):
        write(book, [CareGiven(box=f"B{number % 7}", care="mist")], pen=Pen())
"""
READER = """
import sys
from pathlib import Path
from mancary.book import open_book
from mancary.usecases.standings import standings_of
with open_book(Path(sys.argv[1])) as book:
    for _ in range(60):
        standings_of(book)
"""


def start(script: str, path: Path) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, "-c", script, str(path)])


@pytest.mark.slow
def test_writers_and_readers_together_leave_a_true_cache(book: Book, path: Path) -> None:
    before = book.head().count
    running = [start(WRITER, path), start(WRITER, path), start(READER, path), start(READER, path)]
    calm = []
    while any(process.poll() is None for process in running):
        with open_book(path) as other:
            calm.append(audit(other).faults)
        time.sleep(0.02)
    assert [process.returncode for process in running] == [0, 0, 0, 0]
    assert calm
    assert set(calm) == {()}, "the check must not cry damage while another writes"
    assert book.head().count == before + 300
    zone = ZoneInfo("Europe/Stockholm")
    for box, standing in standings_of(book).items():
        assert standing == fold(box, book.entries_about(f"box:{box}"), zone)
