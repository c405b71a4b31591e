"""What goes into a sum and comes out of it, and the refusal outside the range it was made for."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]

Amount: TypeAlias = float | Floats
"""One number or an array of them, in and out: plain floats give a float, any array an array."""


class OutsideValidity(ValueError):
    """A quantity outside the range a formula holds for; says which, how much, and the range."""

    def __init__(self, quantity: str, value: float, low: float, high: float) -> None:
        self.quantity = quantity
        self.value = value
        self.low = low
        self.high = high
        super().__init__(f"{quantity} is {value:g}; it must lie between {low:g} and {high:g}")


def within(quantity: str, amount: Amount, low: Amount, high: Amount) -> Floats:
    """The ``amount`` as an array, once every element lies within ``low`` and ``high``.

    All three are broadcast together; both ends belong to the range, and NaN lies in none.

    Raises:
        OutsideValidity: naming the first element that lies outside, and its own range.
    """
    given = np.asarray(amount, dtype=float)
    outside = np.atleast_1d(~((given >= low) & (given <= high)))
    if outside.any():
        spread = np.broadcast_arrays(given, low, high, outside)[:3]
        value, least, most = (float(part[outside.reshape(part.shape)][0]) for part in spread)
        raise OutsideValidity(quantity, value, least, most)
    return given


def plain(amount: Amount) -> Amount:
    """A Python float where there is one number, otherwise the array as it is."""
    return float(amount) if np.ndim(amount) == 0 else np.asarray(amount, dtype=float)
