"""How many there are, from scoops or squares of a known share of the whole."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import brentq
from scipy.special import gammaincinv, stdtrit

from mancary.science.counting_estimate import Estimate, Whole, between, one_count, whole_counts
from mancary.science.validity import within

HELD_K: Final = 1.0
"""Clumping held before any sample is seen: variance = mean + mean^2. Ours."""

HELD_AS: Final = 2.0
"""Samples that what was held counts as. Ours, set where simulated ranges hold 90 % or more."""

LEAST_FREEDOM: Final = 4.0
"""Of Student's factor for one or two samples: what was held is not that uncertain. Ours."""

MOST_K: Final = 1e6
"""A larger k cannot be told from chance placing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaled(Estimate):
    """``k`` is how evenly the samples fell (by moments): small is clumped, infinite is by chance.

    None where one sample, or empty ones, cannot tell it.
    """

    k: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NegativeBinomial:
    """Counts of variance ``mean + mean**2/k``; ``k`` is infinite where they are no more clumped
    than chance makes them.
    """

    mean: float
    k: float


def poisson_interval(*, count: int) -> tuple[float, float]:
    """The exact 95 % range for the mean of a Poisson count, 0..10,000 (Garwood 1936).

    Raises:
        ValueError: for a count that is not whole.
        OutsideValidity: for a count outside the range.
    """
    seen = one_count("count", count)
    low = float(gammaincinv(seen, 0.025)) if seen else 0.0
    return low, float(gammaincinv(seen + 1.0, 0.975))


def negative_binomial(*, counts: Sequence[int]) -> NegativeBinomial:
    """Mean and k by maximum likelihood from counts of equal samples (samples,), two or more.

    Sum over j of (counts above j)/(k + j) = n ln(1 + mean/k) (Bliss and Fisher 1953). The counts
    must be more spread than chance makes them (variance with divisor n above the mean), else k is
    infinite.

    Raises:
        ValueError: for fewer than two counts or one that is not whole.
        OutsideValidity: for a count outside 0..10,000.
    """
    seen = whole_counts("counts", counts, least=2)
    mean = float(seen.mean())
    if float(seen.var()) <= mean:
        return NegativeBinomial(mean=mean, k=float("inf"))
    above = np.array([(seen > j).sum() for j in range(int(seen.max()))], dtype=float)
    j = np.arange(above.size)

    def slope(log_k: float) -> float:
        k = float(np.exp(log_k))
        return float((above / (k + j)).sum() - seen.size * np.log1p(mean / k))

    low, high = float(np.log(1e-6)), float(np.log(MOST_K))
    if slope(high) >= 0:
        return NegativeBinomial(mean=mean, k=float("inf"))
    return NegativeBinomial(mean=mean, k=float(np.exp(brentq(slope, low, high, xtol=1e-12))))


def scale_up(*, counts: Sequence[int], sampled_share: float) -> Scaled:
    """Animals in the whole, from ``counts`` (samples,) of equal samples.

    ``sampled_share``, above 0 and to 1, is what they make up together of the volume or floor.
    sum/share, with Cochran's finite-population error N^2 (1 - f) s^2/n (Cochran 1977, section
    2.9), where s^2 is mean + mean^2/k with k by moments, never below the mean; of one sample k is
    taken as 1. The range is what was found and a range for the rest: the mean times or by
    exp(Student * its error/mean), and the rest's own chance, joined as the root of their squares
    at each end (as in Zou and Donner 2008, memory). Its variance is drawn towards k = 1 as by two
    samples more (ours).

    Raises:
        ValueError: for no count or one that is not whole.
        OutsideValidity: for a count outside 0..10,000 or a share outside 0..1.
    """
    seen = whole_counts("counts", counts)
    share = float(within("sampled_share", sampled_share, 1e-6, 1.0))
    found = float(seen.sum())
    unseen = found * (1 - share) / share
    low, high = _unseen_range(seen, share)
    low, high = found + min(low, unseen), found + high
    return Scaled(
        estimate=found / share,
        low=low,
        high=high,
        standard_error=_error(_variance(seen), seen.size, share),
        k=_moment_k(seen),
        said=_samples_said(seen, share, low, high),
    )


def _mean(seen: Whole) -> float:
    """The mean, and of empty samples that of one animal found, so that they keep an error."""
    return max(float(seen.mean()), 1 / seen.size)


def _variance(seen: Whole) -> float:
    mean = _mean(seen)
    if seen.size == 1:
        return mean + mean**2 / HELD_K
    return max(float(seen.var(ddof=1)), mean)


def _error(variance: float, samples: int, share: float) -> float:
    return float((samples / share) * ((1 - share) * variance / samples) ** 0.5)


def _unseen_range(seen: Whole, share: float) -> tuple[float, float]:
    """What was not searched: the mean, in ratio, and the chance of the rest, in animals."""
    mean, more = _mean(seen), seen.size - 1
    own = float(seen.var(ddof=1)) if more else 0.0
    held = mean + mean**2 / HELD_K
    variance = max((more * own + HELD_AS * held) / (more + HELD_AS), mean)
    parts = seen.size * (1 - share) / share
    student = float(stdtrit(max(more + HELD_AS, LEAST_FREEDOM), 0.975))
    factor = float(np.exp(student * (variance / seen.size) ** 0.5 / mean))
    rest, size = student * (parts * variance) ** 0.5, parts * mean
    low = size - float(np.hypot(size * (1 - 1 / factor), rest))
    return max(low, 0.0), size + float(np.hypot(size * (factor - 1), rest))


def _moment_k(seen: Whole) -> float | None:
    if seen.size == 1 or seen.sum() == 0:
        return None
    mean, variance = float(seen.mean()), float(seen.var(ddof=1))
    return mean**2 / (variance - mean) if variance > mean else float("inf")


def _samples_said(seen: Whole, share: float, low: float, high: float) -> str:
    if share == 1.0:
        return "The whole was searched: those found are all there are to be found."
    told = f"{between(low, high)}, if the samples are like the rest of the box."
    if seen.size == 1:
        return f"{told} One sample cannot show how clumped they sit: take more from other spots."
    if seen.sum() == 0:
        return f"{told} Nothing in the samples is not nothing in the box: look under the hides."
    if seen.size > 2 and seen.max() > seen.sum() / 2:
        return f"{told} One sample held most of them: a few more would narrow this a good deal."
    return told
