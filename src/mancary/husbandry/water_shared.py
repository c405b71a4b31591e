"""What boxes of one make share of the factor between what is lost and what the vents explain."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from mancary.husbandry.facts import Vent
from mancary.husbandry.states import Box
from mancary.science.weighing import pooled

_SILENT_SD: Final = 1e3
"""Times the model's loss: the error of a slope that was not weighed, as good as endless."""

Make = tuple[str, tuple[Vent, ...]]
"""The words for a make, made plain, and the vents; boxes told alike in both are of one make."""


@dataclass(frozen=True, slots=True)
class Taught:
    """What a box brings: its loss with a normal error, None where unweighed, and its model's.

    All in grams a day; ``model`` is above zero.
    """

    rate: float | None
    rate_sd: float | None
    model: float


@dataclass(frozen=True, slots=True)
class Shared:
    """What a box gets: its factor, the make's own, each low, middle and high (nine of ten).

    ``others`` is how many other boxes tell enough to be heard, ``own_tells`` whether this one does.
    """

    factor: tuple[float, float, float]
    make: tuple[float, float, float]
    others: int
    own_tells: bool
    words: str


def make_of(box: Box) -> Make | None:
    """The make of a box; None where its words or its vents are not told.

    Words are compared without case, accents, signs and gaps; rows of vents in any order.
    """
    words = plain_make(box.make)
    if not words or not box.vents:
        return None
    rows = sorted(box.vents, key=lambda one: (one.make, one.place, one.mesh, _size(one), one.count))
    return words, tuple(rows)


def _size(row: Vent) -> float:
    return row.size_mm if row.size_mm is not None else -1.0


def plain_make(words: str) -> str:
    """The words without case, accents, signs and gaps: "Fern  box, 3 L" is "fernbox3l"."""
    apart = unicodedata.normalize("NFKD", words).casefold()
    return "".join(letter for letter in apart if letter.isalnum())


def shared_among(boxes: Mapping[str, Taught], words: str) -> dict[str, Shared]:
    """What each box of a make gets from all of them; empty where nobody else has anything to say.

    Each is drawn towards the make by as much as its own weighings are unsure; one that was not
    weighed gets the make's factor with the spread between boxes (``science.weighing.pooled``).
    """
    if len(boxes) < 2 or not any(one.rate is not None for one in boxes.values()):
        return {}
    told = pooled(
        slope_g_per_day=[one.rate or 0.0 for one in boxes.values()],
        slope_sd_g_per_day=[one.rate_sd or _SILENT_SD * one.model for one in boxes.values()],
        model_g_per_day=[one.model for one in boxes.values()],
    )
    heard, make = int(told.heard.sum()), (told.make_low, told.make_factor, told.make_high)
    columns = zip(boxes, told.low, told.estimate, told.high, told.heard, strict=True)
    return {
        box: Shared(
            factor=(float(low), float(middle), float(high)),
            make=make,
            others=heard - bool(own),
            own_tells=bool(own),
            words=words,
        )
        for box, low, middle, high, own in columns
        if heard > bool(own)
    }
