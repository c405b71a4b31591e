"""Growth of colonies by stages, against plain numpy binomials of the same model."""

import time
from collections.abc import Callable, Iterator
from dataclasses import fields

import numpy as np

from bench.result import Result, against
from mancary.handbook import growth
from mancary.science.stage_draws import draw_rates
from mancary.science.stage_model import arrivals, simulate
from mancary.science.stage_paths import Founders
from mancary.science.stage_rates import (
    BROODED,
    FIRST_FEMALE,
    LAST_JUVENILE,
    LIFE,
    MALES,
    NEXT_REST,
    STAGES,
    WAIT,
    Conditions,
    Counts,
    Rates,
    Rows,
    week_of,
)
from mancary.science.validity import Floats

RUNS, WEEKS, TEMP_C, FLOOR_M2 = 2000, 52, 22.0, 0.06
STARTER = Founders(adults=5, half_grown=5)


def colonies(number: int) -> Rates:
    """Rates of colonies of all archetypes in turn, a set for each run."""
    chance = np.random.default_rng(5)
    kinds = list(growth.archetypes().values())
    drawn = [draw_rates(kinds[one % len(kinds)].traits, RUNS, chance) for one in range(number)]
    joined = {
        one.name: np.concatenate([np.asarray(getattr(rates, one.name)) for rates in drawn])
        for one in fields(Rates)
    }
    return Rates(**joined)


def ours(rates: Rates, conditions: Conditions) -> Counts:
    return simulate(
        rates=rates, conditions=conditions, start=STARTER, weeks=WEEKS,
        temps_c=np.full(WEEKS, TEMP_C), floor_m2=FLOOR_M2, seed=1,
    ).stages  # fmt: skip


def plain(rates: Rates, conditions: Conditions) -> Counts:
    """The same model with numpy's own binomial, gamma and Poisson draws."""
    chance = np.random.default_rng(2)
    runs = np.asarray(rates.adult_mg).size
    share = np.asarray(rates.female_share)
    stages = arrivals(STARTER, share, runs, chance)
    weather = conditions.weather_sd * chance.standard_normal(runs)
    without_male = np.zeros(runs)
    weights = np.array([*conditions.stage_weights, *[1.0] * (STAGES - LAST_JUVENILE - 1)])
    for number in range(WEEKS):
        mass = (weights @ stages) * rates.adult_mg / 1000.0
        sperm = (share >= 1.0) | (without_male <= conditions.sperm_weeks)
        week = week_of(
            rates, conditions, temp_c=np.asarray(TEMP_C), weather=weather,
            crowd_g_m2=mass / (FLOOR_M2 * conditions.structure),
            may_lay=(number >= conditions.settling_weeks) * sperm.astype(float),
        )  # fmt: skip
        alive = chance.binomial(stages, week.survive[LIFE])
        moving = chance.binomial(alive[:MALES], week.move[WAIT])
        born = _born(moving[BROODED], week.young, conditions, chance)
        alive[:MALES] -= moving
        alive[1 : LAST_JUVENILE + 1] += moving[:LAST_JUVENILE]
        females = chance.binomial(moving[LAST_JUVENILE], share)
        for rest in (6, 10, 14):
            alive[rest + 1 : rest + 4] += moving[rest : rest + 3]
        alive[FIRST_FEMALE] += females
        alive[MALES] += moving[LAST_JUVENILE] - females
        np.add.at(alive, NEXT_REST, moving[BROODED])
        alive[0] += born
        hit = np.flatnonzero(chance.random(runs) < conditions.crash_per_week)
        left = 1.0 - chance.uniform(conditions.crash_low, conditions.crash_high, hit.size)
        alive[:, hit] = chance.binomial(alive[:, hit], left)
        memory = conditions.weather_memory
        fresh = conditions.weather_sd * np.sqrt(1 - memory**2) * chance.standard_normal(runs)
        weather = memory * weather + fresh
        stages = alive
        without_male = np.where(stages[MALES] > 0, 0.0, without_male + 1.0)
    return stages


def _born(
    released: Counts, young: Rows, conditions: Conditions, chance: np.random.Generator
) -> Counts:
    total = np.zeros_like(released)
    some = (released > 0) & (young > 0)
    shape = conditions.brood_spread * released[some]
    total[some] = chance.poisson(chance.gamma(shape) * young[some] / conditions.brood_spread)
    return np.asarray(total.sum(axis=0))


def alike(one: Counts, other: Counts) -> None:
    """Whether both end with the same distribution, within Monte Carlo error, colony by colony.

    Two samples of 2,000 differ by more than 0.062 of their distributions once in a thousand; of a
    hundred colonies three may, and their means by more than 3.3 errors.
    """
    pairs = zip(_by_colony(one), _by_colony(other), strict=True)
    far = 0
    for first, second in pairs:
        at = np.sort(np.concatenate([first, second]))
        below = [
            np.searchsorted(np.sort(part), at, side="right") / RUNS for part in (first, second)
        ]
        apart = np.abs(below[0] - below[1]).max()
        error = np.sqrt((first.var() + second.var()) / RUNS)
        far += bool(apart > 0.062 or abs(first.mean() - second.mean()) > 3.3 * error)
    if far > 3:
        raise RuntimeError(f"{far} colonies differ from plain binomials")


def _by_colony(stages: Counts) -> Floats:
    return np.asarray(stages[2:].sum(axis=0), dtype=float).reshape(-1, RUNS)


def processor_seconds(work: Callable[[], object]) -> float:
    """What it took of one processor: neither uses two, and others may be using them."""
    start = time.process_time()
    work()
    return time.process_time() - start


def measure() -> Iterator[Result]:
    """One colony, and a hundred; both must end alike."""
    conditions = growth.conditions()
    for number in (1, 100):
        rates = colonies(number)
        ended: dict[str, Counts] = {}

        def quick(rates: Rates = rates, ended: dict[str, Counts] = ended) -> None:
            ended["ours"] = ours(rates, conditions)

        def slow(rates: Rates = rates, ended: dict[str, Counts] = ended) -> None:
            ended["plain"] = plain(rates, conditions)

        ours(colonies(1), conditions)
        pair = processor_seconds(quick), processor_seconds(slow)
        alike(ended["ours"], ended["plain"])
        yield against(
            f"growth of {number} colonies, {RUNS:,} runs, {WEEKS} weeks, 19 stages, processor time",
            *pair,
            "s",
            "plain numpy binomials",
        )
