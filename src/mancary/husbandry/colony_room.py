"""Room for more: how full a box is, when it is outgrown, and which spare box would do.

Fullness is grams of animals on usable floor; the limits were fitted roughly to one published set
(Cubaris murina on bare floor) and are otherwise ours, see ``docs/science/growth.md``.
"""

from collections.abc import Iterable
from typing import Final

import numpy as np
from msgspec import Struct

from mancary.husbandry.box_sketch import sketched
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Box
from mancary.science.stage_paths import Paths

WARN_G_M2: Final = 50.0
OUTGROWN_G_M2: Final = 100.0
FLOOR_M2: Final = 0.03
"""Ours: the floor of a box of which no size was told, some 20 by 15 cm."""
_LARGER, _TOO_LARGE = 1.5, 4.0
"""Ours: a step up is to one and a half to four times the floor, or the gradient is lost."""
STARTER_LITRES: Final = (1.5, 3.0)
STARTER_ANIMALS: Final = (8, 12)
STARTER_SAID: Final = tell(
    "A starter of 8-12 animals does best in 1.5-3 L (common practice): in a large"
    " first box they meet seldom, the damp end is lost in it, food spoils unseen,"
    " and they seem gone for months."
)

_VAGUE: Final = 4.0
"""Ours: a low end so many times below the warning tells that nobody knows."""


class Outgrown(Struct, frozen=True, kw_only=True):
    """Weeks from now until the box is outgrown, a 90 % range; None where it is later than told.

    ``chance`` is that it is outgrown within ``weeks`` at all, ``g_m2`` how full it is now (5, 50
    and 95 %): grams of animals on a m² of usable floor.
    """

    weeks: int
    chance: float
    soonest: float | None
    middle: float | None
    latest: float | None
    g_m2: tuple[float, float, float]


class Spare(Struct, frozen=True, kw_only=True):
    """A spare box of the keeper's that would do, and for what."""

    box: str
    litres: float | None
    times_the_floor: float
    said: str


class Room(Struct, frozen=True, kw_only=True):
    """How full, when outgrown, what to do, and into which spare box; floor in m²."""

    floor_m2: float
    floor_said: str
    full: Outgrown
    advice: tuple[str, ...]
    spares: tuple[Spare, ...]


def floor_of(box: Box) -> tuple[float, str]:
    """The floor of a box in m², and what it rests on."""
    made = sketched(box)
    if made is None:
        return FLOOR_M2, tell("a floor of 20 by 15 cm, assumed: no size is told")
    area = made.length_m * made.width_m
    told = box.length_cm and box.width_cm
    basis = tell("as told") if told else tell("from its litres, sides assumed")
    return area, tell("a floor of %(area).0f cm² (%(basis)s)", area=area * 1e4, basis=basis)


def outgrown(paths: Paths, usable_m2: float) -> Outgrown:
    """When the runs pass ``OUTGROWN_G_M2``."""
    full = paths.biomass_g / usable_m2
    over = full >= OUTGROWN_G_M2
    ever = over.any(axis=0)
    first = np.where(ever, over.argmax(axis=0), np.inf)
    low, mid, high = (_told(np.quantile(first, q, method="lower")) for q in (0.05, 0.5, 0.95))
    now = np.quantile(full[0], (0.05, 0.5, 0.95))
    return Outgrown(
        weeks=len(full) - 1,
        chance=float(ever.mean()),
        soonest=low,
        middle=mid,
        latest=high,
        g_m2=(float(now[0]), float(now[1]), float(now[2])),
    )


def _told(weeks: float) -> float | None:
    return float(weeks) if np.isfinite(weeks) else None


def room_of(box: Box, paths: Paths, structure: float, spares: Iterable[Box], *, starter: bool,
            mid: float) -> Room:  # fmt: skip
    """What is to be done for more room; ``mid`` is the middle of the number of animals now."""
    floor, said = floor_of(box)
    full = outgrown(paths, floor * structure)
    ranked = sorted(
        (one for one in (_spare(floor, spare) for spare in spares) if one is not None),
        key=lambda one: abs(one.times_the_floor - 2.0),
    )
    return Room(
        floor_m2=floor,
        floor_said=said,
        full=full,
        advice=tuple(_advice(box, full, ranked, starter=starter, mid=mid)),
        spares=tuple(ranked) if full.g_m2[1] >= WARN_G_M2 and not _is_vague(full) else (),
    )


def _is_vague(full: Outgrown) -> bool:
    """Whether nobody knows if it is getting full or nearly empty."""
    low, middle, _ = full.g_m2
    return middle >= WARN_G_M2 and low < WARN_G_M2 / _VAGUE


def _spare(floor: float, spare: Box) -> Spare | None:
    if not spare.is_spare or spare.quarantine:
        return None
    told = sketched(spare)
    if told is None:
        return None
    times = told.length_m * told.width_m / floor
    if times > _TOO_LARGE:
        return None
    said = tell("a step up") if times >= _LARGER else tell("a split: two colonies, two chances")
    if times < 1 / _TOO_LARGE:
        return None
    return Spare(box=spare.code, litres=spare.litres, times_the_floor=times, said=said)


def _advice(
    box: Box, full: Outgrown, spares: list[Spare], *, starter: bool, mid: float
) -> list[str]:
    low, middle, high = full.g_m2
    told = []
    if starter and box.litres and box.litres > STARTER_LITRES[1] * 1.2:
        told.append(
            tell(
                "%(litres)g L is large for a starter. %(starter_said)s",
                box,
                starter_said=STARTER_SAID,
            )
        )
    if low >= OUTGROWN_G_M2:
        told.append(tell("Outgrown now: thin, split or step up."))
    elif _is_vague(full):
        told.append(
            tell(
                "It may be getting full or be nearly empty (%(low).0f to %(high).0f g on each"
                " m²): a full count would tell. Nothing is thinned or moved on a guess.",
                low=low,
                high=high,
            )
        )
        return told
    elif middle >= WARN_G_M2:
        told.append(tell("Getting full: plan to thin, split or step up."))
    elif full.soonest is not None:
        told.append(tell("Room enough for now."))
    else:
        told.append(tell("Room enough for as long as was looked ahead."))
    if middle >= WARN_G_M2:
        told.append(
            tell(
                "Thin where the line has a backup and others want some; split where it has"
                " none; step up where all are to stay. Move them with some of their own"
                " substrate."
            )
        )
        if not spares:
            told.append(tell("No spare box of a fitting size is in the book."))
    if middle >= WARN_G_M2 and mid >= 2 * STARTER_ANIMALS[1]:
        told.append(tell("A split takes a mixed group of 20 or more, big females on both sides."))
    return told
