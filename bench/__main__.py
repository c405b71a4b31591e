"""Runs the benchmarks, or those named, and writes bench/results.json.

``python -m bench`` runs all; ``python -m bench plans page`` only these, and keeps the other entries.
"""

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec

from bench import (
    appends,
    belief,
    climate,
    commands,
    first_load,
    growth,
    household,
    page,
    plans,
    reading,
    standings,
    water_round,
)
from bench.result import Result

RESULTS = Path(__file__).parent / "results.json"
PARTS: dict[str, Callable[[], Iterator[Result]]] = {
    "appends": appends.measure,
    "standings": standings.measure,
    "commands": commands.measure,
    "imports": commands.measure_imports,
    "plans": plans.measure,
    "reading": reading.measure,
    "page": page.measure,
    "household": household.measure,
    "first load": first_load.measure,
    "climate": climate.measure,
    "water": water_round.measure,
    "belief": belief.measure,
    "growth": growth.measure,
}


class Kept(Result, frozen=True, kw_only=True):
    """A result in the file, and the part that measured it."""

    part: str = ""


def main(names: list[str]) -> None:
    if unknown := set(names) - set(PARTS):
        raise SystemExit(
            f"no such part: {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}"
        )
    kept = _kept()
    for name in names or PARTS:
        fresh = []
        for result in PARTS[name]():
            fresh.append(Kept(**msgspec.structs.asdict(result), part=name))
            print(f"{result.name}: {result.value:.4g} {result.unit}, {result.ratio_said}")
            sys.stdout.flush()
        kept[name] = fresh
    body = msgspec.json.encode([result for name in PARTS for result in kept.get(name, [])])
    RESULTS.write_bytes(msgspec.json.format(body, indent=2) + b"\n")


def _kept() -> dict[str, list[Kept]]:
    found: dict[str, list[Kept]] = {}
    if RESULTS.exists():
        for result in msgspec.json.decode(RESULTS.read_bytes(), type=list[Kept]):
            found.setdefault(result.part, []).append(result)
    return found


if __name__ == "__main__":
    main(sys.argv[1:])
