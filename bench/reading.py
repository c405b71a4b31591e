"""What is read before anything else is done: a sheet of a thousand rows, and the handbook."""

import csv
import io
import json
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from bench.result import Result, against, median_pair
from mancary.book import create_book
from mancary.handbook.bound import BOUND, load
from mancary.usecases.take_in import read_sheet, take

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
ROWS, TIMES = 1000, 15
BOXES = "Box;Species;Since;How many\nA1;Porcellio scaber;03.02.2023;25\n"
LOG = "Date;Box;What;Amount\n" + "".join(
    f"{n % 28 + 1:02d}.{n % 12 + 1:02d}.2025;A1;mist;{n} ml\n" for n in range(1, ROWS + 1)
)


def measure() -> Iterator[Result]:
    """A keeper's log against the csv module alone; the handbook against its bare JSON."""
    with (
        tempfile.TemporaryDirectory() as held,
        create_book(Path(held) / "room.mancary") as book,
    ):
        take(book, read_sheet(book, BOXES.encode(), "boxes.csv", now=NOW), now=NOW)

        def understood() -> None:
            reading = read_sheet(book, LOG.encode(), "log.csv", now=NOW)
            assert reading.rows_understood == ROWS

        rows, raw = median_pair(
            understood, lambda: list(csv.reader(io.StringIO(LOG), delimiter=";")), times=TIMES
        )
    yield against(f"a log of {ROWS:,} rows read and understood", rows, raw, "s", "csv.reader alone")
    ours, bare = median_pair(load, lambda: json.loads(BOUND.read_bytes()), times=TIMES)
    yield against("the whole handbook loaded", ours, bare, "s", "json.loads of the same file")
