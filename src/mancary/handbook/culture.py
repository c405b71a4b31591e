"""A springtail culture: how fast it grows at a temperature, and what share may go each week."""

import math
from typing import Final

from msgspec import Struct

from mancary.handbook.growth import Known, springtail_figures
from mancary.handbook.shelf import group_of
from mancary.handbook.words import Kind

SPECIES: Final = "folsomia-candida"
DAYS_A_WEEK: Final = 7
SPARED: Final = 0.5
"""Ours: at most half of what growth bears is planned to go, as with colonies of woodlice."""


class CultureGrowth(Struct, frozen=True, kw_only=True):
    """Growth of ln N a day as a range; ``weekly_share`` (0..1) may go each week.

    ``bearable_share`` is what the most likely growth would bear in theory. No crowding is in it.
    """

    r_low: float
    r_mode: float
    r_high: float
    bearable_share: float
    weekly_share: float
    kind: Kind
    basis: str

    @property
    def doubling_days(self) -> tuple[float, float]:
        """Soonest and latest; infinite where it need not grow at all."""
        return _doubling(self.r_high), _doubling(self.r_low)


def _doubling(rate: float) -> float:
    return math.log(2) / rate if rate > 0 else math.inf


def culture_growth(
    temp_c: float, *, species: str | None = SPECIES, seldom_fed: bool = False
) -> CultureGrowth:
    """How a culture grows at a mean temperature, fed when the food is gone or only seldom.

    ``species`` None is a springtail without a page here: by analogy.

    Growth rises straight from the threshold to 20 °C, stays to 25 °C and falls straight to none at
    28 °C: the points are published (through a database), the lines between them ours.

    Raises:
        UnknownPage: when there is no such species.
        ValueError: for a species that is not a springtail, or a temperature that is no number.
    """
    if species is not None and group_of(species) != "springtails":
        raise ValueError(f"{species} is not a springtail")
    if not math.isfinite(temp_c):
        raise ValueError("the temperature must be a number")
    known = springtail_figures()
    rate = known["r_seldom_fed" if seldom_fed else "r_per_day"]
    low, mode, high = (end * pace for end, pace in zip(_ends(rate), _paces(temp_c), strict=True))
    bearable = 1.0 - math.exp(-DAYS_A_WEEK * mode)
    planned = known["planned_weekly_share"].mode
    return CultureGrowth(
        r_low=low,
        r_mode=mode,
        r_high=high,
        bearable_share=bearable,
        weekly_share=min(planned, SPARED * bearable),
        kind="published" if _as_measured(temp_c, species) else "ours",
        basis=_basis(rate, species, temp_c),
    )


def _ends(known: Known) -> tuple[float, float, float]:
    return known.low, known.mode, known.high


def _paces(temp_c: float) -> tuple[float, float, float]:
    """Speed against the best, slowest first: the threshold is known to a degree."""
    known = springtail_figures()
    start, end = known["best_from_c"].mode, known["best_to_c"].mode
    last = known["hatches_to_c"].mode
    falling = min(1.0, max(0.0, (last - temp_c) / (last - end)))
    slow, middle, fast = (
        min(falling, max(0.0, min(1.0, (temp_c - zero) / (start - zero))))
        for zero in reversed(_ends(known["threshold_c"]))
    )
    return slow, middle, fast


def first_taking_days(temp_c: float) -> tuple[float, float]:
    """Days from a starter until its own young lay: soonest and latest, infinite where too cold.

    Hatching at 20 °C takes 9 days and the first eggs some weeks more (through a database); both
    are stretched by the speed at ``temp_c``, ours.
    """
    known = springtail_figures()
    slow, _, fast = _paces(temp_c)
    hatch, eggs = known["hatching_days"], known["first_eggs_days"]
    soonest, latest = hatch.low + eggs.low, hatch.high + eggs.high
    return (
        soonest / fast if fast > 0 else math.inf,
        latest / slow if slow > 0 else math.inf,
    )


def _as_measured(temp_c: float, species: str | None) -> bool:
    known = springtail_figures()
    return species == SPECIES and known["best_from_c"].mode <= temp_c <= known["best_to_c"].mode


def _basis(rate: Known, species: str | None, temp_c: float) -> str:
    said = rate.source
    if not _as_measured(temp_c, SPECIES):
        said += " Carried to this temperature by straight lines, ours."
    if species != SPECIES:
        said += " By analogy with Folsomia candida; nothing was looked up for this species."
    return said
