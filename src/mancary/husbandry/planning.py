"""Tasks and evenings to the planner's numbers, and its answer back to tasks."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from math import ceil

import numpy as np

from mancary.husbandry.planning_evenings import Evening, Kept, Planned
from mancary.husbandry.tasks import CHANGES, Task
from mancary.science.box_choices import Floats, Work
from mancary.science.evenings_by_parts import share_out_by_parts
from mancary.science.evenings_exact import MOST_CELLS, share_out_exactly
from mancary.science.evenings_plan import Plan

_STAY_MINUTES = 0.2
"""Ours: how much it costs to take a task off the evening it was planned for; keeps plans quiet."""

_QUIET_SHARE = 0.01
"""Ours: a plan that leaves all as planned before is kept where it costs so much more at most."""

_UNDONE_DAYS = 3
"""Ours: leaving a task out of the weeks ahead counts as doing it so many days after their end."""

_TIMES_EVEN = 2.0
"""Ours: an evening takes at most so many times its even share of the year's changes of substrate.

"Plan the year's substrate changes so that they do not fall together" is practice (from memory);
the number is ours: enough to clear a room that was all changed on one day within its window.
"""

_GOOD_GAP, _BOTH_BOXES = 0.02, 15
"""Ours: a few boxes in great want of minutes are planned both ways; columns alone are too few."""

_WAITING_MINUTES = 0.02
"""Ours: a day that a change waits beyond its own day; so none pile up while evenings are free."""

_ONE_EVENING_DAYS = 28
"""Ours: a plan of a single evening counts as the only one of four weeks."""


def plan_tasks(
    tasks: Sequence[Task],
    evenings: Sequence[Evening],
    *,
    opening_minutes: float,
    kept: Kept | None = None,
) -> Planned:
    """The best evenings for the tasks within the minutes offered.

    ``kept`` says on which evenings a care of a box was planned before. Above some hundred boxes
    the room is planned in parts; ``bound`` and ``gap`` always hold for the whole room. No evening
    takes more than ``most_changes`` changes of substrate.
    """
    boxes = sorted({task.box for task in tasks})
    by_box: dict[str, list[Task]] = {box: [] for box in boxes}
    for task in tasks:
        by_box[task.box].append(task)
    rows = [by_box[box] for box in boxes]
    work = _work(rows, evenings, opening_minutes, kept or {})
    offered = np.array([evening.minutes for evening in evenings], dtype=float)
    most_heavy = np.full(len(evenings), float(most_changes(tasks, evenings)))
    plan = _solved(work, offered, most_heavy)
    if kept:
        plan = _quieter(plan, _solved(_held(work, rows, evenings, kept), offered, most_heavy))
    placed = [
        (task, None if plan.evening[row, column] < 0 else evenings[plan.evening[row, column]].day)
        for row, box in enumerate(boxes)
        for column, task in enumerate(by_box[box])
    ]
    return Planned(
        evenings=tuple(evenings),
        tasks=tuple(placed),
        cost=round(plan.cost, 3),
        bound=round(plan.bound, 3),
        gap=round(plan.gap, 4),
    )


def most_changes(tasks: Sequence[Task], evenings: Sequence[Evening]) -> int:
    """How many changes of substrate, half or whole, one evening takes over the whole room.

    Twice the even share, were every box changed in the rhythm of those that want it now; never
    less than one.
    """
    rhythms = [task.every_days for task in tasks if task.care in CHANGES and task.every_days > 0]
    if not rhythms or not evenings:
        return 1
    boxes = len({task.box for task in tasks})
    a_day = boxes * sum(1 / days for days in rhythms) / len(rhythms)
    between = len(evenings) - 1
    span = (evenings[-1].day - evenings[0].day).days
    return max(1, ceil(_TIMES_EVEN * a_day * (span / between if between else _ONE_EVENING_DAYS)))


def _solved(work: Work, offered: Floats, most_heavy: Floats) -> Plan:
    """To the end where that is quick; by prices, and where these leave much open both ways."""
    if work.cost.size <= MOST_CELLS:
        return share_out_exactly(work, offered, most_heavy=most_heavy)
    priced = share_out_by_parts(work, offered, most_heavy=most_heavy)
    if priced.gap <= _GOOD_GAP or len(work.minutes) > _BOTH_BOXES:
        return priced
    exact = share_out_exactly(work, offered, priced.even, most_heavy=most_heavy, good_gap=_GOOD_GAP)
    best = min(priced, exact, key=lambda plan: plan.cost)
    return replace(best, bound=min(max(priced.bound, exact.bound), best.cost))


def _quieter(free: Plan, held: Plan) -> Plan:
    """The plan that keeps to the one before, where it is nearly as good; with the bound of both."""
    if held.cost - free.cost > _QUIET_SHARE * max(free.cost, 1.0):
        return free
    return replace(held, bound=min(free.bound, held.cost))


def _held(
    work: Work, rows: Sequence[Sequence[Task]], evenings: Sequence[Evening], kept: Kept
) -> Work:
    """The same work in which a task is done on an evening planned before, or not at all.

    A care that is wanted more often than it was planned stays free.
    """
    cost = work.cost.copy()
    for number, row in enumerate(rows):
        wanted = Counter(task.care for task in row)
        for column, task in enumerate(row):
            before = kept.get((task.box, task.care), frozenset())
            away = [evening.day not in before for evening in evenings]
            if wanted[task.care] <= len(away) - sum(away):
                cost[number, column, away] = np.inf
    return replace(work, cost=cost)


def _work(
    rows: Sequence[Sequence[Task]],
    evenings: Sequence[Evening],
    opening_minutes: float,
    kept: Kept,
) -> Work:
    shape = (len(rows), max((len(row) for row in rows), default=0))
    minutes, harm, heavy = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    due, latest = np.full(shape, date.max.toordinal()), np.zeros(shape)
    left, moved = np.zeros(shape), np.zeros((*shape, len(evenings)))
    for number, row in enumerate(rows):
        for column, task in enumerate(row):
            minutes[number, column], harm[number, column] = task.minutes, task.harm
            due[number, column] = task.due.toordinal()
            latest[number, column] = task.latest.toordinal()
            heavy[number, column] = task.care in CHANGES
            if kept:
                before = kept.get((task.box, task.care), frozenset())
                left[number, column] = _STAY_MINUTES if before else 0.0
                moved[number, column] = [
                    0.0 if evening.day in before else _STAY_MINUTES for evening in evenings
                ]
    days = np.array([evening.day.toordinal() for evening in evenings])
    late = np.maximum(days - latest[:, :, None], 0)
    waited = heavy[:, :, None] * np.maximum(days - np.maximum(due, days[:1])[:, :, None], 0)
    cost = minutes[:, :, None] + harm[:, :, None] * late + _WAITING_MINUTES * waited + moved
    cost[days < due[:, :, None]] = np.inf
    end = days[-1] if len(days) else 0
    undone = np.maximum(end - latest, 0) + _UNDONE_DAYS
    there = due < date.max.toordinal()
    left_out = np.where(there, minutes + 0.5 + harm * undone + left, 0.0)
    return Work(minutes, cost, left_out, np.full(len(rows), opening_minutes), heavy)
