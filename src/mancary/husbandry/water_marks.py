"""The weights a keeper marked as just right and too dry, as they hold for the box of today."""

from dataclasses import dataclass, replace
from typing import Final

from mancary.husbandry.box_sketch import sketched
from mancary.husbandry.states import Box
from mancary.husbandry.water_booked import Ledger, Weight

FLOOR_MM: Final = (0.4, 1.2)
"""Ours: millimetres of water over the damp end between just right and too dry. It comes from the
5-15 mL a small box takes at a time (common practice, no source) on the damp half of a 3 L box."""

LITTER_MM_PER_CM: Final = (0.1, 0.3)
"""Ours: millimetres of water that a centimetre of damp litter gives up before it is dry."""

MOSS_MM: Final = (0.5, 2.5)
"""Ours: millimetres of water that moss gives up between just right and too dry, over the floor it
covers. A centimetre of it holds 1.5-7.5 mm soaked (0.01-0.03 g/cm3 dry, holding 15-25 times its
weight: from memory, no source); a third of that is taken to go."""

_LITTER_CM: Final = (0.0, 3.0)
"""Litter where its depth is not told: none to a usual layer."""

_LITRES: Final = 3.0


@dataclass(frozen=True, slots=True)
class Marks:
    """Just right and too dry as weights of today's box, (low, high) grams each."""

    just_right: tuple[float, float]
    low_mark: tuple[float, float]
    assumed: bool
    told: Weight


def marks_of(ledger: Ledger, box: Box) -> Marks | None:
    """The marks that still hold: made since the floor or the animals last changed."""
    since = max((n for n, one in enumerate(ledger.between) if one.breaks), default=-1) + 1
    right = _newest(ledger, since, "just_right")
    if right is None:
        return None
    just_right = _as_of_today(ledger, right)
    dry = _newest(ledger, since, "too_dry")
    if dry is not None:
        low_mark = _as_of_today(ledger, dry)
        if low_mark[1] < just_right[0]:
            return Marks(just_right, low_mark, assumed=False, told=ledger.weights[right])
    least, most = assumed_reserve(box)
    low_mark = just_right[0] - most, just_right[0] - least
    return Marks(just_right, low_mark, assumed=True, told=ledger.weights[right])


def _newest(ledger: Ledger, since: int, mark: str) -> int | None:
    found = [n for n, one in enumerate(ledger.weights) if n >= since and one.mark == mark]
    return found[-1] if found else None


def _as_of_today(ledger: Ledger, place: int) -> tuple[float, float]:
    after = ledger.between[place:]
    grams = ledger.weights[place].gross_g
    return (
        grams + sum(one.lasting_low for one in after),
        grams + sum(one.lasting_high for one in after),
    )


def assumed_reserve(box: Box) -> tuple[float, float]:
    """Grams between just right and too dry where the keeper has marked no weight as too dry.

    From damp share, floor, litter and moss; moss that is not told is not counted.
    """
    sketch = sketched(box) or sketched(replace(box, litres=_LITRES))
    assert sketch is not None
    floor_m2 = sketch.length_m * sketch.width_m
    damp_m2, moss_m2 = floor_m2 * sketch.damp_share, floor_m2 * (box.moss_share or 0.0)
    litter = (box.litter_cm,) * 2 if box.litter_cm is not None else _LITTER_CM
    low, high = (
        damp_m2 * (floor + cm * each) + moss_m2 * moss
        for floor, cm, each, moss in zip(FLOOR_MM, litter, LITTER_MM_PER_CM, MOSS_MM, strict=True)
    )
    return low * 1000, high * 1000
