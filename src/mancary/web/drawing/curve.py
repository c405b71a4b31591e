"""A colony's curve drawn: counts by how they were made, the likely band, the forecast, events.

Units are pixels on a phone. The axis of sizes is drawn by square roots where they span widely, so
that a few animals and some thousands can both be read; the page says so.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from itertools import pairwise
from math import sqrt
from typing import Final

from msgspec import Struct

from mancary.husbandry.colony_curve import CountMade, Curve, Point, likely_said, lines_of
from mancary.web.tongue import N_, gettext
from mancary.web.wording import date_said

WIDTH, HEIGHT = 372.0, 214.0
LEFT, TOP = 48.0, 20.0
LANE: Final = 18.0
_FOOT, _GAP = 22.0, 8.0
_WIDE: Final = 60
"""Ours: from so many animals on the axis goes by square roots."""
_ROOM: Final = 1.06
_STEPS: Final[tuple[int, ...]] = (
    1,
    2,
    5,
    10,
    20,
    50,
    100,
    200,
    500,
    1000,
    2000,
    5000,
    10_000,
    20_000,
    50_000,
)
_APART: Final = 22.0
"""Figures on the axis stand at least so far from each other."""
_MONTH_APART: Final = 34.0

SORTS: Final[dict[str, str]] = {
    "full": "whole",
    "one_hide": "hide",
    "scoop": "share",
    "removals": "share",
    "marks": "share",
    "band": "glance",
    "guess": "glance",
    "not_said": "unsaid",
}
SORT_SAID: Final[dict[str, str]] = {
    "whole": N_("the whole box searched"),
    "hide": N_("under one hide, so a part only: it lies below the band"),
    "share": N_("worked out from scoops, passes or marks, with its 95 % range"),
    "glance": N_("a size band at a glance, or a guess; an arrow where it has no upper end"),
    "unsaid": N_("counted, how is not said"),
}
LANES: Final[dict[str, str]] = {
    "founded": N_("begun"),
    "young": N_("young"),
    "dead": N_("dead"),
    "none": N_("none"),
    "taken": N_("taken"),
    "floor": N_("floor"),
    "rehoused": N_("home"),
    "hot": N_("hot"),
}


class Tick(Struct, frozen=True):
    """A word on an axis, and where it stands."""

    words: str
    at: float


class Mark(Struct, frozen=True, kw_only=True):
    """A count: x, and y of its lower and upper end; ``open_above`` where it says "at least"."""

    sort: str
    x: float
    low: float
    high: float
    open_above: bool


class Lane(Struct, frozen=True, kw_only=True):
    """Events of one sort on a line of their own."""

    what: str
    words: str
    y: float
    at: tuple[float, ...]


class Line(Struct, frozen=True, kw_only=True):
    """A line of the table: ``likely`` is empty where only something was seen."""

    on: date
    likely: str
    ahead: bool
    seen: tuple[str, ...]


class Drawn(Struct, frozen=True, kw_only=True):
    """The drawing. ``past`` and ``ahead`` are paths of the band, the others of the middle."""

    past: str
    past_mid: str
    ahead: str
    ahead_mid: str
    today: float
    numbers: tuple[Tick, ...]
    days: tuple[Tick, ...]
    marks: tuple[Mark, ...]
    sorts: tuple[tuple[str, str], ...]
    lanes: tuple[Lane, ...]
    by_roots: bool
    foot: float
    height: float
    width: float = WIDTH
    left: float = LEFT
    top: float = TOP


class _Frame:
    """Where a day and a number of animals lie."""

    def __init__(self, first: date, last: date, most: float) -> None:
        self.first, self.days = first, max(1, (last - first).days)
        self.by_roots = most > _WIDE
        self.most = max(5.0, most) * _ROOM

    def x(self, day: date) -> float:
        share = (day - self.first).days / self.days
        return round(LEFT + (WIDTH - LEFT - 8) * min(1.0, max(0.0, share)), 1)

    def y(self, animals: float) -> float:
        share = min(1.0, max(0.0, animals) / self.most)
        return round(TOP + HEIGHT * (1 - (sqrt(share) if self.by_roots else share)), 1)


def drawn(curve: Curve, on: date) -> Drawn:
    """The drawing of a curve on a day."""
    past = [point for point in curve.points if not point.ahead]
    ahead = [*past[-1:], *(point for point in curve.points if point.ahead)]
    days = [
        *(point.on for point in curve.points),
        *(count.on for count in curve.counts),
        *(event.on for event in curve.events),
        on,
    ]
    frame = _Frame(min(days), max(days), _most(curve))
    present = {SORTS.get(count.how, "unsaid") for count in curve.counts}
    lanes = _lanes(curve, frame)
    return Drawn(
        past=_band(past, frame),
        past_mid=_middle(past, frame),
        ahead=_band(ahead, frame),
        ahead_mid=_middle(ahead, frame),
        today=frame.x(on),
        numbers=tuple(_numbers(frame)),
        days=tuple(_days(frame, min(days), max(days))),
        marks=tuple(_mark(count, frame) for count in curve.counts),
        sorts=tuple((sort, said) for sort, said in SORT_SAID.items() if sort in present),
        lanes=lanes,
        by_roots=frame.by_roots,
        foot=TOP + HEIGHT,
        height=TOP + HEIGHT + _GAP + LANE * len(lanes) + _FOOT,
    )


def table(curve: Curve) -> tuple[Line, ...]:
    """What the drawing shows, day by day."""
    return tuple(
        Line(
            on=one.on,
            likely=likely_said(one.point) if one.point else "",
            ahead=one.point is not None and one.point.ahead,
            seen=one.seen,
        )
        for one in lines_of(curve)
    )


def _most(curve: Curve) -> float:
    """The highest end of the band; counts and the forecast's own upper end may stand out of it.

    A forecast's top may be many times its middle: the axis ends at four times the highest middle
    then (ours), and the band runs out of the frame.
    """
    counts = [float(max(count.low, count.high or 0)) for count in curve.counts]
    tops = [point.high for point in curve.points if not point.ahead]
    later = [point.high for point in curve.points if point.ahead]
    middles = [point.mid for point in curve.points]
    known = max([*counts, *tops, 1.0])
    return max(known, min(max(later, default=0.0), 4 * max(middles, default=0.0)))


def _band(points: Sequence[Point], frame: _Frame) -> str:
    if not points:
        return ""
    over = [f"{frame.x(one.on)} {frame.y(one.high)}" for one in points]
    under = [f"{frame.x(one.on)} {frame.y(one.low)}" for one in reversed(points)]
    return f"M{'L'.join([*over, *under])}z"


def _middle(points: Sequence[Point], frame: _Frame) -> str:
    return (
        "M" + "L".join(f"{frame.x(one.on)} {frame.y(one.mid)}" for one in points) if points else ""
    )


def _mark(count: CountMade, frame: _Frame) -> Mark:
    high = count.low if count.high is None else count.high
    return Mark(
        sort=SORTS.get(count.how, "unsaid"),
        x=frame.x(count.on),
        low=frame.y(count.low),
        high=frame.y(high),
        open_above=count.high is None,
    )


def _numbers(frame: _Frame) -> Iterable[Tick]:
    """Figures on the axis, from the top down as many as stand apart; nought always."""
    yield Tick("0", frame.y(0))
    last, steps = frame.y(0), _STEPS
    if not frame.by_roots:
        step = next(one for one in steps if one * 5 >= frame.most)
        steps = tuple(range(step, int(frame.most) + 1, step))
    for step in steps:
        at = frame.y(step)
        if step <= frame.most and last - at >= _APART:
            yield Tick(f"{step:,}", at)
            last = at


def _days(frame: _Frame, first: date, last: date) -> Iterable[Tick]:
    """The first of each quarter, or only of each year, or of every few years."""
    quarters = [
        date(year, month, 1)
        for year in range(first.year, last.year + 2)
        for month in (1, 4, 7, 10)
        if first <= date(year, month, 1) <= last
    ]
    for kept in (quarters, [q for q in quarters if q.month in (1, 7)], _januaries(quarters)):
        places = [frame.x(day) for day in kept]
        if all(b - a >= _MONTH_APART for a, b in pairwise(places)):
            break
    else:
        every = 1 + int(_MONTH_APART / max(1.0, (WIDTH - LEFT) / max(1, len(kept))))
        kept = kept[::every]
    for day in kept:
        words = f"{day.year}" if day.month == 1 else date_said("MMM", day)
        yield Tick(words, frame.x(day))


def _januaries(quarters: list[date]) -> list[date]:
    return [day for day in quarters if day.month == 1]


def _lanes(curve: Curve, frame: _Frame) -> tuple[Lane, ...]:
    found: list[Lane] = []
    for what, words in LANES.items():
        days = [event.on for event in curve.events if event.what == what]
        if days:
            y = TOP + HEIGHT + _GAP + LANE * (len(found) + 0.5)
            at = tuple(sorted({frame.x(day) for day in days}))
            found.append(Lane(what=what, words=gettext(words), y=y, at=at))
    return tuple(found)
