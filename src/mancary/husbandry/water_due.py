"""When the scale says that a box is to be wetted again, and with how much."""

from datetime import date
from typing import Final

from msgspec import Struct

from mancary.husbandry.water_state import BoxWater, grams

_NOTHING_ML: Final = 1.0
"""Ours: less than a millilitre is not worth the pouring."""


class MistDue(Struct, frozen=True, kw_only=True):
    """A misting by the scale.

    It is due when the low estimate of the reserve is used, better not after its middle is.
    ``amount_ml`` is the middle of what to pour on this visit, 0 for a box that is wet enough;
    ``every_days`` how long a full reserve lasts.
    """

    due: date
    latest: date
    amount_ml: float
    said: str
    why: str
    every_days: float


def mist_of(water: BoxWater) -> MistDue | None:
    """The misting that the weighings of a box call for.

    None where the rhythm has to serve: no weight marked just right, no loss told by two weighings,
    or water given since the last weighing without its amount.
    """
    if water.used is None or water.used_latest is None or water.pour_ml is None:
        return None
    if water.loss_over_days == 0 or water.reserve_g is None or water.lasts_days is None:
        return None
    mark = "an assumed low mark" if water.low_mark_is_assumed else "its too dry mark"
    return MistDue(
        due=water.used,
        latest=water.used_latest,
        amount_ml=_amount(water),
        said=_said(water),
        why=f"by the scale: {grams(water.reserve_g)} g above {mark}",
        every_days=water.lasts_days,
    )


def _amount(water: BoxWater) -> float:
    low, high = water.pour_ml or (0.0, 0.0)
    if water.too_wet_g or high < _NOTHING_ML:
        return 0.0
    middle = (low + high) / 2
    return float(round(middle)) if middle >= _NOTHING_ML else round(middle, 1)


def _said(water: BoxWater) -> str:
    if water.too_wet_g:
        return f"pour nothing: too wet by {grams(water.too_wet_g)} g"
    if water.pour_ml is None or water.pour_ml[1] < _NOTHING_ML:
        return "pour nothing: just right"
    return f"{grams(water.pour_ml)} mL"
