"""How a box stands on an evening: what is left of its reserve, and what may be poured.

The scale saw it last at a weighing. What was poured since is added and what it loses taken off, but
never further than down to the low mark: what is lost below it nobody knows, and a pour reckoned
from it would drown the box.
"""

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from mancary.husbandry.water_booked import EVENING, Ledger
from mancary.husbandry.water_days import Range, lasting
from mancary.husbandry.water_loss import SCALE_SD_G, Rate
from mancary.husbandry.water_marks import TWO_WEIGHTS_G, Grams, Marks

MOST_DAYS: Final = 56.0
"""Ours: further ahead than eight weeks nobody's air is known; it is said as "more than"."""

_LONG_AGO_DAYS: Final = 365.0
_LATE_AT_MOST: Final = timedelta(days=14)
_WHOLE_G: Final = 0.5


@dataclass(frozen=True, slots=True)
class _Stood:
    """Grams above the low mark and short of just right at a moment (days since 1970)."""

    at: float
    above: Grams
    lacks: Grams
    has_run_dry: bool = False


def from_full(marks: Marks, loss: Rate) -> dict[str, object]:
    """How long the reserve lasts once the box is poured back to just right."""
    least, middle, most = lasting(marks.full, _usable(loss))
    return {
        "full_days": (min(least, MOST_DAYS), min(most, MOST_DAYS)),
        "lasts_days": min(max(1.0, middle), MOST_DAYS),
    }


def now(ledger: Ledger, marks: Marks | None, loss: Rate, on: date) -> dict[str, object]:
    """The figures of ``BoxWater`` that hold for one evening."""
    if marks is None:
        return {"weight_now_g": _weight(ledger, loss, ledger.evening(on))}
    stood = _stood(ledger, marks, loss)
    elapsed = max(0.0, ledger.evening(on) - stood.at)
    left = _days_left(stood, marks, loss, elapsed)
    days = tuple(max(0.0, one) for one in left)
    lacks = stood.lacks[0] + loss[0] * elapsed, stood.lacks[1] + loss[2] * elapsed
    told: dict[str, object] = {
        "weight_now_g": _held_weight(ledger, marks, stood, loss, on),
        "reserve_g": _reserve(stood, marks, loss, elapsed),
        "days": (min(days[0], MOST_DAYS), min(days[2], MOST_DAYS)),
        "days_open_ended": days[2] > MOST_DAYS,
        "has_run_dry": stood.has_run_dry,
        **_pour(marks, stood, lacks),
    }
    if lacks[1] < -2 * SCALE_SD_G:
        told["too_wet_g"] = -lacks[1], -lacks[0]
    return told | _used(left, on)


def _stood(ledger: Ledger, marks: Marks, loss: Rate) -> _Stood:
    """The box when it was last weighed, or last wetted after its reserve had been used up.

    Nothing is known of how far below the low mark it had gone by then: it is taken to be there.
    """
    told = _Stood(ledger.weights[-1].at, marks.above, marks.lacks)
    floor = min(0.0, _middle(marks.above))
    for when, low, high in ledger.between[-1].steps:
        elapsed = max(0.0, when - told.at)
        if _middle(told.above) - loss[1] * elapsed < floor - TWO_WEIGHTS_G:
            top = max(floor, told.above[1] - loss[0] * elapsed)
            full = marks.full[1]
            told = _Stood(
                told.at + elapsed, (floor, top), (full - top, full - floor), has_run_dry=True
            )
        told = _Stood(
            told.at,
            (told.above[0] + low, told.above[1] + high),
            (told.lacks[0] - high, told.lacks[1] - low),
            told.has_run_dry,
        )
    return told


def _pour(marks: Marks, stood: _Stood, lacks: Grams) -> dict[str, object]:
    """What brings it back to just right, but never more than the reserve between the marks.

    What is only reckoned is held to the middle of the reserve; what the scale itself saw missing
    may be poured as far as the reserve may reach at most.
    """
    most = max(0.0, marks.full[1], min(_middle(stood.lacks), marks.most))
    low, high = (max(0.0, one) for one in lacks)
    return {
        "pour_ml": (min(low, most), min(high, most)),
        "pour_middle_ml": min((low + high) / 2, most),
        "pour_is_held": (low + high) / 2 > most + _WHOLE_G,
    }


def _weight(ledger: Ledger, loss: Rate, evening: float) -> Grams:
    newest, since = ledger.weights[-1], ledger.between[-1]
    elapsed = max(0.0, evening - newest.at)
    low = newest.gross_g + since.water_low + since.solids_low
    high = newest.gross_g + since.water_high + since.solids_high
    return low - loss[2] * elapsed, high - loss[0] * elapsed


def _held_weight(ledger: Ledger, marks: Marks, stood: _Stood, loss: Rate, on: date) -> Grams:
    """What it weighs, no less than at its low mark or when it was last weighed below that."""
    evening = ledger.evening(on)
    if stood.has_run_dry:
        elapsed = max(0.0, evening - stood.at)
        right = _middle(marks.just_right)
        weight = (
            right - stood.lacks[1] - loss[2] * elapsed,
            right - stood.lacks[0] - loss[0] * elapsed,
        )
    else:
        weight = _weight(ledger, loss, evening)
    least = min(marks.low_mark[0], ledger.weights[-1].gross_g)
    return max(least, weight[0]), max(least, weight[1])


def _above(stood: _Stood) -> Range:
    """The grams above the low mark; what was booked as ranges errs together."""
    middle, half = _middle(stood.above), (stood.above[1] - stood.above[0]) / 2
    off = math.hypot(half, TWO_WEIGHTS_G)
    return middle - off, middle, middle + off


def _is_over(stood: _Stood, marks: Marks, loss: Rate, elapsed: float) -> bool:
    """Whether it is still wetter than just right; only what is below that counts as reserve."""
    return _middle(stood.above) - loss[1] * elapsed > marks.full[1]


def _reserve(stood: _Stood, marks: Marks, loss: Rate, elapsed: float) -> Grams:
    over = _is_over(stood, marks, loss, elapsed)
    low, middle, high = marks.full if over else _above(stood)
    gone = 0.0 if over else elapsed
    left = middle - loss[1] * gone
    least = left - math.hypot(middle - low, (loss[2] - loss[1]) * gone)
    most = left + math.hypot(high - middle, (loss[1] - loss[0]) * gone)
    whole = max(0.0, marks.most)
    return min(whole, max(0.0, least)), min(whole, max(0.0, most))


def _days_left(stood: _Stood, marks: Marks, loss: Rate, elapsed: float) -> Range:
    """Days from this evening until the reserve is used; below 0 where it has been."""
    if _is_over(stood, marks, loss, elapsed):
        return lasting(marks.full, _usable(loss))
    low, middle, high = lasting(_above(stood), _usable(loss))
    return low - elapsed, middle - elapsed, high - elapsed


def _used(left: Range, on: date) -> dict[str, object]:
    """The days on which the reserve is used: a day of its own, the same whenever it is asked."""
    used, latest = (on + _whole_days(days + EVENING) for days in left[:2])
    return {
        "used": used,
        "used_latest": min(max(latest, used + timedelta(days=1)), used + _LATE_AT_MOST),
    }


def _whole_days(days: float) -> timedelta:
    return timedelta(days=math.floor(max(-_LONG_AGO_DAYS, min(days, MOST_DAYS))))


def _usable(loss: Rate) -> Rate:
    return loss[0], max(loss[1], 1e-9), loss[2]


def _middle(both: Grams) -> float:
    return (both[0] + both[1]) / 2
