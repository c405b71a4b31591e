"""How many days a reserve lasts at a loss, both known as ranges."""

import math

Range = tuple[float, float, float]
"""Low, middle and high; nine boxes of ten lie between the ends."""


def lasting(reserve: Range, loss: Range) -> Range:
    """Days until a reserve (g) is used at a loss (g a day, the middle above 0).

    The errors of both are taken as free of each other: a day is the low end where what is left by
    the middle estimates is just as much as both errors of that day together (Fieller's interval,
    from memory). The high end is infinite where the loss may be nothing; ends may not be below 0.
    """
    low, middle, high = reserve
    slow, usual, fast = loss
    soonest = _end(middle, middle - low, usual, fast - usual, later=False)
    return (
        soonest,
        max(0.0, middle / usual),
        _end(middle, high - middle, usual, usual - slow, later=True),
    )


def _end(grams: float, grams_off: float, loss: float, loss_off: float, *, later: bool) -> float:
    """A root of (grams - loss t)^2 = grams_off^2 + (loss_off t)^2."""
    if not later and grams <= grams_off:
        return 0.0
    if later and grams <= -grams_off:
        return 0.0
    room = (grams * loss_off) ** 2 + (loss * grams_off) ** 2 - (loss_off * grams_off) ** 2
    root = math.sqrt(max(0.0, room))
    if not later:
        return (grams**2 - grams_off**2) / (grams * loss + root)
    steep = loss**2 - loss_off**2
    return (grams * loss + root) / steep if steep > 0 else math.inf
