"""Runs all benchmarks and writes bench/results.json: a list of name, value, unit, reference, ratio."""

import sys
from pathlib import Path

import msgspec

from bench import appends, commands, plans, standings
from bench.result import Result

HERE = Path(__file__).parent


def main() -> None:
    results: list[Result] = []
    for part in (appends, standings, commands, plans):
        for result in part.measure():
            results.append(result)
            print(f"{result.name}: {result.value:.4g} {result.unit}, {result.ratio_said}")
            sys.stdout.flush()
    body = msgspec.json.format(msgspec.json.encode(results), indent=2)
    (HERE / "results.json").write_bytes(body + b"\n")


if __name__ == "__main__":
    main()
