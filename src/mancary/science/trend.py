"""The diffusion estimate of extinction from counts year by year: the textbook's, for its check.

Dennis, Munholland and Scott 1991 (Ecol. Monogr. 61:115). It takes every count for the truth, so the
scatter of counting is read as the colony's own luck: on counts under a hide it cries ruin. The
watch does not use it; ``docs/science/watch.md`` says why.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import log_ndtr
from scipy.stats import chi2, t

from mancary.science.validity import within


@dataclass(frozen=True, slots=True, kw_only=True)
class Diffusion:
    """Growth ``mu`` of ln N a step and its variance ``sigma2`` (unbiased), each with 95 %."""

    mu: float
    mu_low: float
    mu_high: float
    sigma2: float
    sigma2_low: float
    sigma2_high: float


def diffusion(*, counts: Sequence[float], times: Sequence[float] | None = None) -> Diffusion:
    """The estimate from counts (n,), all above nought, at times (n,) in order; else a step apart.

    By the regression of Dennis and others: ln(N'/N)/sqrt(step) on sqrt(step) through the origin.

    Raises:
        ValueError: for fewer than three counts, or times that do not rise.
        OutsideValidity: for a count that is not above nought.
    """
    told = np.log(within("counts", np.asarray(counts, dtype=float), 1e-9, 1e12))
    at = np.arange(told.size) if times is None else np.asarray(times, dtype=float)
    steps = np.diff(at)
    if told.size < 3 or at.size != told.size or (steps <= 0).any():
        raise ValueError("three counts or more are needed, at times that rise")
    free, whole = steps.size - 1, float(steps.sum())
    mu = float((told[-1] - told[0]) / whole)
    residual = (np.diff(told) - mu * steps) / np.sqrt(steps)
    sigma2 = float((residual**2).sum() / free)
    half = float(t.ppf(0.975, free)) * (sigma2 / whole) ** 0.5
    return Diffusion(
        mu=mu,
        mu_low=mu - half,
        mu_high=mu + half,
        sigma2=sigma2,
        sigma2_low=float(free * sigma2 / chi2.ppf(0.975, free)),
        sigma2_high=float(free * sigma2 / chi2.ppf(0.025, free)),
    )


def first_passage(*, mu: float, sigma2: float, now: float, down_to: float, steps: float) -> float:
    """The chance (0..1) that a diffusion of ln N comes down to a number within so many steps.

    Looked at all the time; looked at once a step it is less, by a third where steps are few.

    Raises:
        OutsideValidity: for a variance, numbers or steps that are not above nought, or ``down_to``
            above ``now``.
    """
    variance = float(within("sigma2", sigma2, 1e-12, 1e3) * within("steps", steps, 1e-9, 1e6))
    far = float(np.log(within("now", now, 1e-9, 1e12) / within("down_to", down_to, 1e-9, now)))
    drift, sd = mu * steps, variance**0.5
    straight = np.exp(log_ndtr((-far - drift) / sd))
    turned = np.exp(-2 * mu * far / sigma2 + log_ndtr((-far + drift) / sd))
    return float(min(1.0, straight + turned))
