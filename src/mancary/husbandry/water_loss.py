"""How fast a box loses water, told from its own weighings."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from mancary.husbandry.water_booked import Between, Ledger, Weight
from mancary.husbandry.water_state import Explained
from mancary.science.weighing import loss_factor

SCALE_SD_G: Final = 0.6
"""Grams: spread of one weighing on a kitchen scale that shows whole grams (ours)."""

NINETY: Final = 1.645
"""Normal deviates on either side that hold 90 %."""

AIR_VARIES: Final = 0.25
"""Ours: so much may the next days' air differ from the last ones', as a share of the loss. Five
points of room humidity are 10 % of it and one kelvin is 10 % more; 90 % of both lie within this."""

LEARN_DAYS: Final = 90.0
"""Ours: weighings further back than this were made in another season's air."""

_SHORT_DAYS: Final = 0.5
_SUDDEN_G: Final = 10.0
_SUDDEN_TIMES: Final = 4.0
"""Ours: a fall this much faster than the others, and by this many grams more, is asked about."""

_GAIN_G: Final = 3 * math.sqrt(2) * SCALE_SD_G
"""Grams gained without a cause that three spreads of two weighings do not explain."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Two weighings that follow each other: days between them, grams lost, and how unsure."""

    first: Weight
    second: Weight
    between: Between

    @property
    def days(self) -> float:
        return self.second.at - self.first.at

    @property
    def lost_low(self) -> float:
        return self._lost(self.between.water_low + self.between.solids_low)

    @property
    def lost_high(self) -> float:
        return self._lost(self.between.water_high + self.between.solids_high)

    @property
    def lost(self) -> float:
        return (self.lost_low + self.lost_high) / 2

    def _lost(self, added: float) -> float:
        return self.first.gross_g + added - self.second.gross_g


@dataclass(frozen=True, slots=True)
class Loss:
    """Grams a day, as a range that holds nine boxes of ten, and what it rests on.

    ``tellable`` is False where so little was lost that the scale cannot tell it from nothing.
    ``gone`` holds the cumulated (days, grams) of the stretches it was learnt from.
    """

    low: float
    middle: float
    high: float
    days: float
    stretches: int
    tellable: bool
    gone: tuple[tuple[float, float], ...]
    chains: int
    booked_unsure: float
    air_varies: float


Factor = tuple[float, float, float]
"""Low, middle and high of a factor (nine boxes of ten)."""

Rate = tuple[float, float, float]
"""Grams a day: low, middle, high; the high one above 0."""


def rate_of(learnt: Loss | None, explained: Explained | None, factor: Factor | None) -> Rate | None:
    """What the box loses: by its weighings, by its vents, or by both where both are known.

    ``factor`` is what ``factor_of`` tells of these two, None where it has nothing to tell.
    """
    if learnt is None:
        usable = explained is not None and explained.high > 0
        return (explained.low, explained.middle, explained.high) if explained and usable else None
    if explained is None or factor is None:
        return learnt.low, learnt.middle, learnt.high
    low, middle, high = (one * explained.middle for one in factor)
    return low * (1 - learnt.air_varies), middle, high * (1 + learnt.air_varies)


def factor_of(learnt: Loss | None, explained: Explained | None) -> Factor | None:
    """How many times what the vents explain is lost, None where one of the two is not known."""
    if learnt is None or explained is None or explained.middle <= 0:
        return None
    days, lost = zip(*learnt.gone, strict=True)
    booked_sd = learnt.booked_unsure * learnt.days / (NINETY * math.sqrt(2))
    found = loss_factor(
        days=days,
        gross_g=[lost[-1] - one for one in lost],
        added_g=[0.0] * len(lost),
        model_g_per_day=explained.middle,
        scale_sd_g=math.hypot(SCALE_SD_G * math.sqrt(learnt.chains), booked_sd),
    )
    return found.low, found.estimate, found.high


def stretches_of(ledger: Ledger) -> tuple[Stretch, ...]:
    """Every two weighings that follow each other, with what was booked between them."""
    weights, between = ledger.weights, ledger.between
    return tuple(
        Stretch(first, second, booked)
        for (first, second), booked in zip(pairwise(weights), between, strict=False)
    )


def asked(ledger: Ledger) -> dict[int, str]:
    """Places of the stretches whose weight jumps without a cause in the book, with a question."""
    told = {n: one for n, one in enumerate(stretches_of(ledger)) if one.between.is_booked}
    usual = [one for one in told.values() if _is_usual(one)]
    days, lost = sum(one.days for one in usual), sum(one.lost for one in usual)
    found = {}
    for place, one in told.items():
        own_days, own_lost = (one.days, one.lost) if _is_usual(one) else (0.0, 0.0)
        others = len(usual) - _is_usual(one)
        if one.lost_high < -_GAIN_G:
            found[place] = _gained(one)
        elif others >= 2 and _is_sudden(one, (lost - own_lost) / (days - own_days)):
            found[place] = _fell(one)
    return found


def _is_usual(one: Stretch) -> bool:
    return one.days >= 1 and one.lost > 0


def _gained(one: Stretch) -> str:
    return (
        f"On {one.second.happened[:10]} it weighed {-one.lost_high:.0f} g more than the"
        " book explains: was water poured or something put in that is not written down?"
    )


def _fell(one: Stretch) -> str:
    return (
        f"By {one.second.happened[:10]} it had lost {one.lost:.0f} g in {one.days:.0f} days,"
        " far more than before: was something taken out or spilt, did the lid stand open,"
        " or is a number mistyped?"
    )


def _is_sudden(one: Stretch, rate_of_others: float) -> bool:
    usual = rate_of_others * max(one.days, 1.0)
    return one.lost_low > max(usual * _SUDDEN_TIMES, usual + _SUDDEN_G)


def loss_of(ledger: Ledger) -> Loss | None:
    """Grams a day from the weighings of the last months; None where no two can be compared."""
    jumps = asked(ledger)
    told = [one for n, one in enumerate(stretches_of(ledger)) if _teaches(one) and n not in jumps]
    newest = ledger.weights[-1].at if ledger.weights else 0.0
    told = [one for one in told if newest - one.second.at <= LEARN_DAYS]
    if not told:
        return None
    days = sum(one.days for one in told)
    rate = sum(one.lost for one in told) / days
    scale_sd = SCALE_SD_G * math.sqrt(2 * _runs(told)) / days
    booked = sum(one.lost_high - one.lost_low for one in told) / 2 / days
    hours = NINETY * math.hypot(*(sd for one in told for sd in _hours_unsure(one))) / days
    share = min(0.9, math.hypot(AIR_VARIES, hours))
    unsure = NINETY * scale_sd + booked
    return Loss(
        low=max(0.0, rate * (1 - share) - unsure),
        middle=max(0.0, rate),
        high=max(0.0, rate) * (1 + share) + unsure,
        days=days,
        stretches=len(told),
        tellable=rate > 2 * scale_sd + booked,
        gone=_cumulated(told),
        chains=_runs(told),
        booked_unsure=booked,
        air_varies=share,
    )


def _teaches(one: Stretch) -> bool:
    return one.between.is_booked and one.days >= _SHORT_DAYS


def _hours_unsure(one: Stretch) -> tuple[float, float]:
    return one.first.at_sd, one.second.at_sd


def _runs(told: list[Stretch]) -> int:
    """So many chains of stretches: within one, the error of a middle weighing cancels."""
    return 1 + sum(one.second is not two.first for one, two in pairwise(told))


def _cumulated(told: list[Stretch]) -> tuple[tuple[float, float], ...]:
    days = grams = 0.0
    found = [(0.0, 0.0)]
    for one in told:
        days, grams = days + one.days, grams + one.lost
        found.append((days, grams))
    return tuple(found)
