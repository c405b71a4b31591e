"""Sharing out work over evenings of few minutes: columns, prices, and a proven bound.

The plan is found by column generation (Dantzig and Wolfe 1960, "Decomposition principle for
linear programs", Operations Research 8:101-111; cited from memory): a column is one box's choice
of evenings; a linear program over the columns known so far prices the minutes of each evening, and
its heavy tasks; each box answers with its best choice under the prices; what no box can better is
proven. A mixed-integer program over the columns then picks one for each box. Everything stops by
counts and gaps, never by the clock, so the same work gives the same plan.
"""

from typing import Final

import numpy as np

from mancary.science.box_choices import Choices, Floats, Work, best_choices
from mancary.science.evenings_columns import Columns
from mancary.science.evenings_plan import Plan, Prices

ROUNDS: Final = 40
_ENOUGH: Final = 1e-3


def share_out(
    work: Work,
    offered: Floats,
    *,
    most_heavy: Floats | None = None,
    rounds: int = ROUNDS,
    begin: Prices | None = None,
) -> Plan:
    """The plan of least cost that keeps to the minutes offered on each evening (evenings,).

    ``most_heavy`` (evenings,) of heavy tasks are done on an evening, left out any number.
    ``begin`` are prices thought to be near the right ones; they save rounds and decide nothing.
    Leaving everything undone is always a plan, so there is always one.
    """
    boxes, tasks, evenings = work.cost.shape
    nothing = np.zeros(evenings)
    if boxes == 0:
        prices = Prices(nothing, nothing)
        return Plan(np.empty((0, tasks), np.int8), 0.0, 0.0, nothing, nothing, nothing, prices)
    most = np.full(evenings, work.heavy.sum()) if most_heavy is None else most_heavy
    unpriced = best_choices(work, nothing)
    columns = Columns(boxes, offered, most, even=unpriced.used.sum() / evenings)
    columns.add(_nothing(work))
    columns.add(unpriced)
    best = Prices(nothing, nothing)
    bound = columns.bound(unpriced, best)
    if begin:
        columns.add(best_choices(work, begin.minute, begin.heavy))
    for _ in range(rounds):
        value, prices = columns.priced()
        choices = best_choices(work, prices.minute, prices.heavy)
        proven = columns.bound(choices, prices)
        if proven > bound:
            bound, best = proven, prices
        if value - bound <= _ENOUGH * max(1.0, abs(value)) or not columns.add(choices):
            break
    return columns.pick(bound, best)


def _nothing(work: Work) -> Choices:
    boxes, tasks, evenings = work.cost.shape
    cost = work.left_out.sum(axis=1)
    none = np.zeros((boxes, evenings))
    evening = np.full((boxes, tasks), -1, np.int8)
    return Choices(cost=cost, used=none, heavy=none, priced=cost, evening=evening)
