"""What a week does to each stage of a colony: how it grows, breeds and dies at a temperature.

Nineteen stages: two of mancas, four of juveniles, adult females of three parity classes, each
resting (two) and brooding (two), and adult males. Each stage is left with the same chance a week,
so that k stages in a row make an Erlang wait. Sources and limits: ``docs/science/growth.md``.
"""

from dataclasses import dataclass, fields
from typing import Any, Final, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from mancary.science.validity import Amount, plain, within

Counts: TypeAlias = NDArray[np.int64]
Rows: TypeAlias = NDArray[np.floating[Any]]
Rate: TypeAlias = float | Rows

STAGES: Final = 19
MANCAS: Final = slice(0, 2)
JUVENILES: Final = slice(2, 6)
FEMALES: Final = slice(6, 18)
MALES: Final = 18
LAST_JUVENILE: Final = 5
FIRST_FEMALE: Final = 7
"""A juvenile that matures has half of a first rest before it; tuned with the rates, ours."""

BROODED: Final = np.array([9, 13, 17])
NEXT_REST: Final = np.array([10, 14, 14])

REFERENCE_C: Final = 22.0
"""°C: the temperature all durations are given for; ours."""

TEMP_C: Final = (0.0, 45.0)
"""°C: no week's mean of a kept box lies outside; death by frost is not in the model; ours."""

WAIT: Final = np.array([0, 0, 1, 1, 1, 1] + [2, 3, 4, 4] * 3)
"""Which class of `Week.move` each of the moving stages, all but males, is in."""

LIFE: Final = np.array([0] * 2 + [1] * 4 + [2] * 13)
"""Which class of `Week.survive` each stage is in."""


@dataclass(frozen=True, slots=True)
class Span:
    """A rate as it is known: most likely value, and the ends of what is believed."""

    low: float
    mode: float
    high: float

    def __post_init__(self) -> None:
        if not 0 < self.low <= self.mode <= self.high:
            raise ValueError("a span needs 0 < low <= mode <= high")


@dataclass(frozen=True, slots=True, kw_only=True)
class Traits:
    """One archetype. Durations in weeks and survivals of a whole stage (0..1), all at 22 °C.

    ``rest_weeks`` runs from letting a brood go to carrying the next, ``brood_young`` is the full
    brood of a grown female, ``female_share`` 1 means an all-female line. Below ``t0_c`` nothing
    develops, at ``t_opt_c`` it is fastest, at ``t_max_c`` it ends.
    """

    manca_weeks: Span
    juvenile_weeks: Span
    brood_weeks: Span
    rest_weeks: Span
    brood_young: Span
    female_share: Span
    manca_survival: Span
    juvenile_survival: Span
    adult_weeks: Span
    adult_mg: Span
    t0_c: Span
    t_opt_c: Span
    t_max_c: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """The `Traits` as numbers: floats, or (runs,), one of each for every run."""

    manca_weeks: Rate
    juvenile_weeks: Rate
    brood_weeks: Rate
    rest_weeks: Rate
    brood_young: Rate
    female_share: Rate
    manca_survival: Rate
    juvenile_survival: Rate
    adult_weeks: Rate
    adult_mg: Rate
    t0_c: Rate
    t_opt_c: Rate
    t_max_c: Rate


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """What is the same for all archetypes: crowding, weather, crashes, mating, arrival.

    The halves are g of animals for a m² of usable floor at which growth, broods and the survival
    of mancas are halved; usable floor is the floor times ``structure``. ``brood_spread`` k makes
    the variance of a brood mean + mean²/k. ``weather_memory`` and ``weather_sd`` belong to the log
    odds of survival and the log of broods. ``stage_weights`` are shares of the adult mass.
    """

    growth_half_g_m2: float
    brood_half_g_m2: float
    manca_half_g_m2: float
    structure: float
    parity: tuple[float, float, float]
    brood_spread: float
    sperm_weeks: float
    settling_weeks: float
    weather_memory: float
    weather_sd: float
    crash_per_week: float
    crash_low: float
    crash_high: float
    stage_weights: tuple[float, float, float, float, float, float]


class Week(NamedTuple):
    """Chances of one week, by class of stage.

    ``survive`` (3, ...) of mancas, juveniles and adults, ``move`` (5, ...) out of a stage of
    mancas, juveniles, early rest, late rest (into laying) and brood, ``young`` a brood (3, ...).
    """

    survive: Rows
    move: Rows
    young: Rows


def modes(traits: Traits) -> Rates:
    """The most likely value of each rate."""
    return Rates(**{one.name: getattr(traits, one.name).mode for one in fields(Traits)})


def development(temp_c: Amount, t0: Amount, t_opt: Amount, t_max: Amount) -> Amount:
    """Speed of growth against that at 22 °C: straight up from t0 to t_opt, straight down to t_max.

    Thresholds in °C, broadcast together. Straight lines above a threshold are the degree-day rule.

    Raises:
        OutsideValidity: for a temperature outside `TEMP_C`.
    """
    speed = _pace(within("temp_c", temp_c, *TEMP_C), np.asarray(t0), t_opt, t_max)
    return plain(np.asarray(speed, dtype=float))


def laying(temp_c: Amount, t0: Amount, t_opt: Amount) -> Amount:
    """Share (0..1) of rested females that may lay: none up to t0 + 3, all from t0 + 7 to t_opt - 1.

    It falls to none at t_opt + 2.5 °C.

    Raises:
        OutsideValidity: for a temperature outside `TEMP_C`.
    """
    share = _laying(within("temp_c", temp_c, *TEMP_C), t0, t_opt)
    return plain(np.asarray(share, dtype=float))


def heat_death(temp_c: Amount, t_opt: Amount, t_max: Amount) -> Amount:
    """Share (0..1) of all animals a week above t_opt kills: 0.9 at t_max, with the square.

    Raises:
        OutsideValidity: for a temperature outside `TEMP_C`.
    """
    killed = _heat_death(within("temp_c", temp_c, *TEMP_C), t_opt, t_max)
    return plain(np.asarray(killed, dtype=float))


# The three take single precision as it comes; the temperature has been looked at before.


def _pace(temp_c: Rows, t0: Rate, t_opt: Rate, t_max: Rate) -> Rows:
    rising: Rows = np.maximum(np.minimum(temp_c, t_opt) - t0, 0.0) / (REFERENCE_C - t0)
    falling: Rows = np.clip((t_max - temp_c) / (t_max - t_opt), 0.0, 1.0)
    return rising * falling


def _laying(temp_c: Rows, t0: Rate, t_opt: Rate) -> Rows:
    opening: Rows = np.clip((temp_c - (t0 + 3.0)) / 4.0, 0.0, 1.0)
    closing: Rows = np.clip((t_opt + 2.5 - temp_c) / 3.5, 0.0, 1.0)
    return opening * closing


def _heat_death(temp_c: Rows, t_opt: Rate, t_max: Rate) -> Rows:
    share: Rows = np.maximum(temp_c - t_opt, 0.0) / (t_max - t_opt)
    killed: Rows = np.minimum(0.9 * share * share, 1.0)
    return killed


def week_of(
    rates: Rates,
    conditions: Conditions,
    *,
    temp_c: Rate,
    crowd_g_m2: Rate = 0.0,
    weather: Rate = 0.0,
    may_lay: Rate = 1.0,
) -> Week:
    """The chances of a week at a mean temperature; all arguments floats or (runs,).

    ``crowd_g_m2`` is the animals' mass on usable floor, ``weather`` shifts the log odds of survival
    and the log of broods, ``may_lay`` (0..1) is the share of females that may lay at all. Single
    precision in gives single precision out. The temperature is not looked at here: see `TEMP_C`.
    """
    temp, mass, said = np.asarray(temp_c), np.asarray(crowd_g_m2), np.asarray(weather)
    pace = _pace(temp, rates.t0_c, rates.t_opt_c, rates.t_max_c)
    pace = pace / (1.0 + mass / conditions.growth_half_g_m2)
    lays = _laying(temp, rates.t0_c, rates.t_opt_c) * np.asarray(may_lay)
    rest = np.minimum(1.0, 2.0 * pace / rates.rest_weeks)
    move = _rows(
        np.minimum(1.0, 2.0 * pace / rates.manca_weeks),
        np.minimum(1.0, 4.0 * pace / rates.juvenile_weeks),
        rest,
        rest * lays,
        np.minimum(1.0, 2.0 * pace / rates.brood_weeks),
    )
    mancas = np.log(rates.manca_survival) - np.log1p(mass / conditions.manca_half_g_m2)
    staying = _rows(
        np.exp(mancas * pace / rates.manca_weeks),
        np.exp(np.log(rates.juvenile_survival) * pace / rates.juvenile_weeks),
        np.exp(-1.0 / np.asarray(rates.adult_weeks)) * np.ones_like(pace),
    )
    odds = np.exp(said)
    staying = staying * odds / (1.0 - staying + staying * odds)
    staying = staying * (1.0 - _heat_death(temp, rates.t_opt_c, rates.t_max_c))
    brood = rates.brood_young * odds / (1.0 + mass / conditions.brood_half_g_m2)
    return Week(staying, move, _rows(*(share * brood for share in conditions.parity)))


def _rows(*rows: Rate) -> Rows:
    return np.stack(np.broadcast_arrays(*rows))
