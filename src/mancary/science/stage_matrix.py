"""The stage model's mean as a matrix, and colonies that have settled into its stable stages."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from mancary.science.matrix import growth_rate
from mancary.science.stage_draws import Singles, broods
from mancary.science.stage_rates import (
    BROODED,
    FIRST_FEMALE,
    LAST_JUVENILE,
    LIFE,
    MALES,
    MANCAS,
    NEXT_REST,
    STAGES,
    TEMP_C,
    WAIT,
    Conditions,
    Counts,
    Rates,
    Traits,
    modes,
    week_of,
)
from mancary.science.validity import Amount, Floats, within

DOUBLINGS: Final = 10
"""Squarings of the weekly matrix: 2^10 weeks, after which the stages of a box no longer swing."""


def mean_matrix(rates: Rates, conditions: Conditions, temp_c: Amount) -> Floats:
    """The mean of one uncrowded week (19, 19): column is now, row a week later.

    For `mancary.science.matrix`. Rates of (runs,) give (runs, 19, 19). Weather, crashes and lack of
    males are not in it.

    Raises:
        OutsideValidity: for a temperature outside ``stage_rates.TEMP_C``.
    """
    temp = within("temp_c", temp_c, *TEMP_C)
    week = week_of(rates, conditions, temp_c=temp)
    survive = week.survive[LIFE]
    moving = survive[:MALES] * week.move[WAIT]
    matrix = np.zeros((STAGES, *survive.shape))
    matrix[range(STAGES), range(STAGES)] = survive
    matrix[range(MALES), range(MALES)] -= moving
    onward = [here for here in range(MALES) if here != LAST_JUVENILE and here not in BROODED]
    matrix[[here + 1 for here in onward], onward] += moving[onward]
    females = np.asarray(rates.female_share)
    matrix[FIRST_FEMALE, LAST_JUVENILE] += females * moving[LAST_JUVENILE]
    matrix[MALES, LAST_JUVENILE] += (1.0 - females) * moving[LAST_JUVENILE]
    matrix[NEXT_REST, BROODED] += moving[BROODED]
    matrix[0, BROODED] += moving[BROODED] * week.young
    return np.moveaxis(matrix, (0, 1), (-2, -1))


def best_per_week(traits: Traits, conditions: Conditions, temp_c: float) -> float:
    """Growth of ln N a week that the uncrowded model reaches in the end at a temperature.

    At the modes of its rates. Where nothing develops it is 0: the model has no frost and no ageing
    of juveniles that stand still.

    Raises:
        OutsideValidity: for a temperature outside ``stage_rates.TEMP_C``.
    """
    return float(np.log(growth_rate(mean_matrix(modes(traits), conditions, temp_c))))


def growth_per_week(rates: Rates, conditions: Conditions, temp_c: Amount) -> Floats:
    """The same growth of ln N a week for each run (runs,), all at once.

    Raises:
        OutsideValidity: for a temperature outside ``stage_rates.TEMP_C``.
    """
    matrix = np.atleast_3d(mean_matrix(rates, conditions, temp_c))
    after = _stable(matrix)
    grown: Floats = np.log((matrix @ after[..., np.newaxis]).sum(axis=(-2, -1)))
    return grown


def _stable(matrix: Floats) -> Floats:
    """Shares of the stages (runs, 19) after 2^10 weeks of a matrix (runs, 19, 19)."""
    power = matrix.copy()
    for _ in range(DOUBLINGS):
        power = power @ power
        power /= power.sum(axis=(-2, -1), keepdims=True)
    after: Floats = power.sum(axis=-1)
    return after


def settled(
    grown: ArrayLike,
    rates: Rates,
    conditions: Conditions,
    temp_c: float,
    chance: np.random.Generator,
) -> Counts:
    """Animals by stage (19, runs) of colonies that have so many juveniles and adults (runs,).

    A multinomial draw about the stable stages of each run's own rates; mancas come on top, in whole
    broods. A colony that was thinned or that crashed is not settled: then this is only a guess. For
    a box too cold or too hot to breed, the stages are those of the nearest temperature at which all
    females lay.

    Raises:
        ValueError: for numbers that are not whole or are negative.
        OutsideValidity: for a temperature outside ``stage_rates.TEMP_C``.
    """
    sizes = np.asarray(grown)
    if (sizes < 0).any() or (sizes != np.rint(sizes)).any():
        raise ValueError("grown must be whole numbers of animals")
    temp = within("temp_c", temp_c, *TEMP_C)
    temp = np.clip(temp, np.asarray(rates.t0_c) + 7.0, np.asarray(rates.t_opt_c) - 1.0)
    shares = _stable(np.atleast_3d(mean_matrix(rates, conditions, temp)))
    shares = np.broadcast_to(shares, (sizes.size, STAGES))
    later = shares[:, MANCAS.stop :]
    older = chance.multinomial(sizes.astype(np.int64), later / later.sum(axis=1, keepdims=True))
    stages = np.zeros((STAGES, sizes.size), dtype=np.int64)
    stages[MANCAS.stop :] = older.T
    expected = sizes * shares[:, MANCAS].sum(axis=1) / later.sum(axis=1)
    young = _in_broods(expected, rates, conditions, chance)
    first = shares[:, 0] / shares[:, MANCAS].sum(axis=1)
    stages[0] = chance.binomial(young, first)
    stages[1] = young - stages[0]
    return stages


def _in_broods(
    expected: Floats, rates: Rates, conditions: Conditions, chance: np.random.Generator
) -> Counts:
    """So many mancas on the mean (runs,), but as the living part of whole broods."""
    lived = np.sqrt(np.asarray(rates.manca_survival))
    brood = np.broadcast_to(np.asarray(rates.brood_young) * lived, expected.shape)
    number: Singles = chance.poisson(expected / brood).astype(np.float32)
    young = broods(number, brood.astype(np.float32), conditions.brood_spread, chance)
    return young.astype(np.int64)
