"""The watch scored from outside: a book of invented colonies in, ``mancary watch --json`` out.

What a keeper would have typed goes into a book as facts, and nothing of the truth; the program is
called as anybody calls it, for the day of the last look. So the way of the words into the filter,
the species' growth, learning and the command are scored with the sums. The world is
``colony_world``'s. Run: ``python -m verification.watch_from_outside [--colonies N]``.
"""

import argparse
import json
import subprocess
import sys
import tempfile
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import BoxDescribed, Counted, Fact, Founded, LineNamed, SeenInBox
from mancary.husbandry.moments import on_day
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen
from mancary.usecases.record import write_entries
from verification.colony_scores import line, reliability
from verification.colony_world import SETTINGS, Colony, Look, Setting, colonies

AS_OF = date(2026, 11, 23)


def facts_of(look: Look, box: str) -> list[Fact]:
    """What a keeper types at one look."""
    told: list[Fact] = []
    if look.whole is not None:
        told.append(Counted(box=box, how="full", low=look.whole, high=look.whole))
    if look.under_hide is not None:
        count = look.under_hide
        told.append(Counted(box=box, how="one_hide", low=count, high=count))
    if look.young is not None:
        told.append(SeenInBox(box=box, word="young_seen", animals=None if look.young else 0))
    if look.dead is not None:
        told.append(SeenInBox(box=box, word="dead", animals=look.dead))
    if look.left is not None:
        told.append(SeenInBox(box=box, word="left_over" if look.left else "all_gone"))
    return told


def entries_of(one: Colony, number: int, pen: Pen) -> list[Entry]:
    """A colony in a box of its own, its last look on the day that is asked about."""
    box, start = f"B{number:04}", AS_OF - timedelta(weeks=one.week)
    line_slug = f"line-{number}"
    begun: list[Fact] = [
        BoxDescribed(box=box, litres=5.5),
        LineNamed(line=line_slug, species="porcellio-scaber", as_bought="invented"),
        Founded(colony=f"{box}.1", box=box, line=line_slug),
    ]
    told = [pen.entry(fact, happened=on_day(start)) for fact in begun]
    for look in one.looks:
        day = on_day(start + timedelta(weeks=look.week))
        told += [pen.entry(fact, happened=day) for fact in facts_of(look, box)]
    return told


def make_book(path: Path, held: list[Colony]) -> Book:
    """A book of all of them, each in a box of its own."""
    pen = Pen()
    book = open_new(path, name="Invented", zone="Europe/Stockholm", pen=pen, invented=True)
    entries = [entry for n, one in enumerate(held) for entry in entries_of(one, n, pen)]
    write_entries(book, entries, pen=pen)
    return book


def asked(path: Path) -> dict[str, float]:
    """The chances by box, as the command tells them."""
    command = ["--book", str(path), "watch", "--as-of", AS_OF.isoformat(), "--json"]
    told = subprocess.run(
        [sys.executable, "-m", "mancary", *command], check=True, capture_output=True, text=True
    )
    return {row["box"]: row["p_below_5_in_12_weeks"] for row in json.loads(told.stdout)}


def scored(setting: Setting, count: int) -> None:
    """Prints one setting."""
    held = colonies(setting, count)
    happened = np.array([one.falls for one in held], dtype=float)
    standing = np.array([one.truth[one.week] >= 5 for one in held])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "invented.mancary"
        with make_book(path, held):
            pass
        chances = asked(path)
    p = np.array([chances[f"B{n:04}"] for n in range(count)])
    print(
        f"\n{setting.name}: {count} colonies in one book, below 5 in 12 weeks {happened.mean():.3f}"
    )
    print(line("mancary watch", p, happened, standing))
    print(f"  {reliability(p, happened)}", flush=True)


def main(arguments: list[str]) -> int:
    """Prints all settings."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--colonies", type=int, default=200, help="by setting")
    count = parser.parse_args(arguments).colonies
    for setting in SETTINGS:
        scored(setting, count)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
