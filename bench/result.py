"""One measured figure, and how to time something fairly."""

import statistics
import time
from collections.abc import Callable

from msgspec import Struct


class Result(Struct, frozen=True, kw_only=True):
    """``value`` in ``unit`` of the thing measured; ``reference`` names the baseline of the same run
    and ``ratio`` is value over it, None where there is none."""

    name: str
    value: float
    unit: str
    reference: str
    ratio: float | None

    @property
    def ratio_said(self) -> str:
        return f"{self.ratio:.2f} x {self.reference}" if self.ratio else self.reference


def seconds(work: Callable[[], object]) -> float:
    """How long it took, once."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def median_pair(
    ours: Callable[[], object], theirs: Callable[[], object], *, times: int
) -> tuple[float, float]:
    """Medians of both, run in turns so that a slow moment of the machine meets both alike."""
    pairs = [(seconds(ours), seconds(theirs)) for _ in range(times)]
    return statistics.median(p[0] for p in pairs), statistics.median(p[1] for p in pairs)


def against(name: str, ours: float, theirs: float, unit: str, reference: str) -> Result:
    """A result with its ratio."""
    return Result(name=name, value=ours, unit=unit, reference=reference, ratio=ours / theirs)
