"""Tasks and evenings to the planner's numbers, and its answer back to tasks."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from mancary.husbandry.planning_evenings import Evening, Kept, Planned
from mancary.husbandry.tasks import Task
from mancary.science.box_choices import Work
from mancary.science.evenings import Plan, share_out
from mancary.science.evenings_exact import MOST_CELLS, share_out_exactly

_STAY_MINUTES = 0.2
"""Ours: how much it costs to take a task off the evening it was planned for; keeps plans quiet."""

_UNDONE_DAYS = 3
"""Ours: leaving a task out of the weeks ahead counts as doing it so many days after their end."""


def plan_tasks(
    tasks: Sequence[Task],
    evenings: Sequence[Evening],
    *,
    opening_minutes: float,
    kept: Kept | None = None,
) -> Planned:
    """The best evenings for the tasks within the minutes offered.

    ``kept`` says on which evenings a care of a box was planned before.
    """
    boxes = sorted({task.box for task in tasks})
    by_box: dict[str, list[Task]] = {box: [] for box in boxes}
    for task in tasks:
        by_box[task.box].append(task)
    work = _work([by_box[box] for box in boxes], evenings, opening_minutes, kept or {})
    offered = np.array([evening.minutes for evening in evenings], dtype=float)
    plan = _solved(work, offered)
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


def _solved(work: Work, offered: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> Plan:
    if work.cost.size <= MOST_CELLS:
        return share_out_exactly(work, offered)
    return share_out(work, offered)


def _work(
    rows: Sequence[Sequence[Task]],
    evenings: Sequence[Evening],
    opening_minutes: float,
    kept: Kept,
) -> Work:
    width = max((len(row) for row in rows), default=0)
    shape = (len(rows), width)
    minutes, left_out = np.zeros(shape), np.zeros(shape)
    cost = np.full((*shape, len(evenings)), np.inf)
    end = evenings[-1].day if evenings else date.min
    for number, row in enumerate(rows):
        for column, task in enumerate(row):
            minutes[number, column] = task.minutes
            undone = max(0, (end - task.latest).days) + _UNDONE_DAYS
            left_out[number, column] = task.minutes + 0.5 + task.harm * undone
            before = kept.get((task.box, task.care), frozenset())
            for place, evening in enumerate(evenings):
                if evening.day < task.due:
                    continue
                late = max(0, (evening.day - task.latest).days)
                moved = _STAY_MINUTES if before and evening.day not in before else 0.0
                cost[number, column, place] = task.minutes + task.harm * late + moved
    return Work(minutes, cost, left_out, np.full(len(rows), opening_minutes))
