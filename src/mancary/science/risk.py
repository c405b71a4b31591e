"""Chances that a colony falls under a number, and that it has fallen, from what is believed of it.

Whether it will be smaller in twelve weeks is not asked: no method tried could tell (see
``docs/science/watch.md``).
"""

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mancary.science.belief import believe, likelihood, one_week, week_of
from mancary.science.belief_model import TOP, BeliefModel, Shares, sizes
from mancary.science.belief_state import Belief, History, Visit
from mancary.science.belief_taking import departure
from mancary.science.validity import Floats, within

THRESHOLD: Final = 5.0
WEEKS: Final = 12
LEFT_OUT: Final = 1e-3
"""The most that `p_fell` leaves out, and so the most it can be wrong by for its model."""


@lru_cache(maxsize=64)
def below_table(
    model: BeliefModel, threshold: float = THRESHOLD, weeks: int = WEEKS, still: int = 0
) -> Floats:
    """The chance (regimes, cells) of being under ``threshold`` animals in one of the coming weeks.

    Looked at once a week, not in between, from next week on; the cell in which the threshold lies
    counts by its part below. In the first ``still`` weeks it cannot grow. Computed backwards once;
    read only.

    Raises:
        OutsideValidity: for a threshold outside 1..5000 or weeks outside 1..520.
    """
    within("threshold", threshold, 1.0, 5000.0)
    within("weeks", weeks, 1, 520)
    under = _part_below(model.shape[2], np.array([threshold]))[0]
    told = np.zeros(model.shape[1:])
    for week in reversed(range(weeks)):
        kernel = week_of(model, still=week < still).kernel.astype(float)
        met = under + (1 - under) * told
        drawn = np.array(model.regime_weights) @ met
        then = (1 - model.switch) * met + model.switch * drawn
        told = (kernel @ then[:, :, None])[:, :, 0]
    told.flags.writeable = False
    return told


def p_below(
    belief: Belief,
    model: BeliefModel,
    *,
    threshold: float = THRESHOLD,
    weeks: int = WEEKS,
    still: int = 0,
) -> float:
    """The chance that there are fewer than ``threshold`` animals, of any age, in a coming week."""
    by_cell = belief.shares.sum(axis=0, dtype=float)
    table = below_table(model, threshold, weeks, min(max(0, still), weeks))
    told = float((by_cell * table).sum())
    return min(1.0, max(0.0, told))


def p_fell(history: History, model: BeliefModel, *, weeks: int = WEEKS) -> float:
    """The chance that there are fewer animals now than ``weeks`` ago, apart from those taken out.

    Summed exactly over the size then and now, not sampled; what is left out of it weighs no more
    than `LEFT_OUT`. The size then takes into account what was seen since. Both sizes in
    the same cell count as a half.

    Raises:
        OutsideValidity: for a colony younger than ``weeks``, or weeks outside 1..520.
    """
    within("weeks", weeks, 1, 520)
    within("week", history.week, weeks, np.inf)
    since = history.week - weeks
    early = tuple(visit for visit in history.visits if visit.week <= since)
    late = tuple(visit for visit in history.visits if visit.week > since)
    then = believe(replace(history, visits=early, week=since), model)
    rows, cells = _kept(then.shares, _outlook(late, since, history, model))
    joint = np.zeros((model.shape[1], len(rows), model.shape[2]), dtype=np.float32)
    joint[:, np.arange(len(rows)), cells] = then.shares[rows, :, cells].T
    joint = _carried(joint, rows, late, since, history, model)
    fewer = _fewer(model.shape[2], sum(visit.taken for visit in late))
    by_row = joint.sum(axis=0, dtype=float)
    return float((by_row * fewer[cells]).sum() / by_row.sum())


def _outlook(late: tuple[Visit, ...], since: int, history: History, model: BeliefModel) -> Floats:
    """How well each (class, regime, cell) at ``since`` foretells what was seen after it."""
    told, at = np.ones(model.shape), history.week
    for visit in reversed(late):
        told = _back(told, visit.week, at, history, model)
        gone = departure(model.shape[2], visit.taken, uncounted=visit.uncounted)
        if gone is not None:
            told = told @ gone.T.astype(float)
        factor = likelihood(model, visit.evidence)
        told = told if factor is None else told * factor
        told, at = told / told.max(), visit.week
    return _back(told, since, at, history, model)


def _back(told: Floats, first: int, last: int, history: History, model: BeliefModel) -> Floats:
    weights = np.array(model.regime_weights)
    for week in reversed(range(first, last)):
        kernel = week_of(model, still=week < history.still).kernel
        turned = kernel.transpose(0, 2, 1).astype(float)
        drawn = np.einsum("r,crn->cn", weights, told)[:, None, :]
        then = (1 - model.switch) * told + model.switch * drawn
        told = np.matmul(then.transpose(1, 0, 2), turned).transpose(1, 0, 2)
    return np.asarray(told)


def _kept(then: Shares, outlook: Floats) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The pairs of class and cell that carry all but `LEFT_OUT` of the weight."""
    weight = (then * outlook).sum(axis=1)
    order = np.argsort(weight, axis=None, kind="stable")
    lost = np.cumsum(weight.ravel()[order]) <= LEFT_OUT * weight.sum()
    rows, cells = np.divmod(np.sort(order[~lost]), weight.shape[1])
    return rows, cells


def _carried(
    joint: Shares,
    rows: NDArray[np.int64],
    late: tuple[Visit, ...],
    since: int,
    history: History,
    model: BeliefModel,
) -> Shares:
    """The joint shares (regimes, rows, cells) from ``since`` to the last week."""
    at = since
    for visit in late:
        for week in range(at, visit.week):
            joint = one_week(joint, week_of(model, still=week < history.still))
        factor = likelihood(model, visit.evidence)
        if factor is not None:
            spread = np.broadcast_to(factor, model.shape)[rows].transpose(1, 0, 2)
            joint = _full(joint * spread)
        gone = departure(model.shape[2], visit.taken, uncounted=visit.uncounted)
        if gone is not None:
            joint = _full(joint @ gone)
        at = visit.week
    for week in range(at, history.week):
        joint = one_week(joint, week_of(model, still=week < history.still))
    return joint


def _full(joint: Floats | Shares) -> Shares:
    total = joint.sum(dtype=float)
    return np.asarray(joint / total if total > 0 else joint, dtype=np.float32)


def _fewer(cells: int, taken: float) -> Floats:
    """The part of a cell now (columns) that lies under the size then (rows) less what was taken."""
    return _part_below(cells, sizes(cells) - taken)


def _part_below(cells: int, bounds: Floats) -> Floats:
    """The part of each cell (columns) under each bound (rows), a cell being even in ln N."""
    at = np.linspace(0.0, TOP, cells - 1)
    bound = np.log(np.maximum(bounds, 1e-9))[:, None]
    told = np.clip((bound - at) / (at[1] - at[0]) + 0.5, 0.0, 1.0)
    return np.concatenate([bounds[:, None] >= 0.5, told], axis=1)
