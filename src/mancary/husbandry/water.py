"""The water of one box on a day: how much is left above its low mark, for how long, what to pour.

A scale tells how much was lost, never how much is left in the box. The reserve is counted from the
weight the keeper marked as just right down to the one he marked as too dry.
"""

import math
from datetime import date, timedelta
from typing import Final

from msgspec.structs import replace

from mancary.husbandry.states import Box
from mancary.husbandry.water_booked import Between, Ledger, day_number
from mancary.husbandry.water_days import Range, lasting
from mancary.husbandry.water_loss import (
    NINETY,
    SCALE_SD_G,
    Factor,
    Loss,
    Rate,
    factor_of,
    loss_of,
    rate_of,
)
from mancary.husbandry.water_marks import Marks, marks_of
from mancary.husbandry.water_said import basis_said, jumps_of, questions_of, said_of
from mancary.husbandry.water_shared import Shared
from mancary.husbandry.water_state import BoxWater, Explained

MOST_DAYS: Final = 56.0
"""Ours: further ahead than eight weeks nobody's air is known; it is said as "more than"."""

_EVENING: Final = 0.75
"""The round is walked in the evening: so much of its day is over by then."""

_LONG_AGO_DAYS: Final = 365.0
_LATE_AT_MOST: Final = timedelta(days=14)


def water_of_box(
    ledger: Ledger,
    box: Box,
    *,
    on: date,
    explained: Explained | None = None,
    shared: Shared | None = None,
) -> BoxWater:
    """The water of a box on the evening of ``on``, from its weighings up to then.

    ``explained`` is the loss its vents explain; where no weighings tell a loss it is taken in
    their place, and where they do the factor between them is told. ``shared`` is what the boxes of
    its make teach about that factor, where any do.
    """
    if not ledger.weights:
        return _told(BoxWater(box=box.code, on=on, weighings=0), ledger, box, explained)
    learnt = loss_of(ledger)
    factor = factor_of(learnt, explained, shared)
    loss = rate_of(learnt, explained, factor)
    marks = marks_of(ledger, box)
    newest = ledger.weights[-1]
    known: dict[str, object] = {
        "newest_g": newest.gross_g,
        "newest_on": newest.happened,
        "newest_mark": newest.mark,
        "has_jumped": any(True for _ in jumps_of(ledger)),
        "loss_over_days": learnt.days if learnt else 0.0,
        "loss_can_be_told": bool(learnt and learnt.tellable),
        **_model_told(factor, learnt, explained, shared),
    }
    if loss:
        known |= {"loss_g_per_day": (loss[0], loss[2]), "loss_middle_g_per_day": loss[1]}
    if marks:
        known |= {
            "just_right_g": marks.told.gross_g,
            "just_right_on": marks.told.happened,
            "low_mark_g": marks.low_mark,
            "low_mark_is_assumed": marks.assumed,
        }
    if loss and marks:
        known |= _from_full(marks, loss)
    if loss and ledger.between[-1].is_booked:
        known |= _now(ledger, marks, loss, on)
    water = BoxWater(box=box.code, on=on, weighings=len(ledger.weights), **known)  # type: ignore[arg-type]
    return _told(water, ledger, box, explained)


def _model_told(
    factor: Factor | None, learnt: Loss | None, explained: Explained | None, shared: Shared | None
) -> dict[str, object]:
    if explained is None:
        return {}
    told: dict[str, object] = {"model_g_per_day": (explained.low, explained.high)}
    if factor and (shared or (learnt and learnt.tellable)):
        told |= {"factor": factor[1], "factor_range": (factor[0], factor[2])}
    if shared and factor:
        told |= {
            "make_boxes": shared.others,
            "make_words": shared.words,
            "make_factor": shared.make[1],
            "make_factor_range": (shared.make[0], shared.make[2]),
        }
    return told


_TWO_WEIGHTS_G: Final = NINETY * math.sqrt(2) * SCALE_SD_G
"""A reserve is the difference of two weights, and so errs by both their errors."""


def _usable(loss: Rate) -> Rate:
    return loss[0], max(loss[1], 1e-9), loss[2]


def _from_full(marks: Marks, loss: Rate) -> dict[str, object]:
    """How long the reserve lasts once the box is poured back to just right."""
    full = _above(marks.just_right, marks.low_mark)
    least, middle, most = lasting(full, _usable(loss))
    return {
        "full_days": (min(least, MOST_DAYS), min(most, MOST_DAYS)),
        "lasts_days": min(max(1.0, middle), MOST_DAYS),
    }


def _above(weight: tuple[float, float], low_mark: tuple[float, float]) -> Range:
    """The grams between a weight and the low mark; what was booked as ranges errs together."""
    middle = _middle(weight) - _middle(low_mark)
    half = (weight[1] - weight[0] + low_mark[1] - low_mark[0]) / 2
    off = math.hypot(half, _TWO_WEIGHTS_G)
    return middle - off, middle, middle + off


def _now(ledger: Ledger, marks: Marks | None, loss: Rate, on: date) -> dict[str, object]:
    newest, since = ledger.weights[-1], ledger.between[-1]
    elapsed = max(0.0, day_number(on) + _EVENING - newest.at)
    added_low, added_high = _added(since)
    begun = newest.gross_g + added_low, newest.gross_g + added_high
    weight = begun[0] - loss[2] * elapsed, begun[1] - loss[0] * elapsed
    told: dict[str, object] = {"weight_now_g": weight}
    if marks is None:
        return told
    right = marks.just_right
    left = _days_left(begun, marks, loss, elapsed)
    days = tuple(max(0.0, one) for one in left)
    told |= {
        "reserve_g": _reserve(begun, marks, loss, elapsed),
        "days": (min(days[0], MOST_DAYS), min(days[2], MOST_DAYS)),
        "days_open_ended": days[2] > MOST_DAYS,
        "pour_ml": (max(0.0, right[0] - weight[1]), max(0.0, right[1] - weight[0])),
    }
    if weight[0] > right[1] + 2 * SCALE_SD_G:
        told["too_wet_g"] = weight[0] - right[1], weight[1] - right[0]
    return told | _used(left, on)


def _added(between: Between) -> tuple[float, float]:
    return between.water_low + between.solids_low, between.water_high + between.solids_high


def _is_over(begun: tuple[float, float], marks: Marks, loss: Rate, elapsed: float) -> bool:
    """Whether it is still wetter than just right; only what is below that counts as reserve."""
    return _middle(begun) - loss[1] * elapsed > _middle(marks.just_right)


def _reserve(
    begun: tuple[float, float], marks: Marks, loss: Rate, elapsed: float
) -> tuple[float, float]:
    over = _is_over(begun, marks, loss, elapsed)
    low, middle, high = _above(marks.just_right if over else begun, marks.low_mark)
    gone = 0.0 if over else elapsed
    most = max(0.0, marks.just_right[1] - marks.low_mark[0])
    now = middle - loss[1] * gone
    least_now = now - math.hypot(middle - low, (loss[2] - loss[1]) * gone)
    most_now = now + math.hypot(high - middle, (loss[1] - loss[0]) * gone)
    return min(most, max(0.0, least_now)), min(most, max(0.0, most_now))


def _days_left(begun: tuple[float, float], marks: Marks, loss: Rate, elapsed: float) -> Range:
    """Days from this evening until the reserve is used; below 0 where it has been."""
    if _is_over(begun, marks, loss, elapsed):
        return lasting(_above(marks.just_right, marks.low_mark), _usable(loss))
    low, middle, high = lasting(_above(begun, marks.low_mark), _usable(loss))
    return low - elapsed, middle - elapsed, high - elapsed


def _used(left: Range, on: date) -> dict[str, object]:
    """The days on which the reserve is used: a day of its own, the same whenever it is asked."""
    used, latest = (on + _whole_days(days + _EVENING) for days in left[:2])
    return {
        "used": used,
        "used_latest": min(max(latest, used + timedelta(days=1)), used + _LATE_AT_MOST),
    }


def _whole_days(days: float) -> timedelta:
    return timedelta(days=math.floor(max(-_LONG_AGO_DAYS, min(days, MOST_DAYS))))


def _middle(both: tuple[float, float]) -> float:
    return (both[0] + both[1]) / 2


def _told(water: BoxWater, ledger: Ledger, box: Box, explained: Explained | None) -> BoxWater:
    return replace(
        water,
        said=tuple(said_of(water)),
        basis=tuple(basis_said(water, ledger, box, explained)),
        questions=tuple(questions_of(water, ledger)),
    )
