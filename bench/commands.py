"""Commands from a cold start, against Python that does nothing."""

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from bench.result import Result, against, median_pair
from mancary.demo import make_demo


def run(*words: str) -> None:
    """Runs Python with the given words to its end."""
    subprocess.run([sys.executable, *words], check=True, capture_output=True)


def measure() -> Iterator[Result]:
    """A species with and without a book, and the demonstration's list."""
    with tempfile.TemporaryDirectory() as folder:
        book = str(Path(folder) / "demo.mancary")
        make_demo(Path(book), on=date(2026, 11, 1))
        none = str(Path(folder) / "none.mancary")
        run("-m", "mancary", "--book", book, "round", "--on", "2026-11-01", "--accept")
        for name, words in (
            (
                "mancary round from an accepted plan, 96 boxes",
                ("--book", book, "round", "--on", "2026-11-01", "--json"),
            ),
            ("mancary species, no book", ("--book", none, "species", "Porcellio scaber")),
            ("mancary species, demonstration book", ("--book", book, "species", "P. laevis")),
            ("mancary note", ("--book", book, "note", "A01", "mould")),
            ("mancary wants, 96 boxes, 60 weeks", ("--book", book, "wants", "--json")),
        ):
            ours, theirs = median_pair(
                lambda words=words: run("-m", "mancary", *words),  # type: ignore[misc]
                lambda: run("-c", "pass"),
                times=11,
            )
            yield against(name, ours * 1000, theirs * 1000, "ms", "python -c pass")
