"""What each number of a box's water rests on, in a keeper's words."""

from collections.abc import Iterator
from typing import Final

from mancary.husbandry.sentences import in_a_row, tell
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
        tell(
            "A scale that shows whole grams is right to %(scale_sd_g)g g (ours); the days"
            " to come may differ from those weighed by %(air_varies)s (ours).",
            scale_sd_g=SCALE_SD_G,
            air_varies=f"{AIR_VARIES:.0%}",
        )
    )
    if water.loss_over_days:
        yield (
            tell(
                "The loss rests on your weighings over %(loss_over_days).0f days, from"
                " %(loss_from)s to %(loss_to)s; older than %(learn_days)s days they do not"
                " count (ours).",
                water,
                learn_days=LEARN_DAYS,
            )
        )
        yield tell(
            "Litter that rots away looks like water too, up to %(rot_g_per_day)g g a day (ours).",
            rot_g_per_day=ROT_G_PER_DAY,
        )
    yield from _paces_said(water, ledger)
    if marks and marks.assumed:
        yield _assumed_said(box, marks)
    if water.make_boxes and water.make_factor is not None and water.make_factor_range:
        low, high = water.make_factor_range
        yield (
            tell(
                "Boxes of the make %(make_words)s with the same vents lose %(make_factor).1f"
                " times what these explain (%(low).1f-%(high).1f), by the weighings of"
                " %(make_boxes)s others; boxes in one air may err alike (ours).",
                water,
                low=low,
                high=high,
            )
        )
    if explained:
        yield (
            tell(
                "Its vents explain %(what)s g a day (a model, not tried on real boxes).",
                what=grams((explained.low, explained.high)),
            )
        )
        if explained.assumed:
            yield tell("Assumed for that: %(all)s.", all=in_a_row("; ", explained.assumed))
    told = dict.fromkeys(words for one in ledger.between for words in one.assumed)
    if told:
        yield tell("Booked (ours): %(all)s.", all=in_a_row("; ", told))
    lost = dict.fromkeys(
        words for one in ledger.between[:-1] for words in (*one.unknown, *one.breaks)
    )
    if lost:
        yield tell(
            "Days not used for the loss: %(all)s.", all=in_a_row("; ", list(lost)[-_LAST_TOLD:])
        )


def _paces_said(water: BoxWater, ledger: Ledger) -> Iterator[str]:
    """How weighings under other vents or in another air were dealt with."""
    told = [one for one in stretches_of(ledger) if is_lately(one.second.day, water.on)]
    if any(one.pace is None for one in told) and ledger.changed:
        yield (
            tell(
                "Its vents, litter or shelf were told anew on %(changed)s: weighings from"
                " before, and the days between two that the change parts, do not teach its"
                " loss where no model can compare them.",
                changed=ledger.changed[-1],
            )
        )
    if any(one.pace and abs(one.pace - 1) > _SAME_PACE for one in told):
        yield (
            tell(
                "Each stretch of weighings is set against what its vents explained in its own"
                " days, by the vents and the shelf's air told for them; what it loses is told"
                " for today's."
            )
        )


def _assumed_said(box: Box, marks: Marks) -> str:
    moss = (
        tell("moss is not told and not counted")
        if box.moss_share is None
        else tell(
            "moss on %(moss_share)s of the floor at %(moss_mm)g-%(moss_mm2)g mm, ours",
            moss_share=f"{box.moss_share:.0%}",
            moss_mm=MOSS_MM[0],
            moss_mm2=MOSS_MM[1],
        )
    )
    return tell(
        "%(marks)s: the low mark is assumed %(least).0f-%(most).0f g below just right,"
        " from damp share, floor and litter (ours, after the 5-15 mL a small box"
        " takes, common practice; %(all)s).",
        marks,
        marks=_why_assumed(marks),
        all=in_a_row("; ", (*reserve_presets(box), moss)),
    )


def _why_assumed(marks: Marks) -> str:
    if marks.dry is None:
        return tell("No weight is marked as too dry")
    why = {
        "contradict": tell("is not below just right"),
        "unsure": tell("and just right lie less apart than what was put in between them is unsure"),
        "far apart": tell("is further below just right than a box of its size can dry out"),
    }[marks.unfit]
    return tell("The weight marked as too dry on %(day)s %(why)s", day=marks.dry.day, why=why)
