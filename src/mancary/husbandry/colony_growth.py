"""How a colony will go: runs of the stage model that agree with what is believed of it now.

Where its founders were counted, the runs begin with them and those are kept, again and again, whose
number now is what the filter holds; else they begin with that number, settled into the stages a
growing colony has. So a count moves the watch and the forecast alike.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mancary.handbook import growth
from mancary.handbook.growth import Archetype
from mancary.husbandry.colony_past import Past
from mancary.science.belief_model import TOP, BeliefModel, sizes
from mancary.science.belief_state import Belief
from mancary.science.stage_draws import draw_rates
from mancary.science.stage_matrix import settled
from mancary.science.stage_model import simulate
from mancary.science.stage_paths import Founders, Paths, following, without_young
from mancary.science.stage_rates import Counts, Rates
from mancary.science.validity import Floats

RUNS: Final = 2000
AHEAD_WEEKS: Final = 78
_SEED: Final = 20261
LONGEST_PAST_WEEKS: Final = 156
"""Ours: runs from founders of more than three years ago tell nothing of now."""
_LEAST_COVERED: Final = 0.7
_LEAST_WORTH: Final = 150.0
"""Ours: so much of the belief must the runs reach, and so many must they be worth."""
YOUNG_WEEKS: Final = 104
"""So far ahead first young are looked for."""
_SEEN_LATE_WEEKS: Final = 4
"""Ours: young hide for so long before a keeper sees them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Runs:
    """Runs that agree with the belief: rates and stages (19, runs) now.

    ``first_young_week`` (runs,) counts from the founding, NaN where none came in the time looked
    at; None where the runs do not begin with founders. ``model_now`` are the animals that runs from
    the founders had before they were told of any sight, None where founders are not known.
    """

    rates: Rates
    stages: Counts
    first_young_week: Floats | None
    model_now: NDArray[np.int32] | None
    regimes: NDArray[np.int64]


def runs_now(
    past: Past,
    archetype: Archetype,
    belief: Belief,
    *,
    week: int,
    temp_c: float,
    floor_m2: float,
    temps_c: Sequence[float] = (),
    runs: int = RUNS,
) -> Runs:
    """Runs at a week of the colony's life, each with rates, stages and a regime of its own.

    ``temps_c`` are those of its past, week by week; left out, it was as warm as now.
    """
    chance = np.random.default_rng([_SEED, week])
    numbers, regimes = _drawn(belief, runs, chance)
    model_now = None
    if past.founders is not None and past.joined is None and week <= LONGEST_PAST_WEEKS:
        found, model_now = _from_founders(
            past, archetype, belief, week=week, floor_m2=floor_m2, chance=chance, runs=runs,
            temps_c=np.asarray(temps_c or [temp_c] * week, dtype=float),
        )  # fmt: skip
        if found is not None:
            return replace(found, regimes=regimes)
    rates = draw_rates(archetype.traits, runs, chance)
    stages = settled(numbers, rates, growth.conditions(), temp_c, chance)
    return Runs(
        rates=rates, stages=stages, first_young_week=None, model_now=model_now, regimes=regimes
    )


def _drawn(
    belief: Belief, runs: int, chance: np.random.Generator
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Numbers of animals and regimes drawn together from the belief, both (runs,)."""
    joint = belief.shares.sum(axis=0, dtype=float)
    cells = joint.shape[1]
    drawn = chance.choice(joint.size, size=runs, p=joint.ravel() / joint.sum())
    regime, cell = np.divmod(drawn, cells)
    step = TOP / (cells - 2)
    spread = np.exp(step * (chance.random(runs) - 0.5))
    return np.rint(sizes(cells)[cell] * spread).astype(np.int64), regime.astype(np.int64)


def _from_founders(
    past: Past,
    archetype: Archetype,
    belief: Belief,
    *,
    week: int,
    temps_c: Floats,
    floor_m2: float,
    chance: np.random.Generator,
    runs: int,
) -> tuple[Runs | None, NDArray[np.int32]]:
    """Runs from the founders whose numbers now agree with the belief; None where too few do.

    Beside them the animals of all runs, whether they agree or not.
    """
    rates = draw_rates(archetype.traits, 2 * runs, chance)
    paths, stages, grown = _grown_up(
        past, rates, week=week, temps_c=temps_c, floor_m2=floor_m2, chance=chance
    )
    weights = _worth(grown, belief)
    if not any(look.young for look in past.looks):
        weights = weights * _unseen(paths, past, week)
    if weights.sum() < _LEAST_COVERED or weights.sum() ** 2 / (weights**2).sum() < _LEAST_WORTH:
        return None, grown
    picked = chance.choice(len(grown), size=runs, p=weights / weights.sum())
    found = Runs(
        rates=_picked(rates, picked),
        stages=stages[:, picked],
        first_young_week=paths.first_young_week[picked],
        model_now=grown,
        regimes=picked,
    )
    return found, grown


def _grown_up(
    past: Past, rates: Rates, *, week: int, temps_c: Floats, floor_m2: float,
    chance: np.random.Generator,
) -> tuple[Paths, Counts, NDArray[np.int32]]:  # fmt: skip
    """Runs from the founders to ``week``, as warm as it was; what was taken leaves in its week."""
    assert past.founders is not None
    start: Founders | Counts = starters(past.founders, len(np.asarray(rates.adult_mg)), chance)
    parts: list[Paths] = []
    at = 0
    takings = [(look.week, look.taken) for look in past.looks if look.taken and look.week < week]
    for until, taken in [*takings, (week, 0.0)]:
        part = simulate(
            rates=rates, conditions=growth.conditions(), start=start, weeks=until - at,
            temps_c=temps_c[at:until], floor_m2=floor_m2, seed=chance,
        )  # fmt: skip
        start, at = thinned(part.stages, taken, chance), until
        parts.append(part)
    last = sum(look.taken for look in past.looks if look.week == week)
    stages = thinned(parts[-1].stages, last, chance)
    return following(parts), stages, stages[2:].sum(axis=0).astype(np.int32)


def thinned(stages: Counts, taken: float, chance: np.random.Generator) -> Counts:
    """Stages after so many juveniles and adults left, whatever came to hand."""
    if not taken:
        return stages
    many = stages[2:].sum(axis=0)
    left = np.clip(1.0 - taken / np.maximum(many, 1), 0.0, 1.0)
    return np.concatenate([stages[:2], chance.binomial(stages[2:], left)])


GROWN_SHARES: Final = (0.0, 0.25, 0.5)
"""Ours: starters are traded half-grown for the most part, some with a few grown ones among them;
each share is as likely as another, for nobody writes it down."""


def starters(founders: tuple[int, int], runs: int, chance: np.random.Generator) -> Founders:
    """Starter groups, one for each run: unsexed, half-grown with a share of grown ones."""
    many = chance.integers(founders[0], founders[1] + 1, runs)
    grown = np.rint(many * chance.choice(GROWN_SHARES, runs)).astype(np.int64)
    return Founders(adults=grown, half_grown=many - grown)


def _worth(grown: NDArray[np.int32], belief: Belief) -> Floats:
    """Weights (runs,) under which the runs have the belief's numbers; their sum what is met."""
    by_size = belief.by_size / belief.by_size.sum()
    step = TOP / (len(by_size) - 2)
    cell = np.where(grown < 1, 0, 1 + np.rint(np.log(np.maximum(grown, 1)) / step)).astype(int)
    cell = np.clip(cell, 0, len(by_size) - 1)
    many = np.bincount(cell, minlength=len(by_size))
    # small numbers lie further apart than cells: what falls between goes to the nearest below
    held = np.zeros_like(by_size)
    whole = np.flatnonzero(many)
    for place, share in enumerate(by_size):
        near = whole[np.argmin(np.abs(whole - place))] if len(whole) else 0
        if abs(near - place) <= 2 or place < 12:
            held[near] += share
    return np.asarray((held / np.maximum(many, 1))[cell])


def _unseen(paths: Paths, past: Past, week: int) -> Floats:
    """Runs without young so far as these would have been seen: 1, others next to nothing."""
    looked = max((look.week for look in past.looks if look.evidence), default=0)
    none_yet = without_young(paths, min(looked, week) - _SEEN_LATE_WEEKS)
    return np.where(none_yet, 1.0, 0.02)


def _picked(rates: Rates, picked: NDArray[np.int64]) -> Rates:
    values = {name: np.asarray(getattr(rates, name))[picked] for name in Rates.__slots__}
    return Rates(**values)


def ahead(
    now: Runs,
    model: BeliefModel,
    *,
    temp_c: float,
    floor_m2: float,
    weeks: int = AHEAD_WEEKS,
    taken: int = 0,
    seed: int = _SEED,
) -> Paths:
    """The runs on from now. ``taken`` animals, young ones and grown alike, leave first.

    A run whose regime is a falling one loses animals at that rate until the regime turns, as in the
    filter; a growing one grows as its rates and its floor allow.
    """
    # the taking has chances of its own, so that with and without meet the same weather
    stages = thinned(now.stages, taken, np.random.default_rng([seed, 1]))
    chance = np.random.default_rng([seed, weeks])
    return simulate(
        rates=now.rates,
        conditions=growth.conditions(),
        start=stages,
        weeks=weeks,
        temps_c=np.full(weeks, temp_c),
        floor_m2=floor_m2,
        seed=chance,
        losses=_losses(now.regimes, model, weeks, chance),
    )


def _losses(
    regimes: NDArray[np.int64], model: BeliefModel, weeks: int, chance: np.random.Generator
) -> Floats:
    """The share lost beside what the stage model loses, (weeks, runs)."""
    now, told = regimes.copy(), np.zeros((weeks, len(regimes)))
    falling = -np.expm1(np.minimum(np.array(model.regimes), 0.0))
    for week in range(weeks):
        told[week] = falling[now]
        turned = chance.random(len(now)) < model.switch
        now[turned] = chance.choice(
            len(model.regimes), size=int(turned.sum()), p=model.regime_weights
        )
    return told


def first_young(past: Past, archetype: Archetype, *, temp_c: float, floor_m2: float,
                runs: int = RUNS) -> Floats:  # fmt: skip
    """Weeks from the founding to the first young (runs,), NaN where none came in two years."""
    assert past.founders is not None
    chance = np.random.default_rng([_SEED, 7])
    rates = draw_rates(archetype.traits, runs, chance)
    paths = simulate(
        rates=rates, conditions=growth.conditions(),
        start=starters(past.founders, runs, chance), weeks=YOUNG_WEEKS,
        temps_c=np.full(YOUNG_WEEKS, temp_c), floor_m2=floor_m2, seed=chance,
    )  # fmt: skip
    return paths.first_young_week
