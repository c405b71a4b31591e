"""A hygrometer's salt test drawn: what it showed against what was true, and the line between."""

from math import ceil, floor
from typing import Final

from msgspec import Struct

from mancary.usecases.hygrometers import Hygrometer

SIDE: Final = 260.0
LEFT: Final = 44.0
TOP: Final = 10.0
_LEAST_SPAN: Final = 20
_FINE_UP_TO: Final = 60


class Dot(Struct, frozen=True, kw_only=True):
    """A salt that was checked, in drawing units; ``label`` is empty for a salt drawn already."""

    x: float
    y: float
    label: str
    at_left: bool


class Tick(Struct, frozen=True):
    """A humidity in percent, and how far from the drawing's lower left corner it lies."""

    percent: int
    at: float


class SaltGraph(Struct, frozen=True, kw_only=True):
    """The drawing in units that are pixels on a phone; lines are x and y of both ends.

    ``line`` is the whole correction within the frame, ``checked`` the part that was tested: None
    where only one humidity was.
    """

    dots: tuple[Dot, ...]
    ticks: tuple[Tick, ...]
    line: tuple[float, float, float, float]
    checked: tuple[float, float, float, float] | None
    side: float = SIDE
    left: float = LEFT
    top: float = TOP


def salt_graph(one: Hygrometer) -> SaltGraph | None:
    """The drawing of an instrument's newest test; None for one that was never tested."""
    if one.offset is None or one.slope is None or not one.points:
        return None
    low, high = _frame([rh * 100 for p in one.points for rh in (p.shown_rh, p.true_rh)])
    offset, slope = one.offset * 100, one.slope
    scale = SIDE / (high - low)

    def at(shown: float) -> tuple[float, float]:
        return _place(shown, offset + slope * shown, low, scale)

    first = max(low, (low - offset) / slope)
    last = min(high, (high - offset) / slope)
    span = [point.shown_rh * 100 for point in one.points]
    labels: set[str] = set()
    dots = []
    for point in one.points:
        x, y = _place(point.shown_rh * 100, point.true_rh * 100, low, scale)
        label = "" if point.salt in labels else point.salt
        labels.add(point.salt)
        dots.append(Dot(x=x, y=y, label=label, at_left=x > LEFT + SIDE / 2))
    step = 10 if high - low <= _FINE_UP_TO else 20
    return SaltGraph(
        dots=tuple(dots),
        ticks=tuple(
            Tick(percent, round((percent - low) * scale, 1))
            for percent in range(low, high + 1)
            if percent % step == 0
        ),
        line=(*at(first), *at(last)),
        checked=(*at(min(span)), *at(max(span))) if min(span) < max(span) else None,
    )


def _frame(percents: list[float]) -> tuple[int, int]:
    """The tens around all points, no narrower than ``_LEAST_SPAN``, within 0 and 100."""
    low = max(0, floor(min(percents) / 10 - 0.5) * 10)
    high = min(100, ceil(max(percents) / 10 + 0.5) * 10)
    return (low, high) if high - low >= _LEAST_SPAN else (max(0, high - _LEAST_SPAN), high)


def _place(shown: float, true: float, low: int, scale: float) -> tuple[float, float]:
    x, y = LEFT + (shown - low) * scale, TOP + SIDE - (true - low) * scale
    return round(x, 1), round(y, 1)
