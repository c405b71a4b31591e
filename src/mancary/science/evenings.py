"""Sharing out work over evenings of few minutes: columns, prices, and a proven bound.

The plan is found by column generation (Dantzig and Wolfe 1960, "Decomposition principle for
linear programs", Operations Research 8:101-111; cited from memory): a column is one box's choice
of evenings; a linear program over the columns known so far prices the minutes of each evening;
each box answers with its best choice under the prices; what no box can better is proven. A mixed-
integer program over the columns then picks one for each box. Everything stops by counts and gaps,
never by the clock, so the same work gives the same plan.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_array, hstack, vstack

from mancary.science.box_choices import Choices, Floats, Work, best_choices

ROUNDS: Final = 40
_ENOUGH: Final = 1e-3
_MOST_NODES: Final = 2000
_MILP_GAP: Final = 2e-3
LEVELLING: Final = 0.02
"""Cost of a minute above an evening's even share: levels the load and decides nothing else."""


@dataclass(frozen=True, slots=True)
class Plan:
    """``evening`` (boxes, tasks) of each task, -1 where it is not done; ``cost`` of the plan and
    the proven lower ``bound`` of any plan's cost, in minutes; ``used`` minutes of each evening.
    """

    evening: NDArray[np.int8]
    cost: float
    bound: float
    used: Floats

    @property
    def gap(self) -> float:
        """(cost - bound) / max(cost, 1)."""
        return max(0.0, self.cost - self.bound) / max(self.cost, 1.0)


def share_out(work: Work, offered: Floats, *, rounds: int = ROUNDS) -> Plan:
    """The plan of least cost that keeps to the minutes offered on each evening (evenings,).

    Leaving everything undone is always a plan, so there is always one.
    """
    boxes, _, evenings = work.cost.shape
    if boxes == 0:
        return Plan(np.empty((0, 0), np.int8), 0.0, 0.0, np.zeros(evenings))
    columns = _Columns(boxes, offered)
    columns.add(_nothing(work))
    prices, bound = np.zeros(evenings), -np.inf
    for _ in range(rounds):
        choices = best_choices(work, prices)
        bound = max(bound, columns.bound(choices, prices))
        if not columns.add(choices):
            break
        value, prices = columns.priced()
        if value - bound <= _ENOUGH * max(1.0, abs(value)):
            break
    return columns.pick(bound)


def _nothing(work: Work) -> Choices:
    boxes, tasks, evenings = work.cost.shape
    cost = work.left_out.sum(axis=1)
    evening = np.full((boxes, tasks), -1, np.int8)
    return Choices(cost=cost, used=np.zeros((boxes, evenings)), priced=cost, evening=evening)


class _Columns:
    """The choices known so far, and the programs over them."""

    def __init__(self, boxes: int, offered: Floats) -> None:
        self.boxes, self.offered = boxes, offered
        self.even = np.full(len(offered), 0.0)
        self.box: list[NDArray[np.int64]] = []
        self.cost: list[Floats] = []
        self.used: list[Floats] = []
        self.evening: list[NDArray[np.int8]] = []
        self._seen: set[tuple[int, bytes]] = set()

    def add(self, choices: Choices) -> bool:
        """Takes in the choices that are new; False where none is."""
        fresh = [
            box
            for box in range(self.boxes)
            if (box, choices.evening[box].tobytes()) not in self._seen
        ]
        if not fresh:
            return False
        self._seen.update((box, choices.evening[box].tobytes()) for box in fresh)
        if len(self.box) == 1:
            self.even = np.full(len(self.offered), choices.used.sum() / len(self.offered))
        self.box.append(np.array(fresh))
        self.cost.append(choices.cost[fresh])
        self.used.append(choices.used[fresh])
        self.evening.append(choices.evening[fresh])
        return True

    def bound(self, choices: Choices, prices: Floats) -> float:
        """What no plan can cost less than, by weak duality for these prices of a minute.

        Prices up to the levelling cost are paid for minutes above the even share, the rest for
        minutes above those offered.
        """
        level = np.minimum(prices, LEVELLING)
        over = prices - level
        return float(choices.priced.sum() - level @ self.even - over @ self.offered)

    def _rows(self) -> tuple[Floats, csr_array, csr_array]:
        cost = np.concatenate(self.cost)
        used = csr_array(np.concatenate(self.used).T)
        box = np.concatenate(self.box)
        count = len(cost)
        one_each = csr_array((np.ones(count), (box, np.arange(count))), shape=(self.boxes, count))
        return cost, used, one_each

    def _levelled(self) -> tuple[Floats, csr_array, Floats, csr_array]:
        """Columns and, behind them, the minutes of each evening above the even share."""
        cost, used, one_each = self._rows()
        evenings = len(self.offered)
        none = csr_array((evenings, evenings))
        limits = vstack(
            [hstack([used, none]), hstack([used, -csr_array(np.eye(evenings))])], format="csr"
        )
        ends = np.concatenate([self.offered, self.even])
        full_cost = np.concatenate([cost, np.full(evenings, LEVELLING)])
        equal = hstack([one_each, csr_array((self.boxes, evenings))], format="csr")
        return full_cost, limits, ends, equal

    def priced(self) -> tuple[float, Floats]:
        """The value of the program over the columns, and the price of each evening's minute."""
        cost, limits, ends, equal = self._levelled()
        told = linprog(
            cost, A_ub=limits, b_ub=ends, A_eq=equal, b_eq=np.ones(self.boxes), method="highs"
        )
        duals = -told.ineqlin.marginals
        evenings = len(self.offered)
        return float(told.fun), np.maximum(duals[:evenings] + duals[evenings:], 0.0)

    def pick(self, bound: float) -> Plan:
        """One column for each box, by a mixed-integer program with a limit on nodes."""
        cost, limits, ends, equal = self._levelled()
        evenings, count = len(self.offered), len(cost) - len(self.offered)
        whole = np.concatenate([np.ones(count), np.zeros(evenings)])
        told = milp(
            cost,
            integrality=whole,
            bounds=Bounds(0, np.concatenate([np.ones(count), np.full(evenings, np.inf)])),
            constraints=[LinearConstraint(limits, ub=ends), LinearConstraint(equal, 1, 1)],
            options={"node_limit": _MOST_NODES, "mip_rel_gap": _MILP_GAP},
        )
        taken = np.flatnonzero(told.x[:count] > 0.5) if told.x is not None else None
        box = np.concatenate(self.box)
        if taken is None or len(taken) != self.boxes:
            taken = np.arange(self.boxes)  # nothing done: always within the minutes
        taken = taken[np.argsort(box[taken], kind="stable")]
        used = np.concatenate(self.used)[taken].sum(axis=0)
        level = LEVELLING * np.maximum(used - self.even, 0).sum()
        spent = float(cost[taken].sum() + level)
        return Plan(np.concatenate(self.evening)[taken], spent, min(bound, spent), used)
