"""A plan over evenings: which task on which, what it costs, and how good it is proven to be."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mancary.science.box_choices import Choices, Floats

LEVELLING: Final = 0.02
"""Cost of a minute above an evening's even share: levels the load and decides nothing else."""


@dataclass(frozen=True, slots=True)
class Prices:
    """What a minute and a heavy task cost on each evening (evenings,), beside their own cost."""

    minute: Floats
    heavy: Floats


@dataclass(frozen=True, slots=True)
class Plan:
    """``evening`` (boxes, tasks) of each task, -1 where it is not done; ``cost`` of the plan and
    the proven lower ``bound`` of any plan's cost, in minutes; ``used`` minutes and ``heavy`` tasks
    of each evening; ``even``, the minutes above which an evening's load is levelled; ``prices``,
    those which prove the bound.
    """

    evening: NDArray[np.int8]
    cost: float
    bound: float
    used: Floats
    heavy: Floats
    even: Floats
    prices: Prices

    @property
    def gap(self) -> float:
        """(cost - bound) / max(cost, 1)."""
        return max(0.0, self.cost - self.bound) / max(self.cost, 1.0)

    @property
    def levelling(self) -> float:
        """The part of the cost that is there to level the load."""
        return levelling(self.used, self.even)


def levelling(used: Floats, even: Floats) -> float:
    """What minutes (evenings,) above the even share cost."""
    return LEVELLING * float(np.maximum(used - even, 0.0).sum())


def bound_by(
    prices: Prices, choices: Choices, *, offered: Floats, most_heavy: Floats, even: Floats
) -> float:
    """What no plan can cost less than, by weak duality: whatever the prices are.

    ``choices`` are the best of each box under the prices. What is priced is paid back for all
    that is offered: prices up to the levelling cost for the minutes of the even share, the rest
    of them for the minutes offered.
    """
    level = np.minimum(prices.minute, LEVELLING)
    over = prices.minute - level
    paid_back = level @ even + over @ offered + prices.heavy @ most_heavy
    return float(choices.priced.sum() - paid_back)
