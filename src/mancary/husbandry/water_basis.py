"""What each number of a box's water rests on, in a keeper's words."""

from collections.abc import Iterator
from typing import Final

from mancary.husbandry.states import Box
from mancary.husbandry.water_booked import Ledger
from mancary.husbandry.water_loss import (
    AIR_VARIES,
    LEARN_DAYS,
    SCALE_SD_G,
    is_lately,
    stretches_of,
)
from mancary.husbandry.water_marks import MOSS_MM, Marks, reserve_presets
from mancary.husbandry.water_state import BoxWater, Explained, grams

_LAST_TOLD: Final = 3

_SAME_PACE: Final = 0.02
"""Ours: a difference of the model that no keeper's scale could tell."""

ROT_G_PER_DAY: Final = 0.1
"""Ours: a large bed of leaves; what leaves it as gas the scale takes for water."""


def basis_said(
    water: BoxWater, ledger: Ledger, box: Box, explained: Explained | None, marks: Marks | None
) -> Iterator[str]:
    """What each number rests on."""
    if not water.weighings:
        return
    yield (
        f"A scale that shows whole grams is right to {SCALE_SD_G:g} g (ours); the days to come may"
        f" differ from those weighed by {AIR_VARIES:.0%} (ours)."
    )
    if water.loss_over_days:
        yield (
            f"The loss rests on your weighings over {water.loss_over_days:.0f} days, from"
            f" {water.loss_from} to {water.loss_to}; older than {LEARN_DAYS} days they do not count"
            " (ours)."
        )
        yield f"Litter that rots away looks like water too, up to {ROT_G_PER_DAY:g} g a day (ours)."
    yield from _paces_said(water, ledger)
    if marks and marks.assumed:
        yield _assumed_said(box, marks)
    if water.make_boxes and water.make_factor is not None and water.make_factor_range:
        low, high = water.make_factor_range
        yield (
            f"Boxes of the make {water.make_words} with the same vents lose"
            f" {water.make_factor:.1f} times what these explain ({low:.1f}-{high:.1f}), by the"
            f" weighings of {water.make_boxes} others; boxes in one air may err alike (ours)."
        )
    if explained:
        yield (
            f"Its vents explain {grams((explained.low, explained.high))} g a day (a model, not"
            " tried on real boxes)."
        )
        if explained.assumed:
            yield f"Assumed for that: {'; '.join(explained.assumed)}."
    told = dict.fromkeys(words for one in ledger.between for words in one.assumed)
    if told:
        yield f"Booked (ours): {'; '.join(told)}."
    lost = dict.fromkeys(
        words for one in ledger.between[:-1] for words in (*one.unknown, *one.breaks)
    )
    if lost:
        yield f"Days not used for the loss: {'; '.join(list(lost)[-_LAST_TOLD:])}."


def _paces_said(water: BoxWater, ledger: Ledger) -> Iterator[str]:
    """How weighings under other vents or in another air were dealt with."""
    told = [one for one in stretches_of(ledger) if is_lately(one.second.day, water.on)]
    if any(one.pace is None for one in told) and ledger.changed:
        yield (
            f"Its vents, litter or shelf were told anew on {ledger.changed[-1]}: weighings from"
            " before, and the days between two that the change parts, do not teach its loss where"
            " no model can compare them."
        )
    if any(one.pace and abs(one.pace - 1) > _SAME_PACE for one in told):
        yield (
            "Each stretch of weighings is set against what its vents explained in its own days, by"
            " the vents and the shelf's air told for them; what it loses is told for today's."
        )


def _assumed_said(box: Box, marks: Marks) -> str:
    moss = (
        "moss is not told and not counted"
        if box.moss_share is None
        else f"moss on {box.moss_share:.0%} of the floor at {MOSS_MM[0]:g}-{MOSS_MM[1]:g} mm, ours"
    )
    return (
        f"{_why_assumed(marks)}: the low mark is assumed {marks.least:.0f}-{marks.most:.0f} g below"
        " just right, from damp share, floor and litter (ours, after the 5-15 mL a small box takes,"
        f" common practice; {'; '.join((*reserve_presets(box), moss))})."
    )


def _why_assumed(marks: Marks) -> str:
    if marks.dry is None:
        return "No weight is marked as too dry"
    why = {
        "contradict": "is not below just right",
        "unsure": "and just right lie less apart than what was put in between them is unsure",
        "far apart": "is further below just right than a box of its size can dry out",
    }[marks.unfit]
    return f"The weight marked as too dry on {marks.dry.day} {why}"
