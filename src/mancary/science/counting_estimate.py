"""What a count tells of the whole: a middle, a 95 % range, an error, and a sentence."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mancary.science.validity import within

MOST: Final = 10_000.0
"""Animals in any one count; the sums are exact to rounding up to here. Ours."""

Z_95: Final = 1.959963984540054
"""Two-sided 95 % point of the normal distribution."""

Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """Animals in the whole: ``estimate`` and the 95 % range ``low`` to ``high``.

    ``high`` is infinite where the counts put no upper bound; ``said`` then says so. The
    ``standard_error`` is that of the published formula, and the range is not made from it alone.
    """

    estimate: float
    low: float
    high: float
    standard_error: float
    said: str


def whole_counts(quantity: str, counts: Sequence[int], *, least: int = 1) -> Whole:
    """The counts as whole numbers (counts,), at least ``least`` of them.

    Raises:
        ValueError: for too few of them, or for one that is not whole.
        OutsideValidity: for one outside 0..10,000.
    """
    given = np.atleast_1d(within(quantity, np.asarray(counts, dtype=float), 0.0, MOST))
    if given.ndim != 1 or given.size < least:
        raise ValueError(f"{quantity} must be a list of {least} or more")
    if (given != np.round(given)).any():
        raise ValueError(f"{quantity} must be whole numbers")
    return given.astype(np.int64)


def one_count(quantity: str, count: int, *, least: int = 0, most: float = MOST) -> int:
    """One whole number within ``least`` and ``most``.

    Raises:
        ValueError: for one that is not whole.
        OutsideValidity: for one outside the range.
    """
    given = float(within(quantity, float(count), float(least), most))
    if not given.is_integer():
        raise ValueError(f"{quantity} must be a whole number")
    return int(given)


def between(low: float, high: float) -> str:
    """The range in words, as whole animals, as the start of a sentence."""
    if np.isinf(high):
        return f"At least {low:.0f} animals, with no upper bound"
    if round(low) == round(high):
        return f"About {low:.0f} animals"
    return f"Between {low:.0f} and {high:.0f} animals"
