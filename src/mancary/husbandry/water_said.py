"""The water of a box in a keeper's words: what is so, what it rests on, what is asked."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from mancary.husbandry.absence import is_wide
from mancary.husbandry.sentences import tell
from mancary.husbandry.water_booked import Ledger
from mancary.husbandry.water_marks import Marks
from mancary.husbandry.water_state import (
    BoxWater,
    grams,
    pour_middle,
    weight_said,
    whole,
)

STAGNANT: Final = tell(
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
        yield tell("Not weighed yet.")
        return
    yield from _long_ago(water, ledger)
    yield from _loss(water)
    yield from _factor(water)
    if water.too_wet_g:
        over = whole(water.too_wet_g)
        yield tell(
            "Too wet: %(over)s g above just right. Pour nothing. %(stagnant)s",
            over=over,
            stagnant=STAGNANT,
        )
    elif water.newest_mark == "too_wet" and water.just_right_g is None:
        yield tell("It was marked too wet when last weighed. %(stagnant)s", stagnant=STAGNANT)
    elif water.pour_ml and not pour_middle(water):
        yield tell("Just right, as far as the scale can tell. Pour nothing this evening.")
    elif water.pour_is_held:
        yield tell(
            "Pour %(water)s mL this evening, its whole reserve and no more, though by the"
            " scale and what it has lost since more is missing: weigh it the next day.",
            water=pour_middle(water),
        )
    elif water.pour_ml:
        yield tell(
            "Pour %(water)s mL this evening (%(pour_ml)s by the scale and what it has lost"
            " since): then it weighs what was just right.",
            water=pour_middle(water),
            pour_ml=whole(water.pour_ml),
        )
    yield from _reserve(water)


def _long_ago(water: BoxWater, ledger: Ledger | None) -> Iterator[str]:
    if water.out_of_date and ledger:
        last = ledger.weights[-1].day
        yield tell(
            "Last weighed on %(last)s, %(days)s days ago: that no longer tells what it"
            " loses nor what is left. Weigh it again; until then its rhythm holds.",
            last=last,
            days=(water.on - last).days,
        )


def _loss(water: BoxWater) -> Iterator[str]:
    if water.out_of_date and water.loss_over_days == 0:
        if water.loss_g_per_day and not water.make_boxes:
            yield tell(
                "Its vents explain %(loss_g_per_day)s g a day.",
                loss_g_per_day=grams(water.loss_g_per_day),
            )
        elif water.loss_g_per_day:
            yield tell(
                "By the boxes of its make it loses %(loss_g_per_day)s g a day.",
                loss_g_per_day=grams(water.loss_g_per_day),
            )
    elif water.loss_g_per_day is None:
        yield tell(
            "What it loses is not known yet: weigh it again in some days, each pour noted in mL."
        )
    elif water.loss_over_days == 0 and water.make_boxes:
        told = grams(water.loss_g_per_day)
        yield tell(
            "By the boxes of its make it loses %(told)s g a day; it must be weighed again to tell.",
            told=told,
        )
    elif water.loss_over_days == 0:
        explained = grams(water.loss_g_per_day)
        yield tell(
            "Its vents explain %(explained)s g a day; no two weighings can be compared yet.",
            explained=explained,
        )
    elif not water.loss_can_be_told:
        most = f"{water.loss_g_per_day[1]:.2g}"
        yield tell(
            "Too little was lost for the scale to tell: less than %(most)s g a day.", most=most
        )
    else:
        ago = (water.on - water.loss_to).days if water.loss_to else 0
        when = tell(", as weighed up to %(loss_to)s", water) if ago > _REMEMBERED_DAYS else ""
        yield tell(
            "It loses %(loss_g_per_day)s g a day%(when)s.",
            loss_g_per_day=grams(water.loss_g_per_day),
            when=when,
        )


def _factor(water: BoxWater) -> Iterator[str]:
    if water.factor is None or water.factor_range is None:
        return
    low, high = water.factor_range
    times = tell(
        "%(factor).1f times what its vents explain (%(low).1f-%(high).1f)",
        water,
        low=low,
        high=high,
    )
    if water.make_boxes:
        boxes = (
            tell("%(make_boxes)s boxes of the same make", water)
            if water.make_boxes > 1
            else tell("%(make_boxes)s box of the same make", water)
        )
        if not water.loss_can_be_told:
            told = tell(
                "%(factor).1f times what its vents explain, %(low).1f-%(high).1f",
                water,
                low=low,
                high=high,
            )
            yield tell(
                "From %(boxes)s: %(told)s; its own weighings do not tell yet.",
                boxes=boxes,
                told=told,
            )
            return
        yield tell(
            "Shared with %(boxes)s: what they lose has a say in the next figure.", boxes=boxes
        )
    if water.factor >= _MUCH_MORE:
        yield tell("Your box loses %(times)s: lid seam, draught or fan?", times=times)
    elif water.factor <= _MUCH_LESS:
        yield tell(
            "Your box loses %(times)s: are vents covered or clogged, or is the floor dry already?",
            times=times,
        )
    else:
        yield tell("Your box loses %(times)s: about as much as they explain.", times=times)


def _reserve(water: BoxWater) -> Iterator[str]:
    if water.reserve_g is None or water.days is None:
        return
    mark = (
        tell("the assumed low mark")
        if water.low_mark_is_assumed
        else tell("the weight marked too dry")
    )
    if water.reserve_g[1] <= 0:
        yield tell("Too dry: no longer above %(mark)s.", mark=mark)
        yield from _full(water, "")
        return
    spell = _spell(water.days, open_ended=water.days_open_ended)
    yield tell(
        "%(reserve_g)s g above %(mark)s: %(spell)s.",
        reserve_g=whole(water.reserve_g),
        mark=mark,
        spell=spell,
    )
    yield from _full(water, spell)


def _full(water: BoxWater, spell: str) -> Iterator[str]:
    """How long a full reserve lasts, where that is not what was just said."""
    if water.full_days is None:
        return
    if full_said(water.full_days) != spell:
        yield tell(
            "From just right on a full reserve lasts %(full_days)s.",
            full_days=full_said(water.full_days),
        )
    if is_wide(*water.full_days):
        yield tell("That is too uncertain to plan by: weigh it again in a week or two.")


_FAR_DAYS: Final = 56.0
"""Eight weeks, beyond which no day is told (see ``water``)."""


def full_said(days: tuple[float, float]) -> str:
    """How long a full reserve lasts, in words; days up to eight weeks."""
    return _spell(days, open_ended=days[1] >= _FAR_DAYS)


def _spell(days: tuple[float, float], *, open_ended: bool) -> str:
    low, high = (round(day) for day in days)
    far = tell("more than %(far_days).0f weeks", far_days=_FAR_DAYS / 7)
    least = (
        tell("less than a day")
        if low == 0
        else tell("1 day")
        if low == 1
        else tell("%(low)s days", low=low)
    )
    if open_ended:
        return far if low >= _FAR_DAYS else tell("%(least)s to %(far)s", least=least, far=far)
    if low == high:
        return least
    return (
        (
            tell("%(least)s to %(high)s day", least=least, high=high)
            if high == 1
            else tell("%(least)s to %(high)s days", least=least, high=high)
        )
        if low == 0
        else tell("%(low)s-%(high)s days", low=low, high=high)
    )


def questions_of(
    water: BoxWater,
    ledger: Ledger | None = None,
    marks: Marks | None = None,
    jumps: Sequence[str] = (),
) -> Iterator[str]:
    """What the keeper alone can tell; ``jumps`` are those of ``jumps_of``."""
    if ledger is None or not water.weighings:
        yield tell(
            "Weigh the box when its damp end is just right: weigh, with the words just right."
        )
        return
    yield from jumps
    since = ledger.between[-1]
    for words in (*since.unknown, *since.breaks)[-_ASKED_LATELY:]:
        yield tell(
            "Since it was last weighed: %(words)s. Weigh it again to know its water.", words=words
        )
    if water.has_run_dry:
        yield tell(
            "It was reckoned dry before it was last wetted: weigh it to know where it stands."
        )
    if marks is None:
        before = any(one.mark == "just_right" for one in ledger.weights)
        again = tell(" again, for the box has changed since it was last marked") if before else ""
        yield tell(
            "When its damp end is just right, weigh it and mark the weight%(again)s.", again=again
        )
        return
    yield from _marks_asked(water, marks)


def _marks_asked(water: BoxWater, marks: Marks) -> Iterator[str]:
    told = marks.told
    if (water.on - told.day).days > MARK_DAYS:
        yield tell(
            "It was marked just right on %(day)s, long ago: litter has rotted since. Mark"
            " it anew when its damp end is just right.",
            told,
        )
    elif marks.just_right[1] - marks.just_right[0] > marks.full[1]:
        yield tell(
            "What was fed since it was marked just right may weigh as much as its reserve:"
            " mark it anew, or tell the grams that you feed."
        )
    if marks.dry and marks.unfit in ("contradict", "far apart"):
        yield tell(
            "%(gross_g)s g is marked as too dry and %(gross_g2)s g as just right: which of"
            " them is mistyped?",
            gross_g=weight_said(marks.dry.gross_g),
            gross_g2=weight_said(told.gross_g),
        )


def jumps_of(ledger: Ledger, jumps: Mapping[int, str]) -> Iterator[str]:
    """Jumps of the last weeks; who poured what before that, nobody remembers.

    ``jumps`` are those of ``water_loss.asked``.
    """
    weights = ledger.weights
    for place, question in jumps.items():
        if weights[-1].at - weights[place + 1].at <= _REMEMBERED_DAYS:
            yield question
