"""What a keeper can see of a colony, and how likely each sight is for every size it may have.

Each kind gives factors that multiply into (classes, regimes, cells). What was not looked at has no
evidence; "looked and saw none" is a zero. All constants are ours unless ``docs/science/watch.md``
says otherwise: guesses, kept blunt so that no single sign can carry a verdict.
"""

from dataclasses import dataclass
from math import lgamma
from typing import Final, TypeAlias

import numpy as np

from mancary.science.belief_full_search import full_search
from mancary.science.belief_model import TOP, BeliefModel, axes, normal_below, sizes
from mancary.science.validity import Amount, Floats, within

FULL_SEES: Final = 0.93
"""The share of the animals that a search of the litter finds."""
FULL_DISPERSION: Final = 60.0
FALSE_ZERO: Final = 0.03
"""How often nothing sits under the hide although the colony is well."""
ODD_COUNT: Final = 0.02
"""How often a count of a part or an estimate says nothing of the colony's size."""
ODD_SIGN: Final = 1e-6
"""The same for what is counted under a hide or dead: only so that nothing is ever impossible."""
LEAST_SHARE: Final = 0.001
"""Less of a box than this is no sample of it."""
_MOST: Final = 1e5
_HARMONIC: Final = TOP + 0.5772
"""The sum of 1/(y + 1) over the counts up to the greatest size."""
_LGAMMA: Final = np.frompyfunc(lgamma, 1, 1)


def negative_binomial(count: int, mean: Floats, k: Amount) -> Floats:
    """The chance of a ``count`` by mean and k (variance mean + mean²/k); a mean of 0 gives 0 only.

    The usual distribution (Hilbe, "Negative binomial regression", 2011, from memory).
    """
    ways = np.asarray(_LGAMMA(np.asarray(k) + count) - _LGAMMA(k), dtype=float) - lgamma(count + 1)
    rest = np.log(np.asarray(k) / (k + mean)) * k
    return np.asarray(np.exp(ways + rest + count * np.log(np.maximum(mean, 1e-300) / (k + mean))))


def _broad(count: float) -> float:
    """A count that tells nothing of the size: any is as likely as any other of its order."""
    return 1.0 / ((count + 1.0) * _HARMONIC)


def _under_hide(count: int, model: BeliefModel) -> Floats:
    axis = axes(model)
    met = negative_binomial(count, axis.detection * axis.sizes, axis.dispersion)
    return FALSE_ZERO * (count == 0) + (1 - FALSE_ZERO) * met + ODD_SIGN * _broad(count)


@dataclass(frozen=True, slots=True)
class FullCount:
    """Animals found when the whole box was searched."""

    animals: int

    def __post_init__(self) -> None:
        within("animals", self.animals, 0, _MOST)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by size."""
        return full_search(self.animals, model.shape[2], _broad(self.animals))


@dataclass(frozen=True, slots=True)
class IndexCount:
    """Animals under one hide, the same each time."""

    animals: int

    def __post_init__(self) -> None:
        within("animals", self.animals, 0, _MOST)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by class and size."""
        return _under_hide(self.animals, model)


@dataclass(frozen=True, slots=True)
class ShareCount:
    """Animals found when a ``share`` of the litter was searched through.

    1/k runs from that of the hide's classes to that of a whole count as the share grows; ours.
    """

    animals: int
    share: float

    def __post_init__(self) -> None:
        within("animals", self.animals, 0, _MOST)
        within("share", self.share, LEAST_SHARE, 1.0)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by class and size."""
        if self.share == 1:
            return full_search(self.animals, model.shape[2], _broad(self.animals))
        axis = axes(model)
        k = 1.0 / (self.share / FULL_DISPERSION + (1 - self.share) / axis.dispersion)
        met = negative_binomial(self.animals, FULL_SEES * self.share * axis.sizes, k)
        return (1 - ODD_COUNT) * met + ODD_COUNT * _broad(self.animals)


@dataclass(frozen=True, slots=True)
class RangeCount:
    """A count told as a range, both ends in it: of the whole box (``full``) or under one hide."""

    low: int
    high: int
    full: bool

    def __post_init__(self) -> None:
        within("low", self.low, 0, _MOST)
        within("high", self.high, self.low, _MOST)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by size, and by class where it was under a hide.

        Sums over every count near the lowest, then over steps of 4 % (1 % in a full count, which
        scatters less) with straight lines between.
        """
        nodes = _nodes(self.low, self.high, _FULL_STEP if self.full else _HIDE_STEP)
        gaps = np.diff(nodes)
        weights = np.zeros(len(nodes))
        weights[:-1] += (gaps + 1) / 2
        weights[1:] += (gaps - 1) / 2
        weights[-1] += 1.0
        kind = FullCount if self.full else IndexCount
        parts = [w * kind(int(n)).likelihood(model) for w, n in zip(weights, nodes, strict=True)]
        return np.asarray(sum(parts))


_HIDE_STEP: Final = 1.04
_FULL_STEP: Final = 1.01


def _nodes(low: int, high: int, step: float) -> Floats:
    told = [float(low)]
    while told[-1] < high:
        told.append(min(float(high), max(told[-1] + 1, np.floor(told[-1] * step))))
    return np.array(told)


GLANCE_SEES: Final = 0.7
"""What a glance takes a colony for, against what it has, in the middle; ours."""
GLANCE_SD: Final = 0.5
"""The deviation of its logarithm."""
ODD_GLANCE: Final = 0.05
_BANDS: Final = 5
_ALIKE: Final = 0.5
"""An eye errs the same way each time: a glance counts as half a sight of its own; ours."""


@dataclass(frozen=True, slots=True)
class Glance:
    """A size band of the whole colony at a glance, both ends in it; ``high`` None has no top."""

    low: int
    high: int | None

    def __post_init__(self) -> None:
        within("low", self.low, 0, _MOST)
        if self.high is not None:
            within("high", self.high, self.low, _MOST)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by size."""
        taken_for = np.log(np.maximum(GLANCE_SEES * axes(model).sizes, 1e-9))
        most = np.inf if self.high is None else np.log(self.high + 0.5)
        least = np.log(self.low - 0.5) if self.low > 0 else -np.inf
        below = normal_below((most - taken_for) / GLANCE_SD)
        met = below - normal_below((least - taken_for) / GLANCE_SD)
        return np.asarray(((1 - ODD_GLANCE) * met + ODD_GLANCE / _BANDS) ** _ALIKE)


@dataclass(frozen=True, slots=True)
class Young:
    """Whether mancae were seen when they were looked for."""

    seen: bool

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by class, regime and size: where a colony grows, more of it is young."""
        axis = axes(model)
        met = 0.125 * axis.detection * np.exp(np.minimum(6 * axis.regimes, 1.0)) * axis.sizes
        chance = 0.02 + 0.96 * -np.expm1(-met)
        return chance if self.seen else 1.0 - chance


@dataclass(frozen=True, slots=True)
class Dead:
    """Dead animals found, and the weeks since they were last looked for (3 are as good as more)."""

    animals: int
    weeks: float

    def __post_init__(self) -> None:
        within("animals", self.animals, 0, _MOST)
        within("weeks", self.weeks, 0.0, 1e4)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by regime and size.

        Many dead mean many deaths, and many animals to die as well. To leave the latter out, so
        that no dead made a colony look larger, was tried: it cost 0.006 to 0.015 of the Brier
        score on invented colonies.
        """
        axis = axes(model)
        rate = 0.15 * axis.sizes * (0.025 + np.maximum(0.0, -axis.regimes))
        met = negative_binomial(self.animals, rate * min(self.weeks, 3.0) + 0.05, 1.0)
        return met + ODD_SIGN * _broad(self.animals)


@dataclass(frozen=True, slots=True)
class LeftOver:
    """The share of a ration left over, which so many ``feeders`` would just have cleared.

    0 and 1 are a plain yes and no; a share between weighs both by it, which is not quite a
    likelihood but never more than one.
    """

    share: float
    feeders: float = 40.0

    def __post_init__(self) -> None:
        within("share", self.share, 0.0, 1.0)
        within("feeders", self.feeders, 1.0, _MOST)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by size."""
        left = 1.0 / (1.0 + (axes(model).sizes / self.feeders) ** 0.9)
        chance = np.clip(left, 0.03, 0.97)
        return np.asarray(chance**self.share * (1.0 - chance) ** (1.0 - self.share))


@dataclass(frozen=True, slots=True)
class Estimate:
    """A size with its standard error, from marking, removal or another sum."""

    mid: float
    sd: float

    def __post_init__(self) -> None:
        within("mid", self.mid, 0.0, _MOST)
        within("sd", self.sd, 0.01, _MOST)

    def likelihood(self, model: BeliefModel) -> Floats:
        """Factors by size; a cell's own width joins the error, or sharp estimates would miss it."""
        at = sizes(model.shape[2])
        var = self.sd**2 + (at * model.step) ** 2 / 12
        met = np.exp(-((self.mid - at) ** 2) / (2 * var) - 0.5 * np.log(2 * np.pi * var))
        return ((1 - ODD_COUNT) * met + ODD_COUNT * _broad(self.mid))[None, None, :]


Evidence: TypeAlias = (
    FullCount | IndexCount | ShareCount | RangeCount | Glance | Young | Dead | LeftOver | Estimate
)
