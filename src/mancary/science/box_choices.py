"""For every box at once: the best set of evenings to open it, when minutes have a price.

One opening serves all tasks of a box that are done on its evening. With a price on each evening's
minutes the boxes no longer depend on each other, and for a dozen evenings all sets of evenings can
be looked at: the least cost of a task over a set is the lesser of the least over the set without
its last evening and the cost on that evening, so all 2^E sets cost E steps.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

MOST_EVENINGS = 12
"""With more, the sets of evenings are too many to look at one by one."""

_CHUNK_CELLS = 40_000_000


@dataclass(frozen=True, slots=True)
class Work:
    """What all boxes want, padded to the same number of tasks.

    ``minutes`` (boxes, tasks); ``cost`` (boxes, tasks, evenings) of doing a task on an evening,
    infinite where it may not be done; ``left_out`` (boxes, tasks) of not doing it at all, zero for
    padding; ``opening_minutes`` (boxes,) for each evening on which a box is opened. Costs are in
    minutes of the keeper's time, his own minutes among them. ``heavy`` (boxes, tasks) is one for a
    task of which an evening takes only so many over all boxes, else zero; left out, none is heavy.
    """

    minutes: Floats
    cost: Floats
    left_out: Floats
    opening_minutes: Floats
    heavy: Floats = field(default_factory=lambda: np.zeros((0, 0)))

    def __post_init__(self) -> None:
        if self.heavy.shape != self.minutes.shape:
            object.__setattr__(self, "heavy", np.zeros(self.minutes.shape))

    def of(self, rows: NDArray[np.int64] | slice) -> "Work":
        """The work of some of the boxes."""
        return Work(
            self.minutes[rows],
            self.cost[rows],
            self.left_out[rows],
            self.opening_minutes[rows],
            self.heavy[rows],
        )


@dataclass(frozen=True, slots=True)
class Choices:
    """One set of evenings for each box: its cost without prices, the minutes and the heavy tasks
    it takes of each evening (boxes, evenings), its cost with prices, and the evening of each task
    (-1: not done).
    """

    cost: Floats
    used: Floats
    heavy: Floats
    priced: Floats
    evening: NDArray[np.int8]


def best_choices(work: Work, prices: Floats, heavy_prices: Floats | None = None) -> Choices:
    """The least-cost choice of every box under the given prices (evenings,) of a minute and of a
    heavy task.

    Raises:
        ValueError: with more evenings than ``MOST_EVENINGS``.
    """
    evenings = work.cost.shape[2]
    if evenings > MOST_EVENINGS:
        raise ValueError(f"{evenings} evenings are too many; at most {MOST_EVENINGS}")
    boxes = max(1, _CHUNK_CELLS // max(1, work.minutes.shape[1] << evenings))
    heavy_prices = np.zeros(evenings) if heavy_prices is None else heavy_prices
    parts = [
        _chunk(work.of(slice(start, start + boxes)), prices, heavy_prices)
        for start in range(0, len(work.minutes), boxes)
    ]
    return Choices(
        cost=np.concatenate([part.cost for part in parts]),
        used=np.concatenate([part.used for part in parts]),
        heavy=np.concatenate([part.heavy for part in parts]),
        priced=np.concatenate([part.priced for part in parts]),
        evening=np.concatenate([part.evening for part in parts]),
    )


def _chunk(work: Work, prices: Floats, heavy_prices: Floats) -> Choices:
    priced_cost = (
        work.cost + work.minutes[:, :, None] * prices + work.heavy[:, :, None] * heavy_prices
    )
    boxes, tasks, evenings = priced_cost.shape
    least = np.empty((boxes, tasks, 1 << evenings))
    least[:, :, 0] = work.left_out
    for evening in range(evenings):
        half = 1 << evening
        np.minimum(
            least[:, :, :half],
            priced_cost[:, :, evening, None],
            out=least[:, :, half : 2 * half],
        )
    opened = _sets(evenings)
    total = least.sum(axis=1) + work.opening_minutes[:, None] * (opened @ (1.0 + prices))
    chosen = total.argmin(axis=1)
    return _settled(work, priced_cost, opened[chosen] > 0, total[np.arange(boxes), chosen])


def _sets(evenings: int) -> Floats:
    """Which evenings are in each set: (2^evenings, evenings) of zeros and ones."""
    numbers = np.arange(1 << evenings)
    return ((numbers[:, None] >> np.arange(evenings)) & 1).astype(np.float64)


def _settled(work: Work, priced_cost: Floats, opened: NDArray[np.bool_], priced: Floats) -> Choices:
    within = np.where(opened[:, None, :], priced_cost, np.inf)
    evening = within.argmin(axis=2)
    done = within.min(axis=2) < work.left_out
    rows, columns = np.indices(evening.shape)
    cost = np.where(done, work.cost[rows, columns, evening], work.left_out).sum(axis=1)
    used, heavy = np.zeros(opened.shape), np.zeros(opened.shape)
    np.add.at(used, (rows[done], evening[done]), work.minutes[done])
    np.add.at(heavy, (rows[done], evening[done]), work.heavy[done])
    visited = np.zeros(opened.shape, dtype=bool)
    visited[rows[done], evening[done]] = True
    used += visited * work.opening_minutes[:, None]
    return Choices(
        cost=cost + visited.sum(axis=1) * work.opening_minutes,
        used=used,
        heavy=heavy,
        priced=priced,
        evening=np.where(done, evening, -1).astype(np.int8),
    )
