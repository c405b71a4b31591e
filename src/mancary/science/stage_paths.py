"""What a colony begins with, and the runs that came of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mancary.science.stage_rates import Counts
from mancary.science.validity import Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Founders:
    """A starter group as it arrives: unsexed unless the females among the adults were counted.

    Numbers are those of all runs, or (runs,), one for each.
    """

    adults: int | Counts
    half_grown: int | Counts = 0
    mancas: int | Counts = 0
    adult_females: int | Counts | None = None

    def __post_init__(self) -> None:
        if min(np.min(one) for one in (self.adults, self.half_grown, self.mancas)) < 0:
            raise ValueError("founders are not negative")
        females = self.adult_females
        if females is not None and not np.all((females >= 0) & (females <= self.adults)):
            raise ValueError("the females must be among the adults")


@dataclass(frozen=True, slots=True, kw_only=True)
class Paths:
    """Many runs of a colony. Row 0 of the weeks is the start; all arrays but the last two are
    (weeks + 1, runs). ``grown`` is juveniles and adults, ``young`` the mancas; unborn ones are in
    neither. ``first_young_week`` (runs,) is NaN where none came; ``stages`` (19, runs) is the end.
    """

    grown: NDArray[np.int32]
    young: NDArray[np.int32]
    biomass_g: NDArray[np.float32]
    first_young_week: Floats
    stages: Counts


def without_young(paths: Paths, week: int) -> NDArray[np.bool_]:
    """Which runs (runs,) let no young go up to and with this week.

    What a box in which none were seen yet may still be: young are let go before they are seen.
    """
    return np.isnan(paths.first_young_week) | (paths.first_young_week > week)


def following(parts: Sequence[Paths]) -> Paths:
    """Paths one after the other as one: each begins where the one before it ended or was thinned.

    The week two parts share is told as the later one has it.
    """
    first, week = parts[0].first_young_week, len(parts[0].grown) - 1
    for one in parts[1:]:
        first = np.where(np.isnan(first), week + one.first_young_week, first)
        week += len(one.grown) - 1

    def told(name: str) -> NDArray[Any]:
        *most, last = [np.asarray(getattr(one, name)) for one in parts]
        return np.concatenate([*(rows[:-1] for rows in most), last])

    return Paths(
        grown=told("grown"), young=told("young"), biomass_g=told("biomass_g"),
        first_young_week=first, stages=parts[-1].stages,
    )  # fmt: skip
