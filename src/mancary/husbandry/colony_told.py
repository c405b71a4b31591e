"""How a colony goes, told: its size now and to come, the first young, how slow, and a warmer shelf.

All ranges are 90 % of the model's runs; what the model is and how weak its rates are is in
``docs/science/growth.md``.
"""

from datetime import date, timedelta
from typing import Final

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from mancary.handbook.growth import Archetype
from mancary.husbandry.colony_growth import Runs, ahead, first_young
from mancary.husbandry.colony_past import Past
from mancary.husbandry.sentences import capital, tell
from mancary.husbandry.shelf_climate import percent
from mancary.husbandry.watch_reasons import chance_said
from mancary.husbandry.watch_rows import Size, has_young
from mancary.science.belief_model import BeliefModel
from mancary.science.stage_paths import Paths

MONTH_WEEKS: Final = {0: 0, 3: 13, 6: 26, 12: 52, 18: 78}
WARMER_C: Final = 3.0
LEVELS: Final = (0.05, 0.5, 0.95)
_SLOWEST_TENTH: Final = 0.1
_YEAR_WEEKS: Final = 52


class Coming(Struct, frozen=True, kw_only=True):
    """Juveniles and adults in so many months, on a day."""

    months: int
    on: date
    animals: Size


class FirstYoung(Struct, frozen=True, kw_only=True):
    """When the first young are expected; ``none_share`` of the runs had none in the time told."""

    soonest: date | None
    middle: date | None
    latest: date | None
    none_share: float
    said: str


class Warmer(Struct, frozen=True, kw_only=True):
    """What a shelf so many degrees warmer would change in twelve months."""

    degrees: float
    temp_c: float
    animals: Size
    said: str


def coming(paths: Paths, on: date) -> tuple[Coming, ...]:
    """Sizes as the runs have them, now and to come."""
    return tuple(
        Coming(months=months, on=on + timedelta(weeks=weeks), animals=range_of(paths.grown[weeks]))
        for months, weeks in MONTH_WEEKS.items()
        if weeks < len(paths.grown)
    )


def range_of(animals: NDArray[np.int32]) -> Size:
    """The middle and the 90 % range of runs."""
    low, mid, high = np.quantile(animals, LEVELS)
    return Size(low=round(low), mid=round(mid), high=round(high))


def young_expected(
    past: Past, archetype: Archetype, runs: Runs, paths: Paths, *, on: date, temp_c: float,
    floor_m2: float,
) -> FirstYoung | None:  # fmt: skip
    """When the first young may be seen; None where some were seen, or the founders are not known.

    From runs that had none so far, where there are such.
    """
    if past.founders is None or past.joined or has_young(past):
        return None
    week = past.week_of(on)
    if runs.first_young_week is None:
        weeks = first_young(past, archetype, temp_c=temp_c, floor_m2=floor_m2)
    else:
        # those without any so far get them where the runs ahead first have mancas
        later = np.where(
            (paths.young > 0).any(axis=0), week + (paths.young > 0).argmax(axis=0), np.nan
        )
        weeks = np.where(np.isnan(runs.first_young_week), later, runs.first_young_week)
    some = weeks[np.isfinite(weeks)]
    none = 1.0 - len(some) / len(weeks)
    if not len(some):
        return FirstYoung(
            soonest=None, middle=None, latest=None, none_share=1.0,
            said=tell(
                "None expected within the time looked ahead: too cold or too hot, or no pair."
            ),
        )  # fmt: skip
    days = [past.since + timedelta(weeks=float(q)) for q in np.quantile(some, LEVELS)]
    return FirstYoung(
        soonest=days[0], middle=days[1], latest=days[2], none_share=none,
        said=_young_said(days, none, on),
    )  # fmt: skip


def _young_said(days: list[date], none: float, on: date) -> str:
    first = tell(
        "First young expected between %(days)s and %(days2)s, middle %(days3)s",
        days=days[0],
        days2=days[2],
        days3=days[1],
    )
    if days[2] < on:
        first = tell("First young were expected by %(days)s: overdue, or hidden", days=days[2])
    elif days[0] < on:
        first = tell(
            "First young may be there unseen; expected by %(days)s, middle %(days2)s",
            days=days[2],
            days2=days[1],
        )
    least = (
        tell("; none in %(none)s of the runs, all of one sex or too few", none=percent(none))
        if none >= 0.02
        else ""
    )
    return first + least + "."


def too_slow(runs: Runs, past: Past) -> tuple[float | None, str]:
    """The chance that it has fewer than nine in ten runs from the same founders at its warmth."""
    if runs.model_now is None:
        why = (
            tell("it began too long ago for runs from its founders")
            if past.founders
            else tell("the number of its founders is not in the book")
        )
        return None, tell("Cannot be told: %(why)s.", why=why)
    bar = float(np.quantile(runs.model_now, _SLOWEST_TENTH))
    now = runs.stages[2:].sum(axis=0)
    chance = float(np.mean(now < bar))
    return chance, (
        tell(
            "%(chance)s that it has fewer than %(bar).0f, which nine in ten runs from its"
            " founders have by now.",
            chance=capital(chance_said(chance)),
            bar=bar,
        )
    )


def warmer(
    runs: Runs, model: BeliefModel, paths: Paths, *, temp_c: float, floor_m2: float,
    kept: tuple[float, str] | None,
) -> Warmer | None:  # fmt: skip
    """The year ahead on a shelf three degrees warmer, the same runs; None where none is told.

    ``kept`` is the highest °C its species is kept at, and the words for that.
    """
    temp = temp_c + WARMER_C
    if temp > 40:
        return None
    there = ahead(runs, model, temp_c=temp, floor_m2=floor_m2, weeks=len(paths.grown) - 1)
    here, then = range_of(paths.grown[_YEAR_WEEKS]), range_of(there.grown[_YEAR_WEEKS])
    words = tell("there would be as many")
    if then.mid != here.mid:
        more = then.mid > here.mid
        words = tell("there would be more") if more else tell("there would be fewer")
    mind = tell("Mind the species' own range, and")
    if kept is not None and temp > kept[0]:
        mind = tell(
            "But do not: %(temp)g °C is above what it is kept at, %(kept)s. Mind as well",
            temp=temp,
            kept=kept[1],
        )
    return Warmer(
        degrees=WARMER_C,
        temp_c=temp,
        animals=then,
        said=(
            tell(
                "At %(temp)g °C all the time %(words)s in a year: %(mid)s (%(low)s-%(high)s)"
                " instead of %(mid2)s (%(low2)s-%(high2)s). %(mind)s that warmth dries: any"
                " heater on a thermostat, on the side, never below.",
                then,
                temp=temp,
                words=words,
                mid2=here.mid,
                low2=here.low,
                high2=here.high,
                mind=mind,
            )
        ),
    )
