"""What is known of the water of one box, as numbers with their ranges."""

import datetime as dt
from dataclasses import dataclass
from typing import Final

from msgspec import Struct

from mancary.husbandry.moments import Moment

LEAST_ML: Final = 1.0
"""Ours: less than a millilitre is not worth the pouring."""


class BoxWater(Struct, frozen=True, kw_only=True):
    """All that the weighings of one box tell about its water on the evening of a day.

    Weights in grams, pours in mL, losses in grams a day, each a range (low, high) that holds nine
    boxes of ten as far as the basis goes; None where it cannot be told. ``low_mark`` is the weight
    marked as too dry, or one assumed from damp share and litter (``low_mark_is_assumed``).
    ``days_open_ended``: the high days lie beyond eight weeks and are not counted further.
    ``factor``: how many times what the vents explain is lost. ``used`` is the day on which the low
    estimate of the reserve is used, ``used_latest`` the day for its middle. ``full_days`` is how
    long the reserve lasts from just right on, ``lasts_days`` its middle estimate; up to 56 days.
    ``just_right_g`` is the weight as it was marked, ``right_now_g`` what just right weighs today;
    ``full_g`` are the grams from it down to the low mark, ``full_middle_g`` their middle: no more
    is ever poured at once. ``pour_ml`` is held to that (``pour_is_held`` where more is missing),
    ``pour_middle_ml`` its middle. ``loss_from`` to ``loss_to`` are the days of the weighings that
    tell the loss; ``out_of_date`` where the last weighing lies too far back to tell of today.
    ``has_run_dry``: it was reckoned dry before it was last wetted, and not weighed since.
    ``has_jumped``: a weight of the last weeks is asked about. ``make_boxes`` is how many other
    boxes of its make have a say in the factor, ``make_factor`` what the make tells with
    ``make_factor_range``, ``make_words`` how the make is called.
    """

    box: str
    on: dt.date
    weighings: int
    newest_g: float | None = None
    newest_on: Moment | None = None
    newest_mark: str = ""
    just_right_g: float | None = None
    just_right_on: Moment | None = None
    right_now_g: tuple[float, float] | None = None
    low_mark_g: tuple[float, float] | None = None
    low_mark_is_assumed: bool = False
    full_g: tuple[float, float] | None = None
    full_middle_g: float | None = None
    loss_g_per_day: tuple[float, float] | None = None
    loss_middle_g_per_day: float | None = None
    loss_over_days: float = 0.0
    loss_from: dt.date | None = None
    loss_to: dt.date | None = None
    loss_can_be_told: bool = False
    out_of_date: bool = False
    weight_now_g: tuple[float, float] | None = None
    reserve_g: tuple[float, float] | None = None
    days: tuple[float, float] | None = None
    days_open_ended: bool = False
    pour_ml: tuple[float, float] | None = None
    pour_middle_ml: float | None = None
    pour_is_held: bool = False
    too_wet_g: tuple[float, float] | None = None
    model_g_per_day: tuple[float, float] | None = None
    factor: float | None = None
    factor_range: tuple[float, float] | None = None
    has_jumped: bool = False
    has_run_dry: bool = False
    make_boxes: int = 0
    make_words: str = ""
    make_factor: float | None = None
    make_factor_range: tuple[float, float] | None = None
    used: dt.date | None = None
    used_latest: dt.date | None = None
    full_days: tuple[float, float] | None = None
    lasts_days: float | None = None
    said: tuple[str, ...] = ()
    basis: tuple[str, ...] = ()
    questions: tuple[str, ...] = ()

    @property
    def loss_can_be_used(self) -> bool:
        """Whether weighings tell the loss: its own, or those of other boxes of its make."""
        by_make = self.make_boxes > 0 and self.factor is not None and not self.out_of_date
        return self.loss_can_be_told or by_make


@dataclass(frozen=True, slots=True)
class Explained:
    """What the vents of the box explain: grams a day, and what was assumed for it, in words."""

    low: float
    middle: float
    high: float
    assumed: tuple[str, ...]


def whole(both: tuple[float, float]) -> str:
    """A range of weights or pours, which scale and cup tell in whole grams and millilitres."""
    low, high = (round(max(0.0, one)) for one in both)
    return f"{low}" if low == high else f"{low}-{high}"


def weight_said(gross_g: float) -> str:
    """A weight in grams with no more decimals than a kitchen scale has."""
    return f"{round(gross_g, 1):g}"


def pour_middle(water: BoxWater) -> int:
    """The whole mL to pour this evening by the middle estimate; 0 for less than can be poured."""
    if water.pour_middle_ml is None or water.too_wet_g:
        return 0
    return round(water.pour_middle_ml) if water.pour_middle_ml >= LEAST_ML else 0


def grams(both: tuple[float, float]) -> str:
    """A range without idle decimals: "9-14", "0.4-1.1", or one number where both are the same."""
    low, high = (f"{one:.0f}" if abs(one) >= 10 else f"{one:.2g}" for one in both)
    low, high = ("0" if float(one) == 0 else one for one in (low, high))
    return low if low == high else f"{low}-{high}"
