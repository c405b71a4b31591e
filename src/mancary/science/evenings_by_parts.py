"""The plan of a large room, part by part, with a bound that holds for the room as a whole.

The boxes are shuffled, always in the same way, and cut into parts, so that the parts are alike.
Each part gets the share of every evening that what is due in it is of what is due in all parts not
yet planned; minutes it leaves over go to the parts after it. By weak duality any prices on minutes
prove a bound for the whole room, so the parts' own prices are tried on all boxes and the best bound
is kept.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mancary.science.box_choices import Floats, Work, best_choices
from mancary.science.evenings import share_out
from mancary.science.evenings_plan import Plan, Prices, bound_by, levelling

PART_BOXES: Final = 250
"""Up to so many boxes are planned as one; the time grows faster than their number."""

_ROUNDS: Final = 15
_SHUFFLE: Final = 6
_SOLVER_SLACK: Final = 1e-9


def share_out_by_parts(
    work: Work, offered: Floats, *, most_heavy: Floats | None = None, part_boxes: int = PART_BOXES
) -> Plan:
    """As ``share_out``, for any number of boxes; the bound is one for the room as a whole."""
    boxes, tasks, evenings = work.cost.shape
    if boxes <= part_boxes:
        return share_out(work, offered, most_heavy=most_heavy)
    most = np.full(evenings, work.heavy.sum()) if most_heavy is None else most_heavy
    count = -(-boxes // part_boxes)
    dealt = [np.sort(rows) for rows in np.array_split(_shuffled(boxes), count)]
    plans = _parts(work, dealt, offered, most)
    evening = np.full((boxes, tasks), -1, np.int8)
    for rows, plan in zip(dealt, plans, strict=True):
        evening[rows] = plan.evening
    used, heavy, even = (
        sum((getattr(plan, name) for plan in plans), np.zeros(evenings))
        for name in ("used", "heavy", "even")
    )
    cost = sum(plan.cost - plan.levelling for plan in plans) + levelling(used, even)
    prices, bound = _best_bound(work, plans, offered=offered, most_heavy=most, even=even)
    return Plan(evening, cost, min(bound, cost), used, heavy, even, prices)


def _shuffled(boxes: int) -> NDArray[np.int64]:
    """A fixed order without a pattern: rooms have patterns of their own, shelf by shelf."""
    return np.random.default_rng(_SHUFFLE).permutation(boxes)


def _parts(
    work: Work, dealt: Sequence[NDArray[np.int64]], offered: Floats, most_heavy: Floats
) -> list[Plan]:
    due = np.array([_due_minutes(work.of(rows)) for rows in dealt])
    heavy = np.array([work.heavy[rows].sum() for rows in dealt])
    plans: list[Plan] = []
    left, heavy_left = offered.astype(float), most_heavy.astype(float)
    for number, rows in enumerate(dealt):
        share = due[number] / np.maximum(due[number:].sum(axis=0), 1e-12)
        heavy_share = heavy[number] / max(heavy[number:].sum(), 1.0)
        plan = share_out(
            work.of(rows),
            left * share,
            most_heavy=np.floor(heavy_left * heavy_share + _SOLVER_SLACK),
            rounds=_ROUNDS,
            begin=plans[-1].prices if plans else None,
        )
        plans.append(plan)
        left = np.maximum(left - plan.used, 0.0)
        heavy_left = np.maximum(heavy_left - plan.heavy, 0.0)
    return plans


def _due_minutes(part: Work) -> Floats:
    """Minutes of the tasks that may be done on each evening, and of one opening of each box."""
    may = np.isfinite(part.cost)
    opened = may.any(axis=1) * part.opening_minutes[:, None]
    return np.asarray((may * part.minutes[:, :, None]).sum(axis=(0, 1)) + opened.sum(axis=0))


def _best_bound(
    work: Work, plans: Sequence[Plan], *, offered: Floats, most_heavy: Floats, even: Floats
) -> tuple[Prices, float]:
    minute = np.array([plan.prices.minute for plan in plans])
    heavy = np.array([plan.prices.heavy for plan in plans])
    tried = (
        Prices(minute.mean(axis=0), heavy.mean(axis=0)),
        Prices(np.median(minute, axis=0), np.median(heavy, axis=0)),
    )
    found = []
    for prices in tried:
        choices = best_choices(work, prices.minute, prices.heavy)
        bound = bound_by(prices, choices, offered=offered, most_heavy=most_heavy, even=even)
        found.append((prices, bound))
    return max(found, key=lambda one: one[1])
