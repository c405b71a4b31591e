"""Animals taken out of a colony: how many are left, and what a taking tells of its size."""

from functools import lru_cache
from math import log
from typing import Final

import numpy as np

from mancary.science.belief_model import TOP, Shares, spread_sizes
from mancary.science.belief_state import Belief, Visit
from mancary.science.validity import Floats, within

SLIP: Final = 0.05
"""How often the number taken is a slip of the pen; ours."""
UNCOUNTED_AT_MOST: Final = 0.5
"""Of a taking without its number any share up to this is as likely as another; ours."""
_PARTS: Final = 256
_SHARES: Final = 16


def take_out(belief: Belief, animals: float) -> Belief:
    """The belief after surely so many were taken or split off; negative where they were put in.

    A colony that had fewer could not have given them: that it did is evidence of its size. One
    that is believed to have had fewer for certain is given back as it was.

    Raises:
        OutsideValidity: for a number outside -5000..5000.
    """
    if animals == 0:
        return belief
    return _after(belief, removal(belief.shares.shape[2], animals))


def left_by(belief: Belief, visit: Visit) -> Belief:
    """The belief after what was taken at a visit, told or not, its number perhaps a slip."""
    kernel = departure(belief.shares.shape[2], visit.taken, uncounted=visit.uncounted)
    return belief if kernel is None else _after(belief, kernel)


def _after(belief: Belief, kernel: Shares) -> Belief:
    left = belief.shares @ kernel
    total = float(left.sum(dtype=float))
    if total <= 0:
        return belief
    return Belief(left / np.float32(total), belief.log_evidence + log(total))


@lru_cache(maxsize=256)
def departure(cells: int, animals: float, *, uncounted: bool) -> Shares | None:
    """Chances (cells from, cells to) of a taking as it was noted; None where nothing was taken.

    ``uncounted`` where some went without their number. One number in twenty is held for a slip,
    after which as many may have gone as are taken without one; so no number rules a size out.
    """
    if animals == 0 and not uncounted:
        return None
    some = _uncounted(cells)
    told = np.eye(cells, dtype=np.float32)
    if animals:
        slip = SLIP if animals > 0 else 0.0
        told = np.float32(1 - slip) * removal(cells, animals) + np.float32(slip) * some
    return told @ some if uncounted else told


@lru_cache(maxsize=4)
def _uncounted(cells: int) -> Shares:
    """Chances (cells from, cells to) where any share up to ``UNCOUNTED_AT_MOST`` went."""
    gone = UNCOUNTED_AT_MOST * (np.arange(_SHARES) + 0.5) / _SHARES
    left = np.multiply.outer(1 - gone, spread_sizes(cells, _PARTS)).swapaxes(0, 1)
    return _landed(left.reshape(cells, -1), cells)


@lru_cache(maxsize=256)
def removal(cells: int, animals: float) -> Shares:
    """Chances (cells from, cells to) when ``animals`` go; the impossible makes rows sum below 1."""
    taken = float(within("animals", animals, -5000, 5000))
    return _landed(spread_sizes(cells, _PARTS) - taken, cells)


def _landed(left: Floats, cells: int) -> Shares:
    """Shares of parts (cells from, parts) by the cell they end in; what is below 0 in none."""
    step = TOP / (cells - 2)
    place = np.rint(np.log(np.maximum(left, 0.5)) / step).astype(int)
    to = np.where(left < 0.5, 0, np.clip(place, 0, cells - 2) + 1)
    told = np.zeros((cells, cells))
    rows = np.broadcast_to(np.arange(cells)[:, None], to.shape)
    np.add.at(told, (rows[left >= 0], to[left >= 0]), 1.0 / left.shape[1])
    return told.astype(np.float32)
