"""The same plan as one mixed-integer program, solved to the end: for small rooms."""

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from mancary.science.box_choices import Floats, Work
from mancary.science.evenings import LEVELLING, Plan

MOST_CELLS = 3000
"""Boxes times tasks times evenings up to which solving to the end takes well under a second."""


def share_out_exactly(work: Work, offered: Floats, even: Floats | None = None) -> Plan:
    """The plan of least cost, as ``share_out`` finds it, proven by the solver itself.

    Variables: a task done on an evening, a box opened on an evening, minutes above the even share.
    """
    boxes, _, evenings = work.cost.shape
    if boxes == 0:
        return Plan(np.empty((0, 0), np.int8), 0.0, 0.0, np.zeros(evenings))
    even = np.full(evenings, np.inf) if even is None else even
    done = [
        (box, task, evening)
        for box, task, evening in np.ndindex(work.cost.shape)
        if np.isfinite(work.cost[box, task, evening])
        and work.cost[box, task, evening] < work.left_out[box, task]
    ]
    opened = [(box, evening) for box in range(boxes) for evening in range(evenings)]
    place = {key: len(done) + number for number, key in enumerate(opened)}
    count = len(done) + len(opened) + evenings
    cost = np.concatenate(
        [
            [work.cost[key] - work.left_out[key[:2]] for key in done],
            [work.opening_minutes[box] for box, _ in opened],
            np.full(evenings, LEVELLING),
        ]
    )
    rows: list[tuple[int, int, float]] = []
    ends: list[float] = []

    def row(cells: list[tuple[int, float]], end: float) -> None:
        rows.extend((len(ends), column, value) for column, value in cells)
        ends.append(end)

    by_task: dict[tuple[int, int], list[tuple[int, float]]] = {}
    by_evening: list[list[tuple[int, float]]] = [[] for _ in range(evenings)]
    for column, (box, task, evening) in enumerate(done):
        by_task.setdefault((box, task), []).append((column, 1.0))
        by_evening[evening].append((column, float(work.minutes[box, task])))
        row([(column, 1.0), (place[box, evening], -1.0)], 0.0)
    for cells in by_task.values():
        row(cells, 1.0)
    for box, evening in opened:
        by_evening[evening].append((place[box, evening], float(work.opening_minutes[box])))
    for evening, cells in enumerate(by_evening):
        row(cells, offered[evening])
        if np.isfinite(even[evening]):
            row([*cells, (count - evenings + evening, -1.0)], even[evening])
    told = milp(
        cost,
        integrality=np.concatenate([np.ones(count - evenings), np.zeros(evenings)]),
        bounds=Bounds(0, np.concatenate([np.ones(count - evenings), np.full(evenings, np.inf)])),
        constraints=LinearConstraint(_matrix(rows, len(ends), count), ub=ends),
        options={"mip_rel_gap": 0.0},
    )
    return _plan(work, done, told.x, float(told.fun + work.left_out.sum()))


def _matrix(rows: list[tuple[int, int, float]], height: int, width: int) -> coo_array:
    row, column, value = (np.array(part) for part in zip(*rows, strict=True))
    return coo_array((value, (row, column)), shape=(height, width)).tocsr()


def _plan(work: Work, done: list[tuple[int, int, int]], found: Floats, cost: float) -> Plan:
    boxes, tasks, evenings = work.cost.shape
    evening = np.full((boxes, tasks), -1, np.int8)
    used = np.zeros(evenings)
    opened: set[tuple[int, int]] = set()
    for column, (box, task, when) in enumerate(done):
        if found[column] > 0.5:
            evening[box, task] = when
            used[when] += work.minutes[box, task]
            opened.add((box, when))
    for box, when in opened:
        used[when] += work.opening_minutes[box]
    return Plan(evening, cost, cost, used)
