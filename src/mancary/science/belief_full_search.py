"""What a search of the whole box tells: animals found and counted one by one.

All constants are ours. A search that finds more than there are is a slip; one that finds fewer is
common, for small ones and those in a half-moult are missed.
"""

from functools import lru_cache
from typing import Final

import numpy as np

from mancary.science.belief_model import sizes, spread_sizes
from mancary.science.validity import Floats

FULL_FINDS: Final = (24, 2)
"""Searches find shares by this Beta: 92 % in the middle, nine in ten of them 83 to 98 %."""
TWICE: Final = 0.03
"""How often a count holds some animals twice, `COUNTED_TWICE` of them."""
COUNTED_TWICE: Final = 0.05
ODD_FULL: Final = 0.002
"""How often a count of the whole box says nothing of the size."""
ODD_ABOVE: Final = 0.0002
"""The same where it is more than `_FAR_ABOVE` times what there are: a slip seldom finds animals."""
_FAR_ABOVE: Final = 3.0
_ODD_WHERE_NONE: Final = 1e-6
_PARTS: Final = 32


def found_of(count: int, animals: Floats) -> Floats:
    """The chance to find ``count`` of so many whole ``animals`` in a search of the whole box.

    Beta-binomial (Skellam 1948, J. R. Stat. Soc. B 10:257, from memory): each search finds a share
    of its own, by Beta `FULL_FINDS`, and of that share each animal or not.
    """
    a, b = FULL_FINDS
    n = animals.astype(int)
    rest = np.maximum(n - count, 0)
    told = _log_factorials(int(n.max(initial=0)) + a + b + 1)
    low = min(count, len(told) - a - 1)
    ways = told[n] - told[low] - told[rest]
    shares = told[low + a - 1] + told[rest + b - 1] - told[n + a + b - 1]
    both = told[a - 1] + told[b - 1] - told[a + b - 1]
    return np.asarray(np.where(n >= count, np.exp(ways + shares - both), 0.0))


def full_search(count: int, cells: int, broad: float) -> Floats:
    """The chance of a count by size (1, 1, cells), ``broad`` that of one that tells nothing."""
    animals = np.rint(spread_sizes(cells, _PARTS))
    twice = animals + np.ceil(COUNTED_TWICE * animals)
    found = ((1 - TWICE) * found_of(count, animals) + TWICE * found_of(count, twice)).mean(axis=1)
    odd = np.where(count > _FAR_ABOVE * sizes(cells), ODD_ABOVE, ODD_FULL)
    if count > 0:
        odd[0] = _ODD_WHERE_NONE
    return np.asarray((1 - odd) * found + odd * broad)[None, None, :]


@lru_cache(maxsize=8)
def _log_factorials(up_to: int) -> Floats:
    return np.append(0.0, np.cumsum(np.log(np.arange(1.0, up_to + 1))))
