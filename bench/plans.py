"""The round's plan at a hundred, a thousand and ten thousand boxes: gap and time."""

import time
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from bench.result import Result
from mancary.science.box_choices import Work
from mancary.science.evenings import Plan, share_out

TASKS, EVENINGS, PART = 30, 8, 250


def work(boxes: int, seed: int = 5) -> Work:
    """Made-up work of a month in which about six tenths of what is wanted fits."""
    chance = np.random.default_rng(seed)
    minutes = chance.uniform(0.1, 1.5, (boxes, TASKS))
    due = chance.uniform(-3, 24, (boxes, TASKS))
    harm = chance.uniform(0.1, 3, (boxes, TASKS))
    late = np.linspace(0, 28, EVENINGS, endpoint=False) - due[:, :, None]
    cost = np.where(late < -4, np.inf, harm[:, :, None] * np.maximum(late, 0) + minutes[:, :, None])
    return Work(minutes, cost, harm * np.maximum(28 - due, 0) + 2, np.full(boxes, 0.8))


def by_parts(whole: Work, offered: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> Plan:
    """Large rooms: equal parts, each with its share of the minutes."""
    boxes = len(whole.minutes)
    if boxes <= PART:
        return share_out(whole, offered)
    plans = []
    for start in range(0, boxes, PART):
        part = slice(start, start + PART)
        work_part = Work(
            whole.minutes[part], whole.cost[part], whole.left_out[part], whole.opening_minutes[part]
        )
        share = work_part.minutes.sum() / whole.minutes.sum()
        plans.append(share_out(work_part, offered * share, rounds=15))
    return replace(
        plans[0],
        cost=sum(plan.cost for plan in plans),
        bound=sum(plan.bound for plan in plans),
        used=sum((plan.used for plan in plans), np.zeros(EVENINGS)),
    )


def measure() -> Iterator[Result]:
    """Time and gap; for parts the bound is that of plans which keep to the same shares."""
    for boxes in (100, 1_000, 10_000):
        told = work(boxes)
        offered = np.full(EVENINGS, told.minutes.sum() / EVENINGS * 0.6)
        start = time.perf_counter()
        plan = by_parts(told, offered)
        took = time.perf_counter() - start
        yield Result(
            name=f"plan of {boxes:,} boxes, {EVENINGS} evenings, time",
            value=took,
            unit="s",
            reference="no other planner of this problem is at hand",
            ratio=None,
        )
        yield Result(
            name=f"plan of {boxes:,} boxes, {EVENINGS} evenings, cost over the proven bound",
            value=plan.gap,
            unit="1",
            reference="the bound proven by prices on minutes",
            ratio=plan.cost / max(plan.bound, 1.0),
        )
