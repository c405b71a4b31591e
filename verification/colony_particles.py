"""A colony's belief by particles: the same model with sizes that are not in cells, by chance.

Compares the chance of falling below five animals, and of having fallen, with the product's sums on
a grid, over invented colonies. Run: ``python -m verification.colony_particles``.
"""

import sys
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.stats import betabinom, nbinom

from mancary.science.belief import believe
from mancary.science.belief_evidence import Dead, Evidence, FullCount, IndexCount, LeftOver, Young
from mancary.science.belief_model import BeliefModel
from mancary.science.belief_state import History, Visit
from mancary.science.risk import p_below, p_fell

Floats = NDArray[np.float64]

COLONIES, PARTICLES = 40, 20_000
CLOSE = 0.01
"""Mean absolute difference of a chance: two runs of 20,000 particles differ by 0.004 to 0.008 after
a dozen sights, a grid of cells a third as wide by 0.0003 to 0.002."""
GONE, GREATEST = -0.69, 8.58


@dataclass
class Swarm:
    """Particles: ln N (-inf where gone), its value when ``marked``, growth, share seen and k."""

    log_n: Floats
    then: Floats
    growth: Floats
    seen: Floats
    k: Floats

    def picked(self, index: NDArray[np.int64]) -> "Swarm":
        return Swarm(*(getattr(self, name)[index] for name in self.__dataclass_fields__))

    @property
    def animals(self) -> Floats:
        return np.exp(self.log_n)


def begin(
    model: BeliefModel, founders: tuple[int, int] | None, count: int, chance: np.random.Generator
) -> Swarm:
    """Particles drawn from the belief before anything was seen."""
    kind = chance.choice(len(model.class_weights), count, p=normed(model.class_weights))
    if founders:
        log_n = np.log(chance.integers(founders[0], founders[1] + 1, count).astype(float))
    else:
        log_n = chance.normal(4.0, 1.5, 3 * count)
        log_n = log_n[(log_n >= 0) & (log_n <= GREATEST)][:count]
    return Swarm(
        log_n,
        log_n.copy(),
        drawn_growth(model, count, chance),
        np.array(model.detection)[kind // len(model.dispersion)],
        np.array(model.dispersion)[kind % len(model.dispersion)],
    )


def normed(weights: tuple[float, ...]) -> Floats:
    return np.array(weights) / sum(weights)


def drawn_growth(model: BeliefModel, count: int, chance: np.random.Generator) -> Floats:
    return chance.choice(np.array(model.regimes), count, p=normed(model.regime_weights))


def week(swarm: Swarm, model: BeliefModel, chance: np.random.Generator) -> None:
    """Moves every particle by a week, in place."""
    count = len(swarm.log_n)
    alive = np.isfinite(swarm.log_n)
    noise = np.sqrt(model.noise_sd**2 + model.demographic_sd**2 / np.maximum(swarm.animals, 0.1))
    moved = swarm.log_n + swarm.growth + noise * chance.normal(size=count)
    struck = chance.random(count) < model.die_off
    worst = chance.random(count) < 0.1
    left = np.where(
        worst, np.exp(chance.uniform(np.log(0.001), np.log(0.1), count)),
        chance.uniform(0.1, 0.7, count),
    )  # fmt: skip
    moved += np.where(struck, np.log(left), 0.0)
    # half an animal and more is one: the model knows nothing between none and one
    swarm.log_n = np.where(alive & (moved >= GONE), np.clip(moved, 0.0, GREATEST), -np.inf)
    turned = chance.random(count) < model.switch
    swarm.growth = np.where(turned, drawn_growth(model, count, chance), swarm.growth)


def weigh(swarm: Swarm, evidence: Evidence) -> Floats:
    """How likely a sight is for each particle; the constants are written down a second time."""
    animals = swarm.animals
    match evidence:
        case FullCount(animals=count):
            whole = np.rint(animals)
            twice = whole + np.ceil(0.05 * whole)
            met = 0.97 * betabinom.pmf(count, whole, 24, 2)
            met = met + 0.03 * betabinom.pmf(count, twice, 24, 2)
            odd = np.where(count > 3 * animals, 0.0002, 0.002)
            odd = np.where((animals < 0.5) & (count > 0), 1e-6, odd)
            return np.asarray((1 - odd) * met + odd / (count + 1) / 9.1572)
        case IndexCount(animals=count):
            met = counted(count, swarm.seen * animals, swarm.k)
            return 0.03 * (count == 0) + 0.97 * met + 1e-6 / (count + 1) / 9.1572
        case Young(seen=seen):
            rate = 0.125 * swarm.seen * np.exp(np.minimum(6 * swarm.growth, 1.0)) * animals
            told = 0.02 + 0.96 * (1 - np.exp(-rate))
            return told if seen else 1 - told
        case Dead(animals=count, weeks=weeks):
            dying = 0.15 * animals * (0.025 + np.maximum(0, -swarm.growth))
            return counted(count, dying * min(weeks, 3) + 0.05, 1.0)
        case LeftOver(share=share, feeders=feeders):
            told = np.clip(1 / (1 + (animals / feeders) ** 0.9), 0.03, 0.97)
            return np.asarray(told**share * (1 - told) ** (1 - share))
        case _:
            raise NotImplementedError(type(evidence).__name__)


def counted(count: int, mean: Floats, k: Floats | float) -> Floats:
    return np.asarray(nbinom.pmf(count, k, k / (k + mean)))


def resampled(weights: Floats, chance: np.random.Generator) -> NDArray[np.int64]:
    """Systematic resampling."""
    steps = (np.arange(len(weights)) + chance.random()) / len(weights)
    return np.minimum(np.searchsorted(np.cumsum(weights) / weights.sum(), steps), len(weights) - 1)


def by_particles(
    history: History, model: BeliefModel, *, count: int = PARTICLES, seed: int = 0
) -> tuple[float, float]:
    """The chances of falling under 5 animals in 12 weeks, and of having fallen in the last 12."""
    chance = np.random.default_rng(seed)
    swarm = begin(model, history.founders, count, chance)
    taken = 0.0
    for now in range(history.week + 1):
        if now:
            week(swarm, model, chance)
        for visit in (one for one in history.visits if one.week == now):
            weights = np.ones(count)
            for one in visit.evidence:
                weights = weights * weigh(swarm, one)
            if visit.taken:
                slip = chance.random(count) < 0.05
                some = swarm.animals * (1 - chance.uniform(0, 0.5, count))
                left = np.where(slip, some, swarm.animals - visit.taken)
                weights = weights * (left >= 0)
                swarm.log_n = np.log(left, out=np.full(count, -np.inf), where=left >= 0.5)
                taken += visit.taken * (now > history.week - 12)
            swarm = swarm.picked(resampled(weights, chance))
        if now == history.week - 12:
            swarm.then = swarm.log_n.copy()
    fell = float(np.mean(swarm.animals < np.exp(swarm.then) - taken))
    under = np.zeros(count, dtype=bool)
    for _ in range(12):
        week(swarm, model, chance)
        under |= swarm.animals < 5
    return float(under.mean()), fell


def invented(seed: int, model: BeliefModel) -> History:
    """A colony drawn from the model, looked at every two to six weeks for a year or so."""
    chance = np.random.default_rng([20261125, seed])
    founders = (10, 20) if seed % 3 == 0 else None
    one = begin(model, founders, 60, chance).picked(np.array([0]))
    visits, due, last = [], int(chance.integers(0, 4)), int(chance.integers(36, 60))
    for now in range(last + 1):
        if now:
            week(one, model, chance)
        if now == due:
            evidence = sights(one, chance)
            spare = float(one.animals[0]) > 100 and chance.random() < 0.2
            visits.append(Visit(week=now, evidence=evidence, taken=20.0 if spare else 0.0))
            one.log_n = np.log(one.animals - visits[-1].taken) if spare else one.log_n
            due += int(chance.integers(2, 7))
    return History(visits=tuple(visits), week=last, founders=founders)


def sights(one: Swarm, chance: np.random.Generator) -> tuple[Evidence, ...]:
    """What a keeper of this one colony sees, each sign noted every second time."""
    animals, seen, k = (float(part[0]) for part in (one.animals, one.seen, one.k))
    share, k = (0.93, 60.0) if chance.random() < 0.08 else (seen, k)
    met = int(chance.poisson(chance.gamma(k, share * animals / k)) if animals > 0 else 0)
    told: list[Evidence] = [FullCount(met) if share == 0.93 else IndexCount(met)]
    rate = 0.125 * seen * np.exp(min(6 * float(one.growth[0]), 1.0)) * animals
    if chance.random() < 0.5:
        told.append(Young(bool(chance.random() < 0.02 + 0.96 * (1 - np.exp(-rate)))))
    if chance.random() < 0.5:
        dying = 0.45 * animals * (0.025 + max(0.0, -float(one.growth[0]))) + 0.05
        told.append(Dead(int(chance.poisson(chance.gamma(1.0, dying))), 4))
    if chance.random() < 0.5:
        left = np.clip(1 / (1 + (animals / 40) ** 0.9), 0.03, 0.97)
        told.append(LeftOver(float(chance.random() < left)))
    return tuple(told)


def differences(colonies: int, *, count: int = PARTICLES) -> Floats:
    """By colony: the grid's and the particles' chance of falling below 5, and of having fallen."""
    model = BeliefModel()
    rows = []
    for seed in range(colonies):
        history = invented(seed, model)
        below, fell = by_particles(history, model, count=count, seed=seed)
        rows.append([p_below(believe(history, model), model), below, p_fell(history, model), fell])
    return np.array(rows)


def main() -> int:
    """Prints the differences and what a wrong model would make of them; 1 outside the tolerance."""
    told = differences(COLONIES)
    wrong = replace(BeliefModel(), noise_sd=0.2)
    off = [
        p_below(believe(invented(seed, BeliefModel()), wrong), wrong) - told[seed, 1]
        for seed in range(COLONIES)
    ]
    bad = False
    for name, grid, particles in (("below 5", *told[:, :2].T), ("has fallen", *told[:, 2:].T)):
        gap = np.abs(grid - particles)
        same = np.corrcoef(grid, particles)[0, 1]
        print(f"{name}: {COLONIES} colonies, chances {grid.min():.3f} to {grid.max():.3f}; mean "
              f"difference {gap.mean():.4f}, greatest {gap.max():.3f}, correlation {same:.4f}")  # fmt: skip
        bad = bad or gap.mean() > CLOSE
    print(
        f"with four times the noise on the grid, below 5 would be off by {np.abs(off).mean():.3f}"
    )
    return int(bad)


if __name__ == "__main__":
    sys.exit(main())
