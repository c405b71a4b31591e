"""The daily loss that a row of weighings tells, and how sure it is where they disagree.

What was lost between two weighings strays from its mean by the scale's error, which two stretches
that share a weighing share with the other sign, by what was booked unsurely, and by the air.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mancary.science.minutes import Z_90
from mancary.science.validity import within

HELD_AS: Final = 2.0
"""1: what is held of the errors before any weighing counts as so many stretches seen; ours."""

Column = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class StretchRate:
    """Grams a day, with the normal error that gives its 90 % range at 1.645 of them.

    ``own_sd_g_per_day`` is the error of scale and booking alone. ``strays`` is how many times more
    the stretches disagree than was held beforehand: 1 for a single one, below 1 where they agree.
    """

    g_per_day: float
    sd_g_per_day: float
    own_sd_g_per_day: float
    strays: float


def stretch_rate(
    *,
    days: ArrayLike,
    lost_g: ArrayLike,
    first_sd_g: ArrayLike,
    second_sd_g: ArrayLike,
    joined: ArrayLike,
    booked_g: ArrayLike,
    air_varies: float,
) -> StretchRate:
    """The loss from stretches (stretches,) between two weighings each, one or more.

    ``first_sd_g`` and ``second_sd_g`` are the standard errors of the two weights; ``joined`` says
    that a stretch begins with the weighing that ended the one before it; ``booked_g`` is the half
    width of what was booked as a range, taken to err alike every time. ``air_varies`` is the
    standard deviation of one stretch's loss as a share of the mean, as held beforehand.

    Generalised least squares. The residuals and what was held (as ``HELD_AS`` stretches) scale the
    variance, never below that of scale and booking, and the range is Student's (the usual
    conjugate result, Gelman and others, "Bayesian data analysis", chapter 14, from memory; that
    one factor scales all parts is ours).

    Raises:
        ValueError: for lengths that differ or days that are not above zero.
        OutsideValidity: for an ``air_varies`` outside 0..1.
    """
    when, lost, first, second, booked = (
        np.asarray(one, dtype=float) for one in (days, lost_g, first_sd_g, second_sd_g, booked_g)
    )
    chained = np.asarray(joined, dtype=bool)
    shapes = {one.shape for one in (when, lost, first, second, booked, chained)}
    if len(shapes) != 1 or when.ndim != 1 or when.size < 1 or not (when > 0).all():
        raise ValueError("stretches must be of one length, one or more, their days above zero")
    share = float(within("air_varies", air_varies, 0.0, 1.0))
    own = _own(first, second, chained, booked)
    air = (share * max(lost.sum(), 0.0) / when.sum() * when) ** 2
    return _fitted(when, lost, own, air)


def _own(first: Column, second: Column, joined: NDArray[np.bool_], booked: Column) -> Column:
    """Covariance of the losses by scale and booking; a range is flat (a third of its square)."""
    own = np.diag(first**2 + second**2) + np.outer(booked, booked) / 3.0
    for n in np.flatnonzero(joined[1:]):
        own[n, n + 1] -= second[n] ** 2
        own[n + 1, n] -= second[n] ** 2
    return own


def _fitted(when: Column, lost: Column, own: Column, air: Column) -> StretchRate:
    whole = own + np.diag(air)
    pull = np.linalg.solve(whole, when)
    pull /= pull @ when
    rate = float(pull @ lost)
    left = lost - rate * when
    misfit = float(left @ np.linalg.solve(whole, left))
    more = when.size - 1.0
    strays = ((HELD_AS + misfit) / (HELD_AS + more)) ** 0.5
    own_var, air_var = float(pull @ own @ pull), float(pull**2 @ air)
    var = max(strays**2 * (own_var + air_var), own_var)
    if air_var > 0:
        var *= _student((HELD_AS + more) * ((own_var + air_var) / air_var) ** 2) ** 2
    return StretchRate(
        g_per_day=rate, sd_g_per_day=var**0.5, own_sd_g_per_day=own_var**0.5, strays=strays
    )


def _student(freedom: float) -> float:
    """Student's 95th percentile over the normal's.

    Cornish-Fisher, from memory: 1.2 % low at two degrees of freedom, 0.1 % at four.
    """
    z = Z_90
    steps = (
        (z**2 + 1) / 4,
        (5 * z**4 + 16 * z**2 + 3) / 96,
        (3 * z**6 + 19 * z**4 + 17 * z**2 - 15) / 384,
    )
    return 1.0 + sum(step / freedom ** (n + 1) for n, step in enumerate(steps))
