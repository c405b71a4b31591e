"""What is believed of one colony: how many it has and whether it grows, after all that was seen.

A forward filter of a hidden Markov model on a grid (Rabiner 1989, Proc. IEEE 77:257, from memory),
exact for its model. Weeks are whole: a visit's week is counted from the colony's start.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from math import log
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mancary.science.belief_evidence import Dead, Evidence, Young
from mancary.science.belief_model import TOP, BeliefModel, Shares, axes, transition
from mancary.science.belief_state import Belief, History
from mancary.science.belief_taking import left_by
from mancary.science.validity import Floats, within

FIRST_LOG_SIZE: Final = (4.0, 1.5)
"""Mean and standard deviation of ln N where no founders were counted; ours."""
_NEVER_SURE: Final = 1e-12
"""This much of the first belief stays in, so that a later sight can always be right."""
_FOUNDER_PARTS: Final = 400


def start(model: BeliefModel, founders: tuple[int, int] | None = None) -> Belief:
    """The belief before anything was seen: ``founders`` between two counts, or any colony's size.

    Raises:
        OutsideValidity: for founders outside 0..5000 or the second below the first.
    """
    if founders is None:
        return Belief(_first(model))
    low = float(within("founders, low", founders[0], 0, 5000))
    high = float(within("founders, high", founders[1], low, 5000))
    numbers = np.unique(np.rint(np.linspace(low, high, _FOUNDER_PARTS)))
    return Belief(_spread(model, _placed(numbers, model)))


@lru_cache(maxsize=64)
def _first(model: BeliefModel) -> Shares:
    mean, sd = FIRST_LOG_SIZE
    at = np.linspace(0.0, TOP, model.shape[2] - 1)
    told = _spread(model, np.append(0.0, np.exp(-(((at - mean) / sd) ** 2) / 2)))
    told.flags.writeable = False
    return told


def _spread(model: BeliefModel, by_size: Floats) -> Shares:
    kinds = np.multiply.outer(model.class_weights, model.regime_weights)
    told = np.multiply.outer(kinds, by_size)
    return np.asarray(told / told.sum(), dtype=np.float32)


def _placed(numbers: Floats, model: BeliefModel) -> Floats:
    """Shares of cells for equally likely numbers, each split so that its logarithm is kept."""
    told = np.zeros(model.shape[2])
    told[0] = (numbers == 0).sum()
    place = np.log(numbers[numbers > 0]) / model.step
    below = np.minimum(np.floor(place).astype(int), model.shape[2] - 3)
    part = np.clip(place - below, 0.0, 1.0)
    np.add.at(told, below + 1, 1 - part)
    np.add.at(told, below + 2, part)
    return told


def advance(belief: Belief, model: BeliefModel, weeks: int, *, still: int = 0) -> Belief:
    """The belief some whole weeks later with nothing seen; it cannot grow in the first ``still``.

    Raises:
        OutsideValidity: for weeks outside 0..5000.
    """
    within("weeks", weeks, 0, 5000)
    if weeks == 0:
        return belief
    shares = np.ascontiguousarray(belief.shares.transpose(1, 0, 2))
    for week in range(weeks):
        shares = one_week(shares, week_of(model, still=week < still))
    told = np.ascontiguousarray(shares.transpose(1, 0, 2))
    return Belief(told / np.float32(told.sum(dtype=float)), belief.log_evidence)


class Week(NamedTuple):
    """What a week does: chances of moving, and the regimes drawn anew or kept."""

    kernel: Shares
    drawn: Shares
    kept: np.float32


@lru_cache(maxsize=64)
def week_of(model: BeliefModel, *, still: bool = False) -> Week:
    """The model's week, made once; in a ``still`` one growing regimes stand still."""
    if still:
        return week_of(replace(model, regimes=tuple(min(one, 0.0) for one in model.regimes)))
    drawn = model.switch * np.array(model.regime_weights)[:, None, None]
    return Week(transition(model), drawn.astype(np.float32), np.float32(1 - model.switch))


def one_week(shares: Shares, week: Week) -> Shares:
    """Shares (regimes, rows, cells) after a week: moved, then some drawn into another regime."""
    moved = shares @ week.kernel
    drawn = week.drawn * moved.sum(axis=0)
    moved *= week.kept
    moved += drawn
    return np.asarray(moved)


def observe(belief: Belief, model: BeliefModel, evidence: Iterable[Evidence]) -> Belief:
    """The belief after sights of the same week, each taken as telling its own; none changes it."""
    factor = likelihood(model, evidence)
    if factor is None:
        return belief
    seen = belief.shares * factor
    total = float(seen.sum())
    shares = seen * ((1 - _NEVER_SURE) / total) + _NEVER_SURE * _first(model)
    return Belief(shares.astype(np.float32), belief.log_evidence + log(total))


def likelihood(model: BeliefModel, evidence: Iterable[Evidence]) -> Floats | None:
    """The product of the sights' factors, for (classes, regimes, cells); None without any."""
    factor: Floats | None = None
    for one in evidence:
        by_regime = isinstance(one, Young | Dead)
        told = one.likelihood(model) if by_regime else _by_size(one, _without_regimes(model))
        factor = told if factor is None else factor * told
    return factor


@lru_cache(maxsize=64)
def _without_regimes(model: BeliefModel) -> BeliefModel:
    """One model for all that differ in what counts do not depend on."""
    classes = len(model.class_weights)
    return BeliefModel(
        detection=model.detection,
        dispersion=model.dispersion,
        class_weights=(1.0 / classes,) * classes,
        step=model.step,
    )


@lru_cache(maxsize=1024)
def _by_size(one: Evidence, model: BeliefModel) -> Floats:
    """The factors of a sight that tells of size alone: the same for many; read only."""
    told = one.likelihood(model)
    told.flags.writeable = False
    return told


def beliefs(history: History, model: BeliefModel) -> Iterator[Belief]:
    """The belief after each visit, before animals are taken, and last that at ``history.week``."""
    now, week = start(model, history.founders), 0
    for visit in history.visits:
        still = history.still - week
        now = advance(now, model, visit.week - week, still=still)
        now = observe(now, model, visit.evidence)
        yield now
        now, week = left_by(now, visit), visit.week
    yield advance(now, model, history.week - week, still=history.still - week)


def believe(history: History, model: BeliefModel) -> Belief:
    """The belief at ``history.week``, built from its start."""
    *_, last = beliefs(history, model)
    return last


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Animals of all ages: the median and the 90 % interval of the belief."""

    low: float
    mid: float
    high: float


def size(belief: Belief) -> Size:
    """The size believed."""
    low, mid, high = (quantile(belief, share) for share in (0.05, 0.5, 0.95))
    return Size(low=low, mid=mid, high=high)


def quantile(belief: Belief, share: float) -> float:
    """The number of animals that a ``share`` (0..1) of the belief lies under.

    A cell counts as even in ln N over its width, a gone colony as 0.
    """
    by_size = belief.by_size
    step = TOP / (len(by_size) - 2)
    up_to = np.cumsum(by_size) / by_size.sum()
    ends = np.append(-step / 2, np.linspace(0.0, TOP, len(by_size) - 1) + step / 2)
    return 0.0 if share <= up_to[0] else float(np.exp(np.interp(share, up_to, ends)))


def regime_weights(belief: Belief) -> NDArray[np.float64]:
    """The chance of each regime (regimes,), were the colony alive; of all where it cannot be."""
    living = belief.shares[:, :, 1:].sum(axis=(0, 2), dtype=float)
    told = living if living.sum() > 0 else belief.shares.sum(axis=(0, 2), dtype=float)
    return np.asarray(told / told.sum())


def p_growing(belief: Belief, model: BeliefModel) -> float:
    """The chance that the colony lives and is in a growing regime this week."""
    growing = axes(model).regimes.ravel() > 0
    return float(belief.shares[:, growing, 1:].sum(dtype=float))
