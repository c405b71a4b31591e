"""The same plan as one mixed-integer program, solved to the end: for small rooms."""

from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from mancary.science.box_choices import Floats, Work
from mancary.science.evenings_plan import LEVELLING, Plan, Prices

MOST_CELLS = 400
"""Boxes times tasks times evenings up to which solving to the end takes well under a second.

Boxes that are all alike take the longest: a hundred of two tasks each took minutes.
"""

_MOST_NODES = 500

_Done = tuple[int, int, int]


def share_out_exactly(
    work: Work,
    offered: Floats,
    even: Floats | None = None,
    *,
    most_heavy: Floats | None = None,
    good_gap: float = 0.0,
) -> Plan:
    """The plan of least cost, as ``share_out`` finds it, proven by the solver itself.

    Where the solver's nodes run out first, or a plan is within ``good_gap`` (a share of what it
    saves against doing nothing) of the best, the bound is what it has proven by then.

    Variables: a task done on an evening, a box opened on an evening, minutes above the even share.
    """
    boxes, tasks, evenings = work.cost.shape
    nothing = np.zeros(evenings)
    prices = Prices(nothing, nothing)
    even = np.full(evenings, np.inf) if even is None else even
    if boxes == 0:
        return Plan(np.empty((0, tasks), np.int8), 0.0, 0.0, nothing, nothing, even, prices)
    worth = np.isfinite(work.cost) & (work.cost < work.left_out[:, :, None])
    done: list[_Done] = [(int(b), int(t), int(e)) for b, t, e in np.argwhere(worth)]
    rows = _rows(work, done, offered, even, most_heavy)
    whole = np.concatenate([np.ones(len(done) + boxes * evenings), nothing])
    told = milp(
        _costs(work, done),
        integrality=whole,
        bounds=Bounds(0, np.where(whole > 0, 1.0, np.inf)),
        constraints=LinearConstraint(rows.matrix(len(whole)), ub=rows.ends),
        options={"mip_rel_gap": good_gap, "node_limit": _MOST_NODES},
    )
    least = float(work.left_out.sum())
    found = np.zeros(len(whole)) if told.x is None else told.x  # nothing done is always a plan
    cost = least + (0.0 if told.x is None else float(told.fun))
    bound = 0.0 if told.mip_dual_bound is None else max(0.0, least + float(told.mip_dual_bound))
    taken = [one for one, value in zip(done, found, strict=False) if value > 0.5]
    evening, used, heavy = _placed(work, taken)
    return Plan(evening, cost, min(bound, cost), used, heavy, even, prices)


@dataclass(slots=True)
class _Rows:
    """Rows of the program, each a sum of variables that stays up to its end."""

    cells: list[tuple[int, int, float]] = field(default_factory=list)
    ends: list[float] = field(default_factory=list)

    def add(self, cells: list[tuple[int, float]], end: float) -> None:
        self.cells.extend((len(self.ends), column, value) for column, value in cells)
        self.ends.append(end)

    def matrix(self, width: int) -> coo_array:
        row, column, value = (np.array(part) for part in zip(*self.cells, strict=True))
        return coo_array((value, (row, column)), shape=(len(self.ends), width)).tocsr()


def _costs(work: Work, done: list[_Done]) -> Floats:
    evenings = work.cost.shape[2]
    doing = [work.cost[key] - work.left_out[key[:2]] for key in done]
    opening = np.repeat(work.opening_minutes, evenings)
    return np.concatenate([doing, opening, np.full(evenings, LEVELLING)])


def _rows(
    work: Work, done: list[_Done], offered: Floats, even: Floats, most_heavy: Floats | None
) -> _Rows:
    boxes, _, evenings = work.cost.shape
    rows, levels = _Rows(), len(done) + boxes * evenings
    by_task: dict[tuple[int, int], list[tuple[int, float]]] = {}
    spent: list[list[tuple[int, float]]] = [[] for _ in range(evenings)]
    heavy: list[list[tuple[int, float]]] = [[] for _ in range(evenings)]
    for column, (box, task, evening) in enumerate(done):
        by_task.setdefault((box, task), []).append((column, 1.0))
        spent[evening].append((column, float(work.minutes[box, task])))
        heavy[evening].append((column, float(work.heavy[box, task])))
        rows.add([(column, 1.0), (len(done) + box * evenings + evening, -1.0)], 0.0)
    for cells in by_task.values():
        rows.add(cells, 1.0)
    for evening in range(evenings):
        opened = range(len(done) + evening, levels, evenings)
        spent[evening] += zip(opened, work.opening_minutes.tolist(), strict=True)
        rows.add(spent[evening], offered[evening])
        if np.isfinite(even[evening]):
            rows.add([*spent[evening], (levels + evening, -1.0)], even[evening])
        if most_heavy is not None:
            rows.add(heavy[evening], most_heavy[evening])
    return rows


def _placed(
    work: Work, taken: list[_Done]
) -> tuple[np.ndarray[tuple[int, int], np.dtype[np.int8]], Floats, Floats]:
    boxes, tasks, evenings = work.cost.shape
    evening = np.full((boxes, tasks), -1, np.int8)
    used, heavy = np.zeros(evenings), np.zeros(evenings)
    for box, task, when in taken:
        evening[box, task] = when
        used[when] += work.minutes[box, task]
        heavy[when] += work.heavy[box, task]
    for box, when in {(box, when) for box, _, when in taken}:
        used[when] += work.opening_minutes[box]
    return evening, used, heavy
