"""The rival of the watch: a Kalman filter of a local trend, averaged over what is not known of it.

ln N, its growth and the logarithm of the share seen under the hide are normal; 27 settings of the
three noises are weighed by how well each foretold the counts (candidate C of our comparison).
It reads counts only, as ln(count + 0.5). All its figures are ours and wide.
"""

from itertools import product

import numpy as np
from numpy.typing import NDArray

from verification.colony_world import AHEAD, Colony

Floats = NDArray[np.float64]

LEVELS, SLOPES, COUNTS = (0.03, 0.1, 0.2), (0.005, 0.015, 0.03), (0.3, 0.6, 1.0)
NOISES = np.array(list(product(LEVELS, SLOPES, COUNTS)))
FIRST = np.array([4.0, 0.01, -1.9])
FIRST_SD = np.array([1.5, 0.04, 0.65])
LASTS = 0.97
"""What is left of a growth after a week."""
WHOLE_SD = 0.12
PATHS = 400
STEP = np.array([[1.0, 1.0, 0.0], [0.0, LASTS, 0.0], [0.0, 0.0, 1.0]])
UNDER_HIDE, WHOLE = np.array([1.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])


def by_trend(colonies: list[Colony], *, seed: int = 0) -> Floats:
    """The chance of fewer than five in one of the twelve weeks after the last look, by colony."""
    mean = np.tile(FIRST, (len(colonies), len(NOISES), 1))
    cov = np.tile(np.diag(FIRST_SD**2), (len(colonies), len(NOISES), 1, 1))
    fit = np.zeros((len(colonies), len(NOISES)))
    drift = np.stack([np.diag([a**2, b**2, 0.0]) for a, b, _ in NOISES])
    looks = [{look.week: look for look in one.looks} for one in colonies]
    last = np.array([one.week for one in colonies])
    for week in range(int(last.max()) + 1):
        live = last >= week
        if week:
            mean[live] = mean[live] @ STEP.T
            cov[live] = STEP @ cov[live] @ STEP.T + drift
        for n in np.flatnonzero(live):
            look = looks[n].get(week)
            if look and look.whole is not None:
                _met(mean[n], cov[n], fit[n], look.whole, WHOLE, np.full(len(NOISES), WHOLE_SD))
            elif look and look.under_hide is not None:
                _met(mean[n], cov[n], fit[n], look.under_hide, UNDER_HIDE, NOISES[:, 2])
    weights = np.exp(fit - fit.max(axis=1, keepdims=True))
    chance = np.random.default_rng(seed)
    falls = _ahead(mean, cov, drift, chance)
    return np.asarray((weights * falls).sum(axis=1) / weights.sum(axis=1))


def _met(mean: Floats, cov: Floats, fit: Floats, count: int, way: Floats, sd: Floats) -> None:
    """Takes in one count, in place, under every setting."""
    off = np.log(count + 0.5) - mean @ way
    gain = cov @ way
    spread = gain @ way + sd**2 + 1 / (count + 0.5)
    fit -= 0.5 * (off**2 / spread + np.log(spread))
    mean += gain * (off / spread)[:, None]
    cov -= gain[:, :, None] * gain[:, None, :] / spread[:, None, None]


def _ahead(mean: Floats, cov: Floats, drift: Floats, chance: np.random.Generator) -> Floats:
    """Under each setting, the share of drawn paths below five in one of the coming weeks."""
    root = np.linalg.cholesky(cov + 1e-9 * np.eye(3))
    told = np.zeros(mean.shape[:2])
    sds = np.sqrt(np.stack([np.diagonal(one) for one in drift]))
    for _ in range(PATHS):
        at = mean + (root @ chance.normal(size=(*mean.shape, 1)))[..., 0]
        under = np.zeros(mean.shape[:2], dtype=bool)
        for _ in range(AHEAD):
            at = at @ STEP.T + sds * chance.normal(size=mean.shape)
            under |= at[..., 0] < np.log(5)
        told += under
    return told / PATHS
