"""What a keeper's own colonies teach about the next one: empirical Bayes over many of them.

The model's weights of regimes and classes move towards what the colonies themselves show, as far as
there are enough of them; a dozen made-up colonies of the model it began with hold it back. Fast and
slow species share weights only as shares of the best each can do: hand in their ``tops``.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import fsum
from typing import Final

import numpy as np

from mancary.science.belief import beliefs, believe, regime_weights
from mancary.science.belief_model import BeliefModel, with_top
from mancary.science.belief_state import History
from mancary.science.validity import Floats

FEWEST_COLONIES: Final = 30
"""Ours, a guess: only 80 and 400 were tried."""
FEWEST_VISITS: Final = 4
TURNS: Final = 6
HELD_BACK_BY: Final = 12.0
"""Made-up colonies of the model it began with."""
NOISES: Final = (0.03, 0.05, 0.08)
DIE_OFFS: Final = (0.001, 0.002, 0.004, 0.008)
_DIE_OFFS_HELD: Final = (0.15, 0.25, 0.4, 0.2)
"""How likely each was held before; ours, about the 0.004 the model begins with."""
_NOISE_TURNS: Final = (0, 3)
_DIE_OFF_TURN: Final = 3
"""Once, when the weights have come near where they stay: each try filters every colony."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """The model to use, and whether the ``colonies`` that tell anything were ``enough``.

    Where they were not, ``model`` is the one that was given.
    """

    model: BeliefModel
    colonies: int
    enough: bool


Case = tuple[History, float | None]
"""A colony, and the best growth of ln N a week that it can do; None for the model's own."""


def learned(
    histories: Sequence[History],
    model: BeliefModel,
    *,
    tops: Sequence[float | None] | None = None,
) -> Learned:
    """The ``model`` after six turns over the colonies with four visits or more.

    ``tops`` is the best growth of ln N a week of each colony, as in `with_top`. Refuses to learn
    from fewer than thirty such colonies, and says so. Order is of no account.

    Raises:
        ValueError: for ``tops`` of another length.
    """
    cases = list(zip(histories, tops or [None] * len(histories), strict=True))
    telling = [case for case in cases if _visits(case[0]) >= FEWEST_VISITS]
    if len(telling) < FEWEST_COLONIES:
        return Learned(model=model, colonies=len(telling), enough=False)
    now = model
    for turn in range(TURNS):
        if turn in _NOISE_TURNS:
            now = _best_noise(telling, now)
        if turn == _DIE_OFF_TURN:
            now = _mean_die_off(telling, now)
        now = _turned(telling, now, model)
    return Learned(model=now, colonies=len(telling), enough=True)


def _visits(history: History) -> int:
    return sum(bool(visit.evidence) for visit in history.visits)


def _own(model: BeliefModel, top: float | None) -> BeliefModel:
    return model if top is None else with_top(model, top)


def _best_noise(telling: Sequence[Case], model: BeliefModel) -> BeliefModel:
    """The model with the noise under which all that was seen is likeliest."""
    tried = [replace(model, noise_sd=noise) for noise in NOISES]
    return tried[int(np.argmax(_evidence(telling, tried)))]


def _mean_die_off(telling: Sequence[Case], model: BeliefModel) -> BeliefModel:
    """The model with the mean chance of a die-off, given all that was seen."""
    told = _evidence(telling, [replace(model, die_off=chance) for chance in DIE_OFFS])
    weights = np.exp(told - told.max()) * _DIE_OFFS_HELD
    return replace(model, die_off=float(weights @ DIE_OFFS / weights.sum()))


def _evidence(telling: Sequence[Case], tried: Sequence[BeliefModel]) -> Floats:
    """The logarithm of how likely all that was seen is under each model."""
    told = [
        fsum(believe(one, _own(each, top)).log_evidence for one, top in telling) for each in tried
    ]
    return np.array(told)


def _turned(telling: Sequence[Case], model: BeliefModel, first: BeliefModel) -> BeliefModel:
    parts = [_shown(one, _own(model, top)) for one, top in telling]
    return replace(
        model,
        regime_weights=_held([part[0] for part in parts], first.regime_weights),
        class_weights=_held([part[1] for part in parts], first.class_weights),
    )


def _shown(history: History, model: BeliefModel) -> tuple[Floats, Floats]:
    """The mean chance of each regime over the visits while alive, and of each class at the end."""
    seen = list(beliefs(history, model))
    alive = np.array([1.0 - belief.by_size[0] for belief in seen])
    regimes = np.array([regime_weights(belief) for belief in seen])
    return alive @ regimes / max(float(alive.sum()), 1e-12), seen[-1].by_class


def _held(parts: Sequence[Floats], first: tuple[float, ...]) -> tuple[float, ...]:
    """Means of the parts, held back by the first weights; sums that do not depend on the order."""
    told = [
        fsum(float(part[n]) for part in parts) + HELD_BACK_BY * weight
        for n, weight in enumerate(first)
    ]
    return tuple(one / fsum(told) for one in told)
