"""Commands from a cold start, against Python that does nothing."""

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import date
from operator import itemgetter
from pathlib import Path
from statistics import median

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


DEAREST = 10


def measure_imports() -> Iterator[Result]:
    """What the ten dearest packages cost that the round from an accepted plan imports.

    A package's own time and that of its parts, not of what they import from others.
    """
    with tempfile.TemporaryDirectory() as folder:
        book = str(Path(folder) / "demo.mancary")
        make_demo(Path(book), on=date(2026, 11, 1))
        words = ("-m", "mancary", "--book", book, "round", "--on", "2026-11-01", "--json")
        run(*words, "--accept")
        run(*words)
        told = [_import_ms(words) for _ in range(5)]
    names = {name for one in told for name in one}
    costs = {name: median(one.get(name, 0.0) for one in told) for name in names}
    dearest = sorted(costs.items(), key=itemgetter(1), reverse=True)[:DEAREST]
    for name, ms in [*dearest, ("all packages together", sum(costs.values()))]:
        yield Result(
            name=f"mancary round from an accepted plan: importing {name}",
            value=ms,
            unit="ms",
            reference="python -X importtime, which itself slows the imports; median of 5 starts",
            ratio=None,
        )


def _import_ms(words: tuple[str, ...]) -> dict[str, float]:
    """Milliseconds by top-level package, out of the table that -X importtime writes."""
    told = subprocess.run(
        [sys.executable, "-X", "importtime", *words], check=True, capture_output=True, text=True
    )
    found: dict[str, float] = {}
    for line in told.stderr.splitlines():
        own, _, module = line.removeprefix("import time:").split("|")
        if own.strip().isdigit():
            package = module.strip().split(".")[0]
            found[package] = found.get(package, 0.0) + int(own) / 1000
    return found
