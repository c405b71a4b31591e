"""A colony by stages, week after week: many random runs of it.

Temperature sets the pace, crowding slows it; everything random that a colony of ten meets is in
the runs. What was compared with anything and what never was: ``docs/science/growth.md``.
"""

from dataclasses import fields
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from mancary.science.stage_draws import Singles, binomial, broods
from mancary.science.stage_paths import Founders, Paths
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
    Rate,
    Rates,
    week_of,
)
from mancary.science.validity import Amount, Floats, within

Seed: TypeAlias = int | np.random.SeedSequence | np.random.Generator

TOGETHER: Final = 16_000
"""Runs that are stepped together, so that their numbers stay near the processor; speed only."""

_LARGER_BLOCK: Final = 24 * 2**20
_ONE_CLASS: Final = np.zeros(1, dtype=np.intp)


def arrivals(founders: Founders, female_share: Rate, runs: int, seed: Seed) -> Counts:
    """The founders by stage (19, runs); unsexed adults are females with the given share.

    Females arrive resting and before their first brood, half-grown ones in the middle two stages.
    """
    chance = np.random.default_rng(seed)
    stages = np.zeros((STAGES, runs), dtype=np.int64)
    stages[0] = founders.mancas
    later = founders.half_grown // 2
    stages[3], stages[4] = founders.half_grown - later, later
    females = founders.adult_females
    share = np.broadcast_to(np.asarray(female_share, dtype=float), (runs,))
    stages[FIRST_FEMALE] = chance.binomial(founders.adults, share) if females is None else females
    stages[MALES] = founders.adults - stages[FIRST_FEMALE]
    return stages


def simulate(
    *,
    rates: Rates,
    conditions: Conditions,
    start: Founders | Counts,
    weeks: int,
    temps_c: ArrayLike,
    floor_m2: Amount,
    seed: Seed,
    breeding: ArrayLike = 1.0,
    losses: ArrayLike = 0.0,
) -> Paths:
    """Random runs of a colony, week by week.

    Rates are (runs,); boxes side by side are runs of one call. ``start`` is founders, who do not
    lay for the settling weeks, or settled animals by stage (19, runs). ``temps_c`` is (weeks,) or
    (weeks, runs), ``floor_m2`` one floor or (runs,), ``breeding`` (weeks,) the share of females
    (0..1) whose season it is, ``losses`` (weeks, runs) or one number the share (0..1) of all
    animals that a week takes beside what the model takes. The same seed gives the same runs.

    Raises:
        OutsideValidity: for a temperature outside ``stage_rates.TEMP_C`` or a floor of no size.
    """
    chance = np.random.default_rng(seed)
    runs = np.broadcast(*(np.asarray(getattr(rates, one.name)) for one in fields(Rates))).size
    floor = np.broadcast_to(within("floor_m2", floor_m2, 1e-4, 10.0), (runs,))
    temps = _temperatures(temps_c, weeks)
    season = np.broadcast_to(np.asarray(breeding, dtype=float), (weeks,))
    settling = int(conditions.settling_weeks) if isinstance(start, Founders) else 0
    if isinstance(start, Founders):
        start = arrivals(start, rates.female_share, runs, chance)
    lays = np.where(np.arange(weeks) < settling, 0.0, season).astype(np.float32)
    lost = _lost(losses, weeks)
    root = int(chance.integers(2**63))

    _keep_freed_memory()
    made = []
    for first in range(0, runs, TOGETHER):
        part = slice(first, min(first + TOGETHER, runs))
        run = _Run(
            _part_of(rates, part, runs),
            conditions,
            start[:, part],
            floor[part] * conditions.structure,
            np.random.Generator(np.random.SFC64(np.random.SeedSequence([root, first]))),
        )
        made.append(run.through(_of_runs(temps, part), lays, _of_runs(lost, part)))
    return _joined(made)


def _keep_freed_memory() -> None:
    """Speed only: glibc gives freed blocks back to the system, and takes them again cleared, until
    it has seen a larger one freed (mallopt(3), M_MMAP_THRESHOLD); half of the time was lost so.
    """
    np.empty(_LARGER_BLOCK, dtype=np.uint8)


def _temperatures(temps_c: ArrayLike, weeks: int) -> Singles:
    """(weeks, 1) or (weeks, runs)."""
    temps = within("temps_c", np.asarray(temps_c, dtype=float), *TEMP_C)
    if temps.shape[:1] != (weeks,):
        raise ValueError("there must be a temperature for each week")
    return (temps[:, np.newaxis] if temps.ndim == 1 else temps).astype(np.float32)


def _lost(losses: ArrayLike, weeks: int) -> Singles:
    """(weeks, 1) or (weeks, runs)."""
    lost = np.atleast_2d(within("losses", np.asarray(losses, dtype=float), 0.0, 1.0))
    return np.broadcast_to(lost, (weeks, lost.shape[1])).astype(np.float32)


def _of_runs(told: Singles, part: slice) -> Singles:
    return told if told.shape[1] == 1 else told[:, part]


def _part_of(rates: Rates, part: slice, runs: int) -> Rates:
    """The rates of some of the runs, in single precision: the same fields, other numbers."""
    return Rates(**{
        one.name: np.broadcast_to(np.asarray(getattr(rates, one.name), dtype=np.float32), (runs,))[
            part
        ]
        for one in fields(Rates)
    })  # fmt: skip


def _joined(made: list[Paths]) -> Paths:
    return Paths(
        grown=np.concatenate([one.grown for one in made], axis=1),
        young=np.concatenate([one.young for one in made], axis=1),
        biomass_g=np.concatenate([one.biomass_g for one in made], axis=1),
        first_young_week=np.concatenate([one.first_young_week for one in made]),
        stages=np.concatenate([one.stages for one in made], axis=1),
    )


class _Run:
    """Runs that are stepped together, as they stand. Numbers are whole, in single precision."""

    def __init__(
        self,
        rates: Rates,
        conditions: Conditions,
        start: Counts,
        usable_m2: Floats,
        chance: np.random.Generator,
    ) -> None:
        self.rates, self.conditions, self.chance = rates, conditions, chance
        self.stages = start.astype(np.float32)
        self.usable_m2 = usable_m2.astype(np.float32)
        self.runs = self.stages.shape[1]
        self.weather: Singles = self._normals()
        self.weather *= np.float32(conditions.weather_sd)
        self.without_male: Singles = np.zeros(self.runs, dtype=np.float32)
        weights = [*conditions.stage_weights, *[1.0] * (STAGES - LAST_JUVENILE - 1)]
        self.weights: Singles = np.asarray(weights, dtype=np.float32) / np.float32(1000.0)
        self.all_female = np.asarray(rates.female_share) >= 1.0

    def _normals(self) -> Singles:
        return np.asarray(self.chance.standard_normal((self.runs,), dtype=np.float32))

    def mass_g(self) -> Singles:
        return np.asarray((self.weights @ self.stages) * self.rates.adult_mg, dtype=np.float32)

    def through(self, temps_c: Singles, lays: Singles, lost: Singles) -> Paths:
        """All weeks one after the other."""
        weeks = len(temps_c)
        grown = np.empty((weeks + 1, self.runs), dtype=np.int32)
        young, mass = np.empty_like(grown), np.empty(grown.shape, dtype=np.float32)
        first = np.full(self.runs, np.nan)
        for week in range(weeks + 1):
            if week:
                born = self.step(temps_c[week - 1], lays[week - 1], lost[week - 1])
                first[np.isnan(first) & (born > 0.0)] = week
            mancas = self.stages[MANCAS].sum(axis=0)
            young[week], mass[week] = mancas, self.mass_g()
            grown[week] = self.stages.sum(axis=0) - mancas
        return Paths(
            grown=grown,
            young=young,
            biomass_g=mass,
            first_young_week=first,
            stages=self.stages.astype(np.int64),
        )

    def step(self, temp_c: Singles, season: np.float32, lost: Singles) -> Singles:
        """One week; how many young are let go (runs,)."""
        sperm = self.all_female | (self.without_male <= self.conditions.sperm_weeks)
        week = week_of(
            self.rates,
            self.conditions,
            temp_c=temp_c,
            crowd_g_m2=self.mass_g() / self.usable_m2,
            weather=self.weather,
            may_lay=season * sperm,
        )
        alive = self.stages - binomial(
            self.stages, 1.0 - week.survive * (1.0 - lost), self.chance, LIFE
        )
        moving = binomial(alive[:MALES], week.move, self.chance, WAIT)
        young = week.young.astype(np.float32)
        spread = self.conditions.brood_spread
        born: Singles = broods(moving[BROODED], young, spread, self.chance).sum(axis=0)
        self._move(alive, moving, born)
        self._crash()
        self._weather()
        longer = self.without_male + np.float32(1.0)
        self.without_male = np.where(self.stages[MALES] > 0.0, np.float32(0.0), longer)
        return born

    def _move(self, alive: Singles, moving: Singles, born: Singles) -> None:
        alive[:MALES] -= moving
        alive[1 : LAST_JUVENILE + 1] += moving[:LAST_JUVENILE]
        matured = moving[LAST_JUVENILE : LAST_JUVENILE + 1]
        share = np.asarray(self.rates.female_share)[np.newaxis]
        females = binomial(matured, share, self.chance, _ONE_CLASS)[0]
        for rest in (6, 10, 14):
            alive[rest + 1 : rest + 4] += moving[rest : rest + 3]
        alive[FIRST_FEMALE] += females
        alive[MALES] += matured[0] - females
        for here, rest in zip(BROODED, NEXT_REST, strict=True):
            alive[rest] += moving[here]
        alive[0] += born
        self.stages = alive

    def _crash(self) -> None:
        drawn = self.chance.random(self.runs, dtype=np.float32)
        hit = np.flatnonzero(drawn < self.conditions.crash_per_week)
        if hit.size:
            low, high = self.conditions.crash_low, self.conditions.crash_high
            left = 1.0 - self.chance.uniform(low, high, hit.size)
            whole = self.stages[:, hit].astype(np.int64)
            self.stages[:, hit] = self.chance.binomial(whole, left)

    def _weather(self) -> None:
        memory = np.float32(self.conditions.weather_memory)
        spread = np.float32(self.conditions.weather_sd * np.sqrt(1.0 - memory**2))
        self.weather *= memory
        self.weather += spread * self._normals()
