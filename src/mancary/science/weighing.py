"""What a kitchen scale says about a box's loss: how many times what its vents explain.

The model's loss is only a guess at a real box's; weighings correct it by one factor a box, and
boxes of one make may share what they learn. Source of the sums: climate.md equation 16, with the
likelihood taken exactly where the equation takes logarithms of a slope that may be near zero.
"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mancary.science.minutes import Z_90
from mancary.science.validity import within
from mancary.science.weighing_rate import stretch_rate

PRIOR_FACTOR: Final = 1.5
"""1: before any weighing a box loses about so many times its model's; ours, a judgement."""

PRIOR_SPREAD: Final = 2.0
"""1: and two boxes in three lie within this factor to either side; ours, a judgement."""

ENOUGH_SDS: Final = 2.0
"""1: a slope of fewer of its own standard errors than this tells too little; ours."""

Told = Literal["enough loss", "too little loss to tell", "gained weight"]

_LEAST: Final = 1e-9
_REACH: Final = 7.0
_POINTS: Final = 601
_TAIL: Final = 0.05
_CLEAR_SDS: Final = 10.0

Column = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class LossFactor:
    """How many times the model's loss a box really loses: the median and a 90 % range.

    ``slope_g_per_day`` is what the scale alone says, with its standard error, which grows where the
    weighings disagree by more than the scale errs; ``told`` says whether the slope is enough of the
    scale's own errors to go by; where it is not, the range leans on the one held before.
    ``residual_sd_g`` is how far the weights lie from a straight line, None for two weighings: much
    more than the scale's own error means that something was not booked, or that the room changed.
    """

    estimate: float
    low: float
    high: float
    slope_g_per_day: float
    slope_sd_g_per_day: float
    residual_sd_g: float | None
    told: Told

    @property
    def slope(self) -> float:
        """``slope_g_per_day`` by its short name."""
        return self.slope_g_per_day


def loss_factor(
    *,
    days: ArrayLike,
    gross_g: ArrayLike,
    added_g: ArrayLike,
    model_g_per_day: float,
    scale_sd_g: float,
    prior_factor: float = PRIOR_FACTOR,
    prior_spread: float = PRIOR_SPREAD,
    air_varies: float = 0.0,
) -> LossFactor:
    """The factor from weighings (weighings,) at ``days``, two or more, in order of time.

    ``added_g`` is what was put in less what was taken out since the weighing before (water, food,
    litter, animals); the first has no meaning. ``scale_sd_g`` is the standard error of one weight:
    about 0.6 g for a scale that shows whole grams. ``model_g_per_day`` must be the model's mean
    over the same days, not its value at their mean temperature. Decay of litter looks like water.
    ``air_varies`` is the standard deviation of one stretch's loss from the mean one, as a share, as
    far as it is held beforehand; with 0 only what the weighings show of it widens the range.

    Raises:
        ValueError: for fewer than two weighings, lengths that differ or days out of order.
        OutsideValidity: for a model loss, a scale error or a prior that is not above zero.
    """
    when, spent = _spent(days, gross_g, added_g)
    model = float(within("model_g_per_day", model_g_per_day, _LEAST, 1e4))
    scale = float(within("scale_sd_g", scale_sd_g, _LEAST, 1e3))
    found = stretch_rate(
        days=np.diff(when),
        lost_g=np.diff(spent),
        first_sd_g=np.full(when.size - 1, scale),
        second_sd_g=np.full(when.size - 1, scale),
        joined=np.arange(when.size - 1) > 0,
        booked_g=np.zeros(when.size - 1),
        air_varies=air_varies,
    )
    slope, slope_sd = found.g_per_day, found.sd_g_per_day
    low, estimate, high = factor_of_slope(
        slope_g_per_day=slope,
        slope_sd_g_per_day=slope_sd,
        model_g_per_day=model,
        prior_factor=prior_factor,
        prior_spread=prior_spread,
    )
    return LossFactor(
        estimate=estimate,
        low=low,
        high=high,
        slope_g_per_day=slope,
        slope_sd_g_per_day=slope_sd,
        residual_sd_g=_residual_sd(when, spent),
        told=_told(slope, found.own_sd_g_per_day),
    )


def _spent(days: ArrayLike, gross_g: ArrayLike, added_g: ArrayLike) -> tuple[Column, Column]:
    """Days, and grams lost since the first weighing."""
    when, gross, added = (np.asarray(one, dtype=float) for one in (days, gross_g, added_g))
    if not when.shape == gross.shape == added.shape or when.ndim != 1 or when.size < 2:
        raise ValueError("days, gross_g and added_g must be of one length, two or more")
    if not (np.isfinite([gross, added]).all() and (np.diff(when) > 0).all()):
        raise ValueError("days must rise, and weights be numbers")
    return when, np.cumsum(np.append(0.0, added[1:])) + gross[0] - gross


def _residual_sd(when: Column, spent: Column) -> float | None:
    """How far the weights lie from their straight line (least squares)."""
    if when.size < 3:
        return None
    off = when - when.mean()
    left = spent - spent.mean() - (off @ spent) / (off @ off) * off
    return float(np.sqrt(left @ left / (when.size - 2)))


def _told(slope: float, slope_sd: float) -> Told:
    if slope < -ENOUGH_SDS * slope_sd:
        return "gained weight"
    return "enough loss" if slope >= ENOUGH_SDS * slope_sd else "too little loss to tell"


def factor_of_slope(
    *,
    slope_g_per_day: float,
    slope_sd_g_per_day: float,
    model_g_per_day: float,
    prior_factor: float = PRIOR_FACTOR,
    prior_spread: float = PRIOR_SPREAD,
) -> tuple[float, float, float]:
    """5th, 50th and 95th percentile of the factor from a slope and its standard error.

    Raises:
        OutsideValidity: for a model loss, an error or a prior that is not above zero.
    """
    model = float(within("model_g_per_day", model_g_per_day, _LEAST, 1e4))
    sd = float(within("slope_sd_g_per_day", slope_sd_g_per_day, _LEAST, 1e6))
    spread = float(np.log(within("prior_spread", prior_spread, 1.001, 100.0)))
    centre = float(np.log(within("prior_factor", prior_factor, 0.01, 100.0)))
    low, middle, high = _quantiles(slope_g_per_day / model, sd / model, centre, spread)
    return low, middle, high


def _quantiles(ratio: float, ratio_sd: float, centre: float, spread: float) -> list[float]:
    """5th, 50th and 95th percentile of the factor: normal in its logarithm before, normal slope.

    Summed on a grid that is drawn twice, the second time where the first found anything.
    """
    grid = np.linspace(centre - _REACH * spread, centre + _REACH * spread, _POINTS)
    for _ in range(3):
        misfit = ((grid - centre) / spread) ** 2 + ((np.exp(grid) - ratio) / ratio_sd) ** 2
        weight = np.exp(-0.5 * (misfit - misfit.min()))
        seen = np.flatnonzero(weight > 1e-9)
        first, last = max(seen[0] - 1, 0), min(seen[-1] + 1, _POINTS - 1)
        heard, grid = grid, np.linspace(grid[first], grid[last], _POINTS)
    steps = np.append(0.0, np.cumsum(weight[1:] + weight[:-1]))
    wanted = np.array([_TAIL, 0.5, 1.0 - _TAIL]) * steps[-1]
    return [float(one) for one in np.exp(np.interp(wanted, steps, heard))]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pooled:
    """Loss factors of boxes (boxes,) of one make, each drawn towards what the others show.

    ``make_factor`` with its 90 % range is the make's own middle; two boxes in three lie within
    ``between_spread`` (a factor) of it; ``heard`` says which boxes' weighings told enough to count.
    """

    estimate: Column
    low: Column
    high: Column
    make_factor: float
    make_low: float
    make_high: float
    between_spread: float
    heard: NDArray[np.bool_]


def pooled(
    *,
    slope_g_per_day: ArrayLike,
    slope_sd_g_per_day: ArrayLike,
    model_g_per_day: ArrayLike,
    prior_factor: float = PRIOR_FACTOR,
    prior_spread: float = PRIOR_SPREAD,
) -> Pooled:
    """Factors with 90 % ranges from the slopes of ``loss_factor`` (boxes,), shared over a make.

    Logarithms of factors are normal about the make's middle, itself normal, and the spread between
    boxes is half-normal; half of the prior's variance goes to each, which is ours. A box without
    enough loss of its own gets what the make shows, with the whole spread between boxes. Sums over
    the spread on a grid, exact given the spread; ranges from the first two moments. Source: the
    usual normal hierarchy (Gelman and others, "Bayesian data analysis", chapter 5, from memory).

    Raises:
        ValueError: for arrays of different lengths.
        OutsideValidity: for a model loss or a standard error that is not above zero.
    """
    slope, sd, model = (
        np.atleast_1d(np.asarray(one, dtype=float))
        for one in (slope_g_per_day, slope_sd_g_per_day, model_g_per_day)
    )
    if not slope.shape == sd.shape == model.shape or slope.ndim != 1:
        raise ValueError("slopes, their errors and the model's losses must be of one length")
    within("slope_sd_g_per_day", sd, _LEAST, 1e6)
    within("model_g_per_day", model, _LEAST, 1e4)
    heard = slope >= ENOUGH_SDS * sd
    spread = float(np.log(within("prior_spread", prior_spread, 1.001, 100.0)))
    off, precision = _as_logarithm(slope / model / prior_factor, sd / model / prior_factor, spread)
    share = spread * 0.5**0.5
    mean, var, make, make_var, between = _shrunken(off, precision, share)
    middle = np.log(prior_factor) + np.append(mean, make)
    ends = Z_90 * np.sqrt(np.append(var, make_var))
    at, low, high = np.exp(middle), np.exp(middle - ends), np.exp(middle + ends)
    return Pooled(
        estimate=at[:-1],
        low=low[:-1],
        high=high[:-1],
        make_factor=float(at[-1]),
        make_low=float(low[-1]),
        make_high=float(high[-1]),
        between_spread=float(np.exp(between)),
        heard=heard,
    )


def _as_logarithm(ratio: Column, ratio_sd: Column, spread: float) -> tuple[Column, Column]:
    """What each slope says of its factor's logarithm, as a normal: its place and its precision.

    A clear slope says its own logarithm. A faint or negative one still says "not much", which
    leaving it out would lose, so it is taken from what it does to the prior of a single box.
    """
    clear = ratio > _CLEAR_SDS * ratio_sd
    grid = np.linspace(-_REACH * spread, _REACH * spread, _POINTS)[:, None]
    misfit = (grid / spread) ** 2 + ((np.exp(grid) - ratio) / ratio_sd) ** 2
    odds = np.exp(-0.5 * (misfit - misfit.min(axis=0)))
    odds /= odds.sum(axis=0)
    mean = (odds * grid).sum(axis=0)
    after = 1.0 / np.maximum((odds * (grid - mean) ** 2).sum(axis=0), 1e-12)
    faint = np.maximum(after - spread**-2, 1e-9 * after)
    steep = np.where(clear, ratio, ratio_sd)
    precision = np.where(clear, (steep / ratio_sd) ** 2, faint)
    return np.where(clear, np.log(steep), mean * after / precision), precision


def _shrunken(
    off: Column, precision: Column, share: float
) -> tuple[Column, Column, float, float, float]:
    """Means and variances of the boxes and of the make, and the mean spread between boxes."""
    between = np.linspace(0.0, 4.0 * share, 401)[:, None]
    told = 1.0 / (1.0 + between**2 * precision)
    weight = precision * told
    make_var = 1.0 / (share**-2 + weight.sum(axis=1))
    pull = (weight * off).sum(axis=1)
    make = make_var * pull
    log_odds = np.log(told).sum(axis=1) + np.log(make_var) + pull * make
    log_odds -= (weight * off**2).sum(axis=1) + (between[:, 0] / share) ** 2
    odds = np.exp(0.5 * (log_odds - log_odds.max()))
    odds /= odds.sum()
    means = (1.0 - told) * off + told * make[:, None]
    variances = between**2 * told + told**2 * make_var[:, None]
    mean, middle = odds @ means, float(odds @ make)
    var = odds @ (variances + (means - mean) ** 2)
    middle_var = float(odds @ (make_var + (make - middle) ** 2))
    return mean, var, middle, middle_var, float(odds @ between[:, 0])
