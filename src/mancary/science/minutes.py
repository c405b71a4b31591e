"""What each sort of work takes, learned from whole evenings: least squares, never negative."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import nnls

from mancary.science.box_choices import Floats

Z_90 = 1.6448536269514722
"""The 95th percentile of the standard normal distribution: between minus and plus it lie 90 %."""


@dataclass(frozen=True, slots=True)
class Learned:
    """Minutes of each sort of work: estimate and a 90 % range, low ends never below zero."""

    estimate: Floats
    low: Floats
    high: Floats


def learned_minutes(
    counts: Floats, minutes: Floats, prior: Floats, prior_sd: Floats, noise_sd: float
) -> Learned:
    """Estimates from ``counts`` (evenings, sorts) and the ``minutes`` (evenings,) they took.

    The prior (sorts,) with its spread speaks where the evenings do not. Minimises the squared
    misfit of the evenings over ``noise_sd`` and of the estimates from the prior over ``prior_sd``,
    with no estimate below zero (Lawson and Hanson 1974, "Solving least squares problems", ch. 23,
    from memory); the range is that of the unbounded normal posterior around the estimate.

    Raises:
        ValueError: when a spread is not above zero.
    """
    if noise_sd <= 0 or (prior_sd <= 0).any():
        raise ValueError("spreads must be above zero")
    rows = np.vstack([counts / noise_sd, np.diag(1 / prior_sd)])
    aims = np.concatenate([minutes / noise_sd, prior / prior_sd])
    estimate, _ = nnls(rows, aims)
    spread = np.sqrt(np.diag(np.linalg.inv(rows.T @ rows)))
    return Learned(estimate, np.maximum(estimate - Z_90 * spread, 0.0), estimate + Z_90 * spread)
