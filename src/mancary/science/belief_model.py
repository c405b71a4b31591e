"""How a colony's size is held to move from week to week, and how little of it its keeper sees.

The size lies in cells even in its logarithm; behind them stand a growth regime, which changes now
and then, and a class, which does not: the share seen under one hide, and how much counts scatter.
Every constant's basis is in ``docs/science/watch.md``; none was measured on colonies of isopods.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import log, pi, sqrt
from typing import Final, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from mancary.science.validity import Floats, within

TOP: Final = 8.58
"""ln N of the greatest cell: some 5,300 animals."""
EXTINCT_BELOW: Final = -0.69
"""ln N under which a colony is gone: half an animal."""
GROWING_SHARES: Final = (0.2, 0.5, 1.0)
"""The growing regimes as shares of the best growth a week; ours."""
DIE_OFF_LEAVES: Final = (0.1, 0.7)
"""A sudden die-off leaves a share of the animals drawn evenly between these; ours."""
COLLAPSES: Final = 0.1
"""The share of the die-offs that are far worse, as when a box dries out or is poisoned; ours."""
COLLAPSE_LEAVES: Final = (0.001, 0.1)
"""What such a collapse leaves, drawn evenly in its logarithm; ours."""
_COLLAPSE_PARTS: Final = 6
_DIE_OFF_PARTS: Final = 12
_NO_CHANCE: Final = 1e-12
"""Steps less likely are left out; they would only make sums of numbers too small for float32."""

Shares: TypeAlias = NDArray[np.float32]


def share_weights(classes: tuple[float, ...], b: float = 7.5) -> tuple[float, ...]:
    """How likely each share of the animals is the one seen, by Beta(2, ``b``).

    Each class takes what lies between the geometric means with its neighbours. Beta(2, b) has
    the distribution 1 - (1 - x)^b (1 + b x).
    """
    at = np.array(classes)
    edges = np.concatenate([[0.0], np.sqrt(at[:-1] * at[1:]), [1.0]])
    told = np.diff(1.0 - (1.0 - edges) ** b * (1.0 + b * edges))
    return tuple(float(one) for one in told)


def class_weights(detection: tuple[float, ...], dispersion: tuple[float, ...]) -> tuple[float, ...]:
    """Weights of all classes from those of their two parts, detection running slowest."""
    return tuple(one * other for one in detection for other in dispersion)


_DETECTION: Final = (0.03, 0.06, 0.10, 0.16, 0.25, 0.38, 0.55)
_DISPERSION: Final = (1.0, 2.5, 8.0)
_CLASS_WEIGHTS: Final = class_weights(share_weights(_DETECTION), (0.3, 0.45, 0.25))


@dataclass(frozen=True, slots=True, kw_only=True)
class BeliefModel:
    """What is held of colonies before any of them is looked at.

    ``regimes`` are growths of ln N a week with their prior ``regime_weights``; each week the regime
    is drawn anew with the chance ``switch``. ``die_off`` is the weekly chance of a sudden die-off.
    ln N strays each week by ``noise_sd`` and, by the luck of single animals, ``demographic_sd`` /
    sqrt N. ``detection`` is the share of animals under one hide, ``dispersion`` the k of the
    negative binomial; ``class_weights`` are those of all pairs, detection running slowest.
    ``step`` is the width of a cell in ln N and must divide ``TOP``.

    Raises:
        ValueError: for lengths that differ, weights that do not sum to 1, or a step that does not
            divide ``TOP``.
        OutsideValidity: for a chance outside 0..1 or a noise outside 0.01..1.
    """

    regimes: tuple[float, ...] = (-0.25, -0.12, -0.05, -0.015, 0.01, 0.03, 0.06)
    regime_weights: tuple[float, ...] = (0.03, 0.05, 0.08, 0.19, 0.30, 0.23, 0.12)
    switch: float = 0.05
    die_off: float = 0.004
    noise_sd: float = 0.05
    demographic_sd: float = 0.3
    detection: tuple[float, ...] = _DETECTION
    dispersion: tuple[float, ...] = _DISPERSION
    class_weights: tuple[float, ...] = _CLASS_WEIGHTS
    step: float = 0.13

    def __post_init__(self) -> None:
        within("switch", self.switch, 0.0, 1.0)
        within("die_off", self.die_off, 0.0, 1.0)
        within("noise_sd", self.noise_sd, 0.01, 1.0)
        within("demographic_sd", self.demographic_sd, 0.0, 1.0)
        _weighed("regimes", self.regime_weights, len(self.regimes))
        _weighed("classes", self.class_weights, len(self.detection) * len(self.dispersion))
        if abs(TOP / self.step - round(TOP / self.step)) > 1e-6:
            raise ValueError(f"a step of {self.step:g} does not divide {TOP:g}")

    @property
    def shape(self) -> tuple[int, int, int]:
        """Classes, regimes and cells."""
        return len(self.class_weights), len(self.regimes), round(TOP / self.step) + 2


def _weighed(what: str, weights: tuple[float, ...], length: int) -> None:
    if len(weights) != length or min(weights) < 0 or abs(sum(weights) - 1) > 1e-6:
        raise ValueError(f"{what}: {length} weights of 0 or more that sum to 1 are needed")


def with_top(model: BeliefModel, best_per_week: float) -> BeliefModel:
    """The model with growing regimes that reach what a species can do, shrinking ones as they are.

    ``best_per_week`` is the growth of ln N a week that its stage model allows at its temperature.

    Raises:
        OutsideValidity: for a best growth outside 0.005..0.5.
        ValueError: for a model without exactly three growing regimes.
    """
    best = float(within("best_per_week", best_per_week, 0.005, 0.5))
    falling = tuple(one for one in model.regimes if one <= 0)
    if len(model.regimes) - len(falling) != len(GROWING_SHARES):
        raise ValueError(f"{len(GROWING_SHARES)} growing regimes are needed")
    rising = tuple(share * best for share in GROWING_SHARES)
    return replace(model, regimes=falling + rising)


@lru_cache(maxsize=8)
def sizes(cells: int) -> Floats:
    """Animals in each cell (cells,): 0, then from 1 upwards, even in the logarithm; read only."""
    told = np.concatenate([[0.0], np.exp(np.linspace(0.0, TOP, cells - 1))])
    told.flags.writeable = False
    return told


@lru_cache(maxsize=8)
def spread_sizes(cells: int, parts: int) -> Floats:
    """Animals at so many places of each cell, even in ln N over its width (cells, parts)."""
    step = TOP / (cells - 2)
    within_cell = np.exp(step * ((np.arange(parts) + 0.5) / parts - 0.5))
    told = np.multiply.outer(sizes(cells), within_cell)
    told.flags.writeable = False
    return told


class Axes(NamedTuple):
    """The model's axes, shaped to be multiplied into (classes, regimes, cells)."""

    detection: Floats
    dispersion: Floats
    regimes: Floats
    sizes: Floats


@lru_cache(maxsize=64)
def axes(model: BeliefModel) -> Axes:
    """The model's detection and dispersion by class, its regimes and its sizes."""
    return Axes(
        np.repeat(model.detection, len(model.dispersion))[:, None, None],
        np.tile(model.dispersion, len(model.detection))[:, None, None],
        np.array(model.regimes)[None, :, None],
        sizes(model.shape[2])[None, None, :],
    )


def transition(model: BeliefModel) -> Shares:
    """Chances of one week (regimes, cells from, cells to), each row summing to 1; read only.

    What lands between two cells is split so that its ln N is kept on average, and the noise is
    lessened by what the splitting adds. What goes above the greatest cell stays in it, what goes
    below half an animal is gone for good. The chance of a regime's change is not in it.
    """
    return _moves(_without_weights(model))


@lru_cache(maxsize=256)
def _without_weights(model: BeliefModel) -> BeliefModel:
    """One model for all whose colonies move alike, whatever is held of which regime they are in."""
    regimes = len(model.regimes)
    return BeliefModel(
        regimes=model.regimes,
        regime_weights=(1.0 / regimes,) * regimes,
        die_off=model.die_off,
        noise_sd=model.noise_sd,
        demographic_sd=model.demographic_sd,
        step=model.step,
    )


@lru_cache(maxsize=128)
def _moves(model: BeliefModel) -> Shares:
    at = np.linspace(0.0, TOP, model.shape[2] - 1)
    growth = np.array(model.regimes)[:, None]
    sd = np.sqrt(model.noise_sd**2 + model.demographic_sd**2 / np.exp(at))[None, :]
    inner = _lessened(sd, growth, model.step)
    below = _below(at, at + growth, sd, inner)
    if model.die_off > 0:
        low, high = DIE_OFF_LEAVES
        left = low + (high - low) * (np.arange(_DIE_OFF_PARTS) + 0.5) / _DIE_OFF_PARTS
        usual = np.mean([_below(at, at + growth + one, sd, inner) for one in np.log(left)], axis=0)
        low, high = COLLAPSE_LEAVES
        worst = np.linspace(log(low), log(high), 2 * _COLLAPSE_PARTS + 1)[1::2]
        collapsed = np.mean([_below(at, at + growth + one, sd, inner) for one in worst], axis=0)
        sudden = (1 - COLLAPSES) * usual + COLLAPSES * collapsed
        below = (1 - model.die_off) * below + model.die_off * sudden
    return _rows(below)


def _rows(below: Floats) -> Shares:
    """Rows of chances from those of ending in or under each cell, before the row of the gone."""
    ends = np.zeros((*below.shape[:2], 1))
    chances = np.diff(np.concatenate([ends, below, ends + 1.0], axis=2), axis=2)
    chances[chances < _NO_CHANCE] = 0.0
    gone = np.zeros((len(below), 1, chances.shape[2]))
    gone[:, :, 0] = 1.0
    told = np.concatenate([gone, chances / chances.sum(axis=2, keepdims=True)], axis=1)
    kernel = told.astype(np.float32)
    kernel.flags.writeable = False
    return kernel


def _lessened(sd: Floats, growth: Floats, step: float) -> Floats:
    """The normal deviation that, split between cells, strays by ``sd`` (regimes, from).

    Splitting adds f (1 - f) step², f the part of a step; its mean over a normal is a Fourier
    series. Where splitting alone strays more than ``sd``, next to nothing is left.
    """
    waves = np.arange(1, 31)[:, None, None]
    turning = np.cos(2 * np.pi * waves * growth / step) / (np.pi * waves) ** 2
    low, high = np.zeros(np.broadcast_shapes(sd.shape, growth.shape)), sd**2 + 0 * growth
    for _ in range(40):
        mid = (low + high) / 2
        damped = np.exp(-2 * (np.pi * waves / step) ** 2 * mid)
        strays = mid + step**2 * (1 / 6 - (turning * damped).sum(axis=0))
        low, high = np.where(strays < sd**2, mid, low), np.where(strays < sd**2, high, mid)
    return np.sqrt(np.maximum(low, 1e-8))


def _below(at: Floats, moved: Floats, sd: Floats, inner: Floats) -> Floats:
    """The chance of ending gone, or in or under each cell but the last (regimes, from, cells)."""
    gone = normal_below((EXTINCT_BELOW - moved) / sd)[:, :, None]
    short = _shortfall(at[None, None, :] - moved[:, :, None], inner[:, :, None])
    split = np.diff(short, axis=2) / (at[1] - at[0])
    return np.concatenate([gone, np.maximum(split, gone)], axis=2)


def _shortfall(gap: Floats, sd: Floats) -> Floats:
    """The mean of what a normal number of mean 0 lies below ``gap``, 0 where it lies above."""
    z = gap / sd
    hump = np.exp(-np.minimum(z**2, 1400.0) / 2) / sqrt(2 * pi)
    return np.asarray(gap * normal_below(z) + sd * hump)


def normal_below(z: Floats) -> Floats:
    """The standard normal distribution at each element."""
    from scipy.special import ndtr  # scipy is slow to import

    return np.asarray(ndtr(z))
