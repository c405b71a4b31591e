"""A colony's curve: its counts as they were made, the likely band, the forecast, and its events."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

import numpy as np
from msgspec import Struct

from mancary.husbandry.colony_past import WEEK, Past
from mancary.husbandry.count_told import counted_said
from mancary.husbandry.sentences import tell
from mancary.science.belief import beliefs, size
from mancary.science.belief_model import BeliefModel
from mancary.science.stage_paths import Paths

_AHEAD_EVERY_WEEKS: Final = 6
_SHOWN: Final = 40
"""Points of the past are thinned to so many."""


class Point(Struct, frozen=True, kw_only=True):
    """Juveniles and adults on a day, a 90 % range; ``ahead`` where it is the forecast."""

    on: date
    low: float
    mid: float
    high: float
    ahead: bool


class CountMade(Struct, frozen=True, kw_only=True):
    """A count as it was made: ``low`` to ``high`` as seen, not what it stands for."""

    on: date
    how: str
    low: int
    high: int | None
    said: str


class Happened(Struct, frozen=True, kw_only=True):
    """An event on the same axis."""

    on: date
    what: str
    said: str


class Curve(Struct, frozen=True, kw_only=True):
    """What is drawn, and what a table says the same."""

    points: tuple[Point, ...]
    counts: tuple[CountMade, ...]
    events: tuple[Happened, ...]


class Line(Struct, frozen=True, kw_only=True):
    """A day of the curve told: its point, None where only something was seen, and what was seen."""

    on: date
    point: Point | None
    seen: tuple[str, ...]


def lines_of(curve: Curve) -> tuple[Line, ...]:
    """What the curve shows, day by day."""
    seen: dict[date, list[str]] = {}
    for count in curve.counts:
        seen.setdefault(count.on, []).append(tell("counted %(said)s", count))
    for event in curve.events:
        seen.setdefault(event.on, []).append(event.said)
    points = {point.on: point for point in curve.points}
    return tuple(
        Line(on=day, point=points.get(day), seen=tuple(seen.get(day, ())))
        for day in sorted({*seen, *points})
    )


def likely_said(point: Point) -> str:
    """The middle and the range of a point: "12 (5-31)"."""
    return f"{point.mid:.0f} ({point.low:.0f}-{point.high:.0f})"


def curve_of(
    past: Past, model: BeliefModel, paths: Paths, on: date, befell: Iterable[Happened] = ()
) -> Curve:
    """The band as it was believed after each look, and the runs ahead.

    ``befell`` are events beside those seen of the colony itself.
    """
    return Curve(
        points=(*_past_points(past, model, on), *_ahead_points(paths, on)),
        counts=tuple(
            CountMade(on=day, how=fact.how, low=fact.low, high=fact.high, said=counted_said(fact))
            for look in past.looks
            for day, fact, _ in look.counts
            if day <= on
        ),
        events=tuple(sorted([*_events(past, on), *befell], key=lambda one: one.on)),
    )


def _past_points(past: Past, model: BeliefModel, on: date) -> list[Point]:
    history = past.history(on)
    weeks = [*(visit.week for visit in history.visits), history.week]
    told = []
    for place, (week, belief) in enumerate(zip(weeks, beliefs(history, model), strict=True)):
        held = size(belief)
        last = place == len(weeks) - 1
        day = on if last else min(past.since + timedelta(days=WEEK * week), on)
        told.append(Point(on=day, low=held.low, mid=held.mid, high=held.high, ahead=False))
    every = max(1, len(told) // _SHOWN)
    return [*told[:-1][::every], told[-1]]


def _ahead_points(paths: Paths, on: date) -> list[Point]:
    told = []
    for week in range(_AHEAD_EVERY_WEEKS, len(paths.grown), _AHEAD_EVERY_WEEKS):
        low, mid, high = (float(q) for q in np.quantile(paths.grown[week], (0.05, 0.5, 0.95)))
        told.append(Point(on=on + timedelta(weeks=week), low=low, mid=mid, high=high, ahead=True))
    return told


def _events(past: Past, on: date) -> list[Happened]:
    told = [Happened(on=past.since, what="founded", said=_founded(past))]
    for look in past.looks:
        if look.day > on:
            continue
        if look.young:
            told.append(Happened(on=look.day, what="young", said=tell("young seen")))
        if look.dead and sum(look.dead):
            told.append(
                Happened(on=look.day, what="dead", said=tell("%(dead)s dead", dead=sum(look.dead)))
            )
        if look.taken or look.taken_unknown:
            many = f"{look.taken:.0f}" if look.taken else "some"
            told.append(
                Happened(
                    on=look.day, what="taken", said=tell("%(many)s taken or split off", many=many)
                )
            )
        if look.none_seen:
            told.append(Happened(on=look.day, what="none", said=tell("none seen")))
    return told


def _founded(past: Past) -> str:
    if past.joined:
        return tell("another colony put in")
    if past.founders is None:
        return tell("begun, founders not counted")
    low, high = past.founders
    return (
        tell("founded with %(low)s", low=low)
        if low == high
        else tell("founded with %(low)s-%(high)s", low=low, high=high)
    )
