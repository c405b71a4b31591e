"""The water of a box in a keeper's words: what is so, what it rests on, what is asked."""

from collections.abc import Iterator
from typing import Final

from mancary.husbandry.absence import is_wide
from mancary.husbandry.states import Box
from mancary.husbandry.water_booked import Ledger
from mancary.husbandry.water_loss import AIR_VARIES, SCALE_SD_G, asked, stretches_of
from mancary.husbandry.water_marks import MOSS_MM
from mancary.husbandry.water_state import (
    BoxWater,
    Explained,
    grams,
    pour_middle,
    weight_said,
    whole,
)

STAGNANT: Final = (
    "Leave the lid ajar for an hour, and look for a sour smell at the damp end (common practice)."
)
_MUCH_MORE: Final = 1.3
_MUCH_LESS: Final = 0.75
_ASKED_LATELY: Final = 3
_REMEMBERED_DAYS: Final = 30

ROT_G_PER_DAY: Final = 0.1
"""Ours: a large bed of leaves; what leaves it as gas the scale takes for water."""

MARK_DAYS: Final = 90
"""Ours: by then what rotted away may be a third of a small reserve."""


def said_of(water: BoxWater) -> Iterator[str]:
    """What the weighings tell, one sentence each."""
    if not water.weighings:
        yield "Not weighed yet."
        return
    yield from _loss(water)
    yield from _factor(water)
    if water.too_wet_g:
        over = whole(water.too_wet_g)
        yield f"Too wet: {over} g above just right. Pour nothing. {STAGNANT}"
    elif water.newest_mark == "too_wet" and water.just_right_g is None:
        yield f"It was marked too wet when last weighed. {STAGNANT}"
    elif water.pour_ml and not pour_middle(water):
        yield "Just right, as far as the scale can tell. Pour nothing this evening."
    elif water.pour_ml:
        yield (
            f"Pour {pour_middle(water)} mL this evening ({whole(water.pour_ml)} by the scale and"
            " what it has lost since): then it weighs what was just right."
        )
        if _is_much(water):
            yield "That is more than the whole reserve: pour half, and look the next day."
    yield from _reserve(water)


def _is_much(water: BoxWater) -> bool:
    if water.pour_ml is None or water.low_mark_g is None or water.just_right_g is None:
        return False
    return sum(water.pour_ml) / 2 > water.just_right_g - water.low_mark_g[0]


def _loss(water: BoxWater) -> Iterator[str]:
    if water.loss_g_per_day is None:
        yield "What it loses is not known yet: weigh it again in some days, each pour noted in mL."
    elif water.loss_over_days == 0 and water.make_boxes:
        told = grams(water.loss_g_per_day)
        yield f"By the boxes of its make it loses {told} g a day; it must be weighed again to tell."
    elif water.loss_over_days == 0:
        explained = grams(water.loss_g_per_day)
        yield f"Its vents explain {explained} g a day; no two weighings can be compared yet."
    elif not water.loss_can_be_told:
        most = f"{water.loss_g_per_day[1]:.2g}"
        yield f"Too little was lost for the scale to tell: less than {most} g a day."
    else:
        yield f"It loses {grams(water.loss_g_per_day)} g a day."


def _factor(water: BoxWater) -> Iterator[str]:
    if water.factor is None or water.factor_range is None:
        return
    low, high = water.factor_range
    times = f"{water.factor:.1f} times what its vents explain ({low:.1f}-{high:.1f})"
    if water.make_boxes:
        boxes = f"{water.make_boxes} box{'es' if water.make_boxes > 1 else ''} of the same make"
        if not water.loss_can_be_told:
            told = f"{water.factor:.1f} times what its vents explain, {low:.1f}-{high:.1f}"
            yield f"From {boxes}: {told}; its own weighings do not tell yet."
            return
        yield f"Shared with {boxes}: what they lose has a say in the next figure."
    if water.factor >= _MUCH_MORE:
        yield f"Your box loses {times}: lid seam, draught or fan?"
    elif water.factor <= _MUCH_LESS:
        yield f"Your box loses {times}: are vents covered or clogged, or is the floor dry already?"
    else:
        yield f"Your box loses {times}: about as much as they explain."


def _reserve(water: BoxWater) -> Iterator[str]:
    if water.reserve_g is None or water.days is None:
        return
    mark = "the assumed low mark" if water.low_mark_is_assumed else "the weight marked too dry"
    if water.reserve_g[1] <= 0:
        yield f"Too dry: no longer above {mark}."
        yield from _full(water, "")
        return
    spell = _spell(water.days, open_ended=water.days_open_ended)
    yield f"{whole(water.reserve_g)} g above {mark}: {spell}."
    yield from _full(water, spell)


def _full(water: BoxWater, spell: str) -> Iterator[str]:
    """How long a full reserve lasts, where that is not what was just said."""
    if water.full_days is None:
        return
    if full_said(water.full_days) != spell:
        yield f"From just right on a full reserve lasts {full_said(water.full_days)}."
    if is_wide(*water.full_days):
        yield "That is too uncertain to plan by: weigh it again in a week or two."


_FAR_DAYS: Final = 56.0
"""Eight weeks, beyond which no day is told (see ``water``)."""


def full_said(days: tuple[float, float]) -> str:
    """How long a full reserve lasts, in words; days up to eight weeks."""
    return _spell(days, open_ended=days[1] >= _FAR_DAYS)


def _spell(days: tuple[float, float], *, open_ended: bool) -> str:
    low, high = (round(day) for day in days)
    far = f"more than {_FAR_DAYS / 7:.0f} weeks"
    least = "less than a day" if low == 0 else "1 day" if low == 1 else f"{low} days"
    if open_ended:
        return far if low >= _FAR_DAYS else f"{least} to {far}"
    if low == high:
        return least
    return f"{least} to {high} day{'' if high == 1 else 's'}" if low == 0 else f"{low}-{high} days"


def basis_said(
    water: BoxWater, ledger: Ledger, box: Box, explained: Explained | None
) -> Iterator[str]:
    """What each number rests on."""
    if not water.weighings:
        return
    yield (
        f"A scale that shows whole grams is right to {SCALE_SD_G:g} g (ours); the days to come may"
        f" differ from those weighed by {AIR_VARIES:.0%} (ours)."
    )
    if water.loss_over_days:
        yield f"The loss rests on your weighings over {water.loss_over_days:.0f} days."
        yield f"Litter that rots away looks like water too, up to {ROT_G_PER_DAY:g} g a day (ours)."
    if water.low_mark_is_assumed:
        yield _assumed_said(box)
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
        yield f"Days not used for the loss: {'; '.join(list(lost)[-_ASKED_LATELY:])}."


def _assumed_said(box: Box) -> str:
    moss = (
        "moss is not told and not counted"
        if box.moss_share is None
        else f"moss on {box.moss_share:.0%} of the floor at {MOSS_MM[0]:g}-{MOSS_MM[1]:g} mm, ours"
    )
    return (
        "No weight is marked as too dry: the low mark is assumed from damp share, floor and litter"
        f" (ours, after the 5-15 mL a small box takes, common practice; {moss})."
    )


def questions_of(water: BoxWater, ledger: Ledger) -> Iterator[str]:
    """What the keeper alone can tell."""
    if not water.weighings:
        yield "Weigh the box when its damp end is just right: weigh, with the words just right."
        return
    yield from jumps_of(ledger)
    since = ledger.between[-1]
    for words in (*since.unknown, *since.breaks)[-_ASKED_LATELY:]:
        yield f"Since it was last weighed: {words}. Weigh it again to know its water."
    if water.just_right_g is None:
        before = any(one.mark == "just_right" for one in ledger.weights)
        again = " again, for the box has changed since it was last marked" if before else ""
        yield f"When its damp end is just right, weigh it and mark the weight{again}."
        return
    told_on = next(
        (one.day for one in ledger.weights if one.happened == water.just_right_on), water.on
    )
    if (water.on - told_on).days > MARK_DAYS:
        yield (
            f"It was marked just right on {told_on}, long ago: litter has rotted since. Mark it"
            " anew when its damp end is just right."
        )
    if water.low_mark_is_assumed:
        dry = [one.gross_g for one in ledger.weights if one.mark == "too_dry"]
        if dry and dry[-1] >= water.just_right_g:
            yield (
                f"{weight_said(dry[-1])} g is marked as too dry and"
                f" {weight_said(water.just_right_g)} g as just right: which of them is mistyped?"
            )


def jumps_of(ledger: Ledger) -> Iterator[str]:
    """Jumps of the last weeks; who poured what before that, nobody remembers."""
    told, newest = stretches_of(ledger), ledger.weights[-1].at
    for place, question in asked(ledger).items():
        if newest - told[place].second.at <= _REMEMBERED_DAYS:
            yield question
