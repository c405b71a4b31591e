"""How fast a box loses water, told from its own weighings."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Final

from mancary.husbandry.sentences import tell
from mancary.husbandry.water_booked import Between, Ledger, Weight
from mancary.husbandry.water_shared import Shared
from mancary.husbandry.water_state import Explained
from mancary.science.weighing import factor_of_slope
from mancary.science.weighing_rate import stretch_rate

SCALE_SD_G: Final = 0.6
"""Grams: spread of one weighing on a kitchen scale that shows whole grams (ours)."""

NINETY: Final = 1.645
"""Normal deviates on either side that hold 90 %."""

AIR_VARIES: Final = 0.25
"""Ours: so much may the next days' air differ from the last ones', as a share of the loss. Five
points of room humidity are 10 % of it and one kelvin is 10 % more; 90 % of both lie within this."""

_AIR_SD: Final = 0.165
"""Ours: standard deviation of one stretch's loss against the mean, held until they tell better; by
simulation nine ranges of ten hold whether 25 % is nine stretches of ten or two of three."""

_MOST_SHARE: Final = 0.9

LEARN_DAYS: Final = 90
"""Ours: weighings further back than this were made in another season's air."""

_SHORT_DAYS: Final = 0.5
_SUDDEN_G: Final = 10.0
_SUDDEN_TIMES: Final = 4.0
"""Ours: a fall this much faster than the others, and by this many grams more, is asked about."""

_GAIN_G: Final = 3 * math.sqrt(2) * SCALE_SD_G
"""Grams gained without a cause that three spreads of two weighings do not explain."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Two weighings that follow each other: days between them, grams lost, and how unsure.

    ``pace`` is that of the ledger: what the model lost in those days, as a share of today's.
    """

    first: Weight
    second: Weight
    between: Between
    pace: float | None = 1.0

    @property
    def days(self) -> float:
        return self.second.at - self.first.at

    @property
    def days_of_today(self) -> float:
        """So many days of today's vents and air the model takes to lose as much."""
        return self.days * (self.pace if self.pace is not None else 1.0)

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
    """Grams a day of the days to come, as a range that holds nine boxes of ten; what it rests on.

    ``rate`` is the loss of the days weighed, brought to the vents and the air of today where the
    model tells both, with ``rate_sd``, a normal error that has grown where the stretches disagree.
    The weighings were made from ``since`` to ``until``. ``tellable`` is False where so little was
    lost that the scale cannot tell it from nothing. ``air_varies`` is the share by which the days
    to come may differ.
    """

    low: float
    middle: float
    high: float
    days: float
    stretches: int
    since: date
    until: date
    tellable: bool
    rate: float
    rate_sd: float
    air_varies: float


Factor = tuple[float, float, float]
"""Low, middle and high of a factor (nine boxes of ten)."""

Rate = tuple[float, float, float]
"""Grams a day: low, middle, high; the high one above 0."""


def rate_of(learnt: Loss | None, explained: Explained | None, factor: Factor | None) -> Rate | None:
    """What the box loses: by its weighings, by its vents, or by both where both are known.

    ``factor`` is what ``factor_of`` tells of these two, None where it has nothing to tell.
    """
    if explained is None or factor is None:
        if learnt is not None:
            return learnt.low, learnt.middle, learnt.high
        usable = explained is not None and explained.high > 0
        return (explained.low, explained.middle, explained.high) if explained and usable else None
    low, middle, high = factor
    air = learnt.air_varies if learnt else AIR_VARIES
    least, most = math.hypot(1 - low / middle, air), math.hypot(high / middle - 1, air)
    about = middle * explained.middle
    return about * max(0.0, 1 - least), about, about * (1 + most)


def factor_of(
    learnt: Loss | None, explained: Explained | None, shared: Shared | None = None
) -> Factor | None:
    """How many times what the vents explain is lost, None where one of the two is not known.

    Boxes of its make that tell theirs have a say in it, and alone where it tells nothing itself.
    """
    if explained is None or explained.middle <= 0:
        return None
    if shared is not None:
        return shared.factor
    if learnt is None:
        return None
    return factor_of_slope(
        slope_g_per_day=learnt.rate,
        slope_sd_g_per_day=learnt.rate_sd,
        model_g_per_day=explained.middle,
    )


def stretches_of(ledger: Ledger) -> tuple[Stretch, ...]:
    """Every two weighings that follow each other, with what was booked between them."""
    pairs = list(pairwise(ledger.weights))
    paces = ledger.paces or (1.0,) * len(pairs)
    return tuple(
        Stretch(first, second, booked, pace)
        for (first, second), booked, pace in zip(pairs, ledger.between, paces, strict=False)
    )


def asked(ledger: Ledger) -> dict[int, str]:
    """Places of the stretches whose weight jumps without a cause in the book, with a question."""
    told = {n: one for n, one in enumerate(stretches_of(ledger)) if one.between.is_booked}
    usual = [one for one in told.values() if _is_usual(one)]
    days, lost = sum(one.days_of_today for one in usual), sum(one.lost for one in usual)
    found = {}
    for place, one in told.items():
        own_days, own_lost = (one.days_of_today, one.lost) if _is_usual(one) else (0.0, 0.0)
        others = len(usual) - _is_usual(one)
        if one.lost_high < -_GAIN_G:
            found[place] = _gained(one)
        elif others >= 2 and _is_sudden(one, (lost - own_lost) / (days - own_days)):
            found[place] = _fell(one)
    return found


def _is_usual(one: Stretch) -> bool:
    return one.days >= 1 and one.lost > 0 and one.pace is not None


def _gained(one: Stretch) -> str:
    return tell(
        "On %(day)s it weighed %(lost_high).0f g more than the book explains: was"
        " water poured or something put in that is not written down?",
        day=one.second.day,
        lost_high=-one.lost_high,
    )


def _fell(one: Stretch) -> str:
    return tell(
        "By %(day)s it had lost %(lost).0f g in %(days)s, far more than before: was"
        " something taken out or spilt, did the lid stand open, or is a number"
        " mistyped?",
        one,
        day=one.second.day,
        days=_days(one.days),
    )


def _days(days: float) -> str:
    return (
        tell("less than a day")
        if days < 1
        else tell("1 day")
        if round(days) == 1
        else tell("%(days).0f days", days=days)
    )


def _is_sudden(one: Stretch, rate_of_others: float) -> bool:
    if one.pace is None:
        return False
    usual = rate_of_others * max(one.days_of_today, one.pace)
    return one.lost_low > max(usual * _SUDDEN_TIMES, usual + _SUDDEN_G)


@dataclass(frozen=True, slots=True)
class Learnt:
    """What weighings teach by a day: the loss where they tell one, and the jumps of ``asked``."""

    loss: Loss | None
    jumps: dict[int, str]


def learnt_of(ledger: Ledger, *, on: date | None = None) -> Learnt:
    """What the weighings of the months before ``on`` teach; left out, of the newest weighing."""
    jumps = asked(ledger)
    return Learnt(_loss_of(ledger, jumps, on), jumps)


def loss_of(ledger: Ledger, *, on: date | None = None) -> Loss | None:
    """Grams a day from the weighings of the months before ``on``; None where no two tell it."""
    return learnt_of(ledger, on=on).loss


def _loss_of(ledger: Ledger, jumps: Mapping[int, str], on: date | None) -> Loss | None:
    told = [one for n, one in enumerate(stretches_of(ledger)) if _teaches(one) and n not in jumps]
    newest = ledger.weights[-1].day if ledger.weights else date.min
    told = [one for one in told if is_lately(one.second.day, on or newest)]
    if not told:
        return None
    days = sum(one.days for one in told)
    usual = max(0.0, sum(one.lost for one in told) / days)
    found = stretch_rate(
        days=[one.days_of_today for one in told],
        lost_g=[one.lost for one in told],
        first_sd_g=[_weight_sd(one.first, usual) for one in told],
        second_sd_g=[_weight_sd(one.second, usual) for one in told],
        joined=[False, *(one.second is two.first for one, two in pairwise(told))],
        booked_g=[(one.lost_high - one.lost_low) / 2 for one in told],
        air_varies=_AIR_SD,
    )
    middle = max(0.0, found.g_per_day)
    share = min(_MOST_SHARE, AIR_VARIES * max(1.0, found.strays))
    off = math.hypot(NINETY * found.sd_g_per_day, share * middle)
    return Loss(
        low=max(0.0, middle - off),
        middle=middle,
        high=middle + off,
        days=days,
        stretches=len(told),
        since=told[0].first.day,
        until=told[-1].second.day,
        tellable=found.g_per_day > 2 * found.own_sd_g_per_day,
        rate=found.g_per_day,
        rate_sd=found.sd_g_per_day,
        air_varies=share,
    )


def _weight_sd(one: Weight, usual_g_per_day: float) -> float:
    """The error of a weight in grams, that of its hour in it."""
    return math.hypot(SCALE_SD_G, usual_g_per_day * one.at_sd)


def _teaches(one: Stretch) -> bool:
    return one.between.is_booked and one.days >= _SHORT_DAYS and bool(one.pace)


def is_lately(day: date, on: date) -> bool:
    """Whether a weighing of a day still tells of the air of another."""
    return (on - day).days <= LEARN_DAYS
