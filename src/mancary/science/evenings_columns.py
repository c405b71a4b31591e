"""The choices of boxes known so far, and the programs over them."""

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_array, hstack, vstack

from mancary.science.box_choices import Choices, Floats
from mancary.science.evenings_plan import LEVELLING, Plan, Prices, bound_by

_MOST_NODES: Final = 2000
_MILP_GAP: Final = 2e-3


class Columns:
    """Grows by ``add``; ``priced`` gives prices for the next round, ``pick`` the plan."""

    def __init__(self, boxes: int, offered: Floats, most_heavy: Floats, *, even: float) -> None:
        self.boxes, self.offered, self.most_heavy = boxes, offered, most_heavy
        self.even = np.full(len(offered), even)
        self.box: list[NDArray[np.int64]] = []
        self.cost: list[Floats] = []
        self.used: list[Floats] = []
        self.heavy: list[Floats] = []
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
        self.box.append(np.array(fresh))
        self.cost.append(choices.cost[fresh])
        self.used.append(choices.used[fresh])
        self.heavy.append(choices.heavy[fresh])
        self.evening.append(choices.evening[fresh])
        return True

    def bound(self, choices: Choices, prices: Prices) -> float:
        """What no plan can cost less than, by the choices that are best under these prices."""
        return bound_by(
            prices, choices, offered=self.offered, most_heavy=self.most_heavy, even=self.even
        )

    def _levelled(self) -> tuple[Floats, csr_array, Floats, csr_array]:
        """Columns and, behind them, the minutes of each evening above the even share."""
        box = np.concatenate(self.box)
        count, evenings = len(box), len(self.offered)
        used = csr_array(np.concatenate(self.used).T)
        heavy = csr_array(np.concatenate(self.heavy).T)
        none = csr_array((evenings, evenings))
        limits = vstack(
            [
                hstack([used, none]),
                hstack([used, -csr_array(np.eye(evenings))]),
                hstack([heavy, none]),
            ],
            format="csr",
        )
        ends = np.concatenate([self.offered, self.even, self.most_heavy])
        cost = np.concatenate([*self.cost, np.full(evenings, LEVELLING)])
        one_each = csr_array((np.ones(count), (box, np.arange(count))), shape=(self.boxes, count))
        equal = hstack([one_each, csr_array((self.boxes, evenings))], format="csr")
        return cost, limits, ends, equal

    def priced(self) -> tuple[float, Prices]:
        """The value of the program over the columns, and each evening's prices."""
        cost, limits, ends, equal = self._levelled()
        told = linprog(
            cost, A_ub=limits, b_ub=ends, A_eq=equal, b_eq=np.ones(self.boxes), method="highs"
        )
        full, level, heavy = np.split(np.maximum(-told.ineqlin.marginals, 0.0), 3)
        return float(told.fun), Prices(full + level, heavy)

    def pick(self, bound: float, prices: Prices) -> Plan:
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
        if taken is None or len(taken) != self.boxes:
            taken = np.arange(self.boxes)  # nothing done: always within the minutes
        return self._plan(taken, bound, prices)

    def _plan(self, taken: NDArray[np.int64], bound: float, prices: Prices) -> Plan:
        box = np.concatenate(self.box)
        taken = taken[np.argsort(box[taken], kind="stable")]
        used = np.concatenate(self.used)[taken].sum(axis=0)
        level = LEVELLING * np.maximum(used - self.even, 0).sum()
        spent = float(np.concatenate(self.cost)[taken].sum() + level)
        return Plan(
            evening=np.concatenate(self.evening)[taken],
            cost=spent,
            bound=min(bound, spent),
            used=used,
            heavy=np.concatenate(self.heavy)[taken].sum(axis=0),
            even=self.even,
            prices=prices,
        )
