"""The weights a keeper marked as just right and too dry, as they hold for the box of today."""

import math
from dataclasses import dataclass, replace
from typing import Final

from mancary.husbandry.box_sketch import sketched
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Box
from mancary.husbandry.water_booked import Ledger, Weight
from mancary.husbandry.water_days import Range
from mancary.husbandry.water_loss import NINETY, SCALE_SD_G

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

MOST_TIMES: Final = 5.0
"""Ours: two marks further apart than so many times the most that is assumed of such a box are more
likely a slip of the pen than its damp end."""

TWO_WEIGHTS_G: Final = NINETY * math.sqrt(2) * SCALE_SD_G
"""A reserve is the difference of two weights, and so errs by both their errors."""

Grams = tuple[float, float]
"""A range of grams, low and high."""


@dataclass(frozen=True, slots=True)
class Marks:
    """Just right and too dry as weights of today's box, (low, high) grams each.

    ``full`` is the reserve between the two (low, middle, high, with the scale's error), ``least``
    and ``most`` its ends without that error: only what was put in between the two marks makes it
    unsure. ``above`` and ``lacks`` are the newest weight's grams over too dry and short of just
    right. ``dry`` is the weight marked too dry, ``assumed`` where it is none or ``unfit`` for a
    reserve.
    """

    just_right: Grams
    low_mark: Grams
    full: Range
    least: float
    most: float
    above: Grams
    lacks: Grams
    assumed: bool
    told: Weight
    dry: Weight | None
    unfit: str


def marks_of(ledger: Ledger, box: Box) -> Marks | None:
    """The marks that still hold: made since the floor or the animals last changed."""
    since = max((n for n, one in enumerate(ledger.between) if one.breaks), default=-1) + 1
    right, dry = _newest(ledger, since, "just_right"), _newest(ledger, since, "too_dry")
    if right is None:
        return None
    unfit = "" if dry is None else _unfit(ledger, right, dry, box)
    if dry is not None and not unfit:
        return _marked(ledger, right, dry)
    return _assumed(ledger, right, box, None if dry is None else ledger.weights[dry], unfit)


def _marked(ledger: Ledger, right: int, dry: int) -> Marks:
    least, most = _apart(ledger, right, dry)
    newest = ledger.weights[-1].gross_g
    return Marks(
        just_right=_as_of_today(ledger, right),
        low_mark=_as_of_today(ledger, dry),
        full=_with_error(least, most),
        least=least,
        most=most,
        above=_lacking(ledger, dry, newest, above=True),
        lacks=_lacking(ledger, right, newest, above=False),
        assumed=False,
        told=ledger.weights[right],
        dry=ledger.weights[dry],
        unfit="",
    )


def _assumed(ledger: Ledger, right: int, box: Box, dry: Weight | None, unfit: str) -> Marks:
    least, most = assumed_reserve(box)
    just_right = _as_of_today(ledger, right)
    lacks = _lacking(ledger, right, ledger.weights[-1].gross_g, above=False)
    middle = (least + most - sum(lacks)) / 2
    off = math.hypot(most - least, lacks[1] - lacks[0]) / 2
    return Marks(
        just_right=just_right,
        low_mark=(just_right[0] - most, just_right[1] - least),
        full=_with_error(least, most),
        least=least,
        most=most,
        above=(middle - off, middle + off),
        lacks=lacks,
        assumed=True,
        told=ledger.weights[right],
        dry=dry,
        unfit=unfit,
    )


def _unfit(ledger: Ledger, right: int, dry: int, box: Box) -> str:
    """Why a reserve cannot be the difference of two marks, or nothing."""
    least, most = _apart(ledger, right, dry)
    if most <= 0:
        return "contradict"
    if least + most <= 0:
        return "unsure"
    return tell("far apart") if least > MOST_TIMES * assumed_reserve(box)[1] else ""


def _apart(ledger: Ledger, right: int, dry: int) -> Grams:
    """Just right less too dry; what came into the box between the two marks is in only one."""
    first, second = sorted((right, dry))
    shift = _shift(ledger, first, second)
    grams = ledger.weights[right].gross_g - ledger.weights[dry].gross_g
    if right < dry:
        return grams + shift[0], grams + shift[1]
    return grams - shift[1], grams - shift[0]


def _lacking(ledger: Ledger, place: int, newest_g: float, *, above: bool) -> Grams:
    """The newest weight's grams above a mark, or short of it."""
    shift = _shift(ledger, place, len(ledger.weights) - 1)
    over = newest_g - ledger.weights[place].gross_g
    return (over - shift[1], over - shift[0]) if above else (shift[0] - over, shift[1] - over)


def _with_error(least: float, most: float) -> Range:
    off = math.hypot((most - least) / 2, TWO_WEIGHTS_G)
    return (least + most) / 2 - off, (least + most) / 2, (least + most) / 2 + off


def _newest(ledger: Ledger, since: int, mark: str) -> int | None:
    found = [n for n, one in enumerate(ledger.weights) if n >= since and one.mark == mark]
    return found[-1] if found else None


def _shift(ledger: Ledger, first: int, second: int | None = None) -> Grams:
    """What of the solids put in between two weighings shifts the weight of a wetness."""
    between = ledger.between[first:second]
    return sum(one.lasting_low for one in between), sum(one.lasting_high for one in between)


def _as_of_today(ledger: Ledger, place: int) -> Grams:
    shift, grams = _shift(ledger, place), ledger.weights[place].gross_g
    return grams + shift[0], grams + shift[1]


def assumed_reserve(box: Box) -> Grams:
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


def reserve_presets(box: Box) -> tuple[str, ...]:
    """What nobody told of a box and ``assumed_reserve`` takes in its place, in words."""
    told = []
    if sketched(box) is None:
        told.append(tell("a box of %(litres)g L, its size not told", litres=_LITRES))
    elif not (box.length_cm and box.width_cm):
        told.append(tell("the usual sides of a box of %(litres)g L", box))
    if box.damp_share is None:
        told.append(tell("half of the floor damp"))
    if box.litter_cm is None:
        told.append(
            tell(
                "%(litter_cm)g-%(litter_cm2)g cm of litter",
                litter_cm=_LITTER_CM[0],
                litter_cm2=_LITTER_CM[1],
            )
        )
    return tuple(told)
