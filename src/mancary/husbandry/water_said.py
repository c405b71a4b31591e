"""The water of a box in a keeper's words: what is so, what it rests on, what is asked."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from mancary.husbandry.absence import is_wide
from mancary.husbandry.water_booked import Ledger
from mancary.husbandry.water_marks import Marks
from mancary.husbandry.water_state import (
    BoxWater,
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

MARK_DAYS: Final = 90
"""Ours: by then what rotted away may be a third of a small reserve."""


def said_of(water: BoxWater, ledger: Ledger | None = None) -> Iterator[str]:
    """What the weighings tell, one sentence each."""
    if not water.weighings:
        yield "Not weighed yet."
        return
    yield from _long_ago(water, ledger)
    yield from _loss(water)
    yield from _factor(water)
    if water.too_wet_g:
        over = whole(water.too_wet_g)
        yield f"Too wet: {over} g above just right. Pour nothing. {STAGNANT}"
    elif water.newest_mark == "too_wet" and water.just_right_g is None:
        yield f"It was marked too wet when last weighed. {STAGNANT}"
    elif water.pour_ml and not pour_middle(water):
        yield "Just right, as far as the scale can tell. Pour nothing this evening."
    elif water.pour_is_held:
        yield (
            f"Pour {pour_middle(water)} mL this evening, its whole reserve and no more, though by"
            " the scale and what it has lost since more is missing: weigh it the next day."
        )
    elif water.pour_ml:
        yield (
            f"Pour {pour_middle(water)} mL this evening ({whole(water.pour_ml)} by the scale and"
            " what it has lost since): then it weighs what was just right."
        )
    yield from _reserve(water)


def _long_ago(water: BoxWater, ledger: Ledger | None) -> Iterator[str]:
    if water.out_of_date and ledger:
        last = ledger.weights[-1].day
        yield (
            f"Last weighed on {last}, {(water.on - last).days} days ago: that no longer tells what"
            " it loses nor what is left. Weigh it again; until then its rhythm holds."
        )


def _loss(water: BoxWater) -> Iterator[str]:
    if water.out_of_date and water.loss_over_days == 0:
        if water.loss_g_per_day and not water.make_boxes:
            yield f"Its vents explain {grams(water.loss_g_per_day)} g a day."
        elif water.loss_g_per_day:
            yield f"By the boxes of its make it loses {grams(water.loss_g_per_day)} g a day."
    elif water.loss_g_per_day is None:
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
        ago = (water.on - water.loss_to).days if water.loss_to else 0
        when = f", as weighed up to {water.loss_to}" if ago > _REMEMBERED_DAYS else ""
        yield f"It loses {grams(water.loss_g_per_day)} g a day{when}."


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


def questions_of(
    water: BoxWater,
    ledger: Ledger | None = None,
    marks: Marks | None = None,
    jumps: Sequence[str] = (),
) -> Iterator[str]:
    """What the keeper alone can tell; ``jumps`` are those of ``jumps_of``."""
    if ledger is None or not water.weighings:
        yield "Weigh the box when its damp end is just right: weigh, with the words just right."
        return
    yield from jumps
    since = ledger.between[-1]
    for words in (*since.unknown, *since.breaks)[-_ASKED_LATELY:]:
        yield f"Since it was last weighed: {words}. Weigh it again to know its water."
    if water.has_run_dry:
        yield "It was reckoned dry before it was last wetted: weigh it to know where it stands."
    if marks is None:
        before = any(one.mark == "just_right" for one in ledger.weights)
        again = " again, for the box has changed since it was last marked" if before else ""
        yield f"When its damp end is just right, weigh it and mark the weight{again}."
        return
    yield from _marks_asked(water, marks)


def _marks_asked(water: BoxWater, marks: Marks) -> Iterator[str]:
    told = marks.told
    if (water.on - told.day).days > MARK_DAYS:
        yield (
            f"It was marked just right on {told.day}, long ago: litter has rotted since. Mark it"
            " anew when its damp end is just right."
        )
    elif marks.just_right[1] - marks.just_right[0] > marks.full[1]:
        yield (
            "What was fed since it was marked just right may weigh as much as its reserve: mark it"
            " anew, or tell the grams that you feed."
        )
    if marks.dry and marks.unfit in ("contradict", "far apart"):
        yield (
            f"{weight_said(marks.dry.gross_g)} g is marked as too dry and"
            f" {weight_said(told.gross_g)} g as just right: which of them is mistyped?"
        )


def jumps_of(ledger: Ledger, jumps: Mapping[int, str]) -> Iterator[str]:
    """Jumps of the last weeks; who poured what before that, nobody remembers.

    ``jumps`` are those of ``water_loss.asked``.
    """
    weights = ledger.weights
    for place, question in jumps.items():
        if weights[-1].at - weights[place + 1].at <= _REMEMBERED_DAYS:
            yield question
