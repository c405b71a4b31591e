"""The water of one box on a day: how much is left above its low mark, for how long, what to pour.

A scale tells how much was lost, never how much is left in the box. The reserve is counted from the
weight the keeper marked as just right down to the one he marked as too dry.
"""

from datetime import date

from msgspec.structs import replace

from mancary.husbandry.states import Box
from mancary.husbandry.water_basis import basis_said
from mancary.husbandry.water_booked import Ledger
from mancary.husbandry.water_loss import (
    Factor,
    Learnt,
    Loss,
    factor_of,
    is_lately,
    learnt_of,
    rate_of,
)
from mancary.husbandry.water_marks import Marks, marks_of
from mancary.husbandry.water_now import from_full, now
from mancary.husbandry.water_said import jumps_of, questions_of, said_of
from mancary.husbandry.water_shared import Shared
from mancary.husbandry.water_state import BoxWater, Explained


def water_of_box(
    ledger: Ledger,
    box: Box,
    *,
    on: date,
    explained: Explained | None = None,
    shared: Shared | None = None,
    learnt: Learnt | None = None,
) -> BoxWater:
    """The water of a box on the evening of ``on``, from its weighings up to then.

    ``explained`` is the loss its vents explain; where no weighings tell a loss it is taken in
    their place, and where they do the factor between them is told. ``shared`` is what the boxes of
    its make teach about that factor, where any do;
    ``learnt`` what the weighings teach by that day, where it was worked out before.
    """
    if not ledger.weights:
        water = BoxWater(box=box.code, on=on, weighings=0)
        return replace(water, said=tuple(said_of(water)), questions=tuple(questions_of(water)))
    told = learnt or learnt_of(ledger, on=on)
    own = told.loss
    factor = factor_of(own, explained, shared)
    loss = rate_of(own, explained, factor)
    marks = marks_of(ledger, box)
    jumps = tuple(jumps_of(ledger, told.jumps))
    lately = is_lately(ledger.weights[-1].day, on)
    known = {
        **_newest(ledger),
        "has_jumped": bool(jumps),
        "out_of_date": not lately,
        **(_loss_told(own) if own else {}),
        **_model_told(factor, own, explained, shared),
        **(_marks_told(marks) if marks else {}),
    }
    if loss:
        known |= {"loss_g_per_day": (loss[0], loss[2]), "loss_middle_g_per_day": loss[1]}
    if loss and marks:
        known |= from_full(marks, loss)
    if loss and lately and ledger.between[-1].is_booked:
        known |= now(ledger, marks, loss, on)
    water = BoxWater(box=box.code, on=on, weighings=len(ledger.weights), **known)  # type: ignore[arg-type]
    return replace(
        water,
        said=tuple(said_of(water, ledger)),
        basis=tuple(basis_said(water, ledger, box, explained, marks)),
        questions=tuple(questions_of(water, ledger, marks, jumps)),
    )


def _newest(ledger: Ledger) -> dict[str, object]:
    newest = ledger.weights[-1]
    return {
        "newest_g": newest.gross_g,
        "newest_on": newest.happened,
        "newest_mark": newest.mark,
    }


def _loss_told(learnt: Loss) -> dict[str, object]:
    return {
        "loss_over_days": learnt.days,
        "loss_from": learnt.since,
        "loss_to": learnt.until,
        "loss_can_be_told": learnt.tellable,
    }


def _marks_told(marks: Marks) -> dict[str, object]:
    return {
        "just_right_g": marks.told.gross_g,
        "just_right_on": marks.told.happened,
        "right_now_g": marks.just_right,
        "low_mark_g": marks.low_mark,
        "low_mark_is_assumed": marks.assumed,
        "full_g": (max(0.0, marks.full[0]), marks.full[2]),
        "full_middle_g": marks.full[1],
    }


def _model_told(
    factor: Factor | None, learnt: Loss | None, explained: Explained | None, shared: Shared | None
) -> dict[str, object]:
    if explained is None:
        return {}
    told: dict[str, object] = {"model_g_per_day": (explained.low, explained.high)}
    if factor and (shared or (learnt and learnt.tellable)):
        told |= {"factor": factor[1], "factor_range": (factor[0], factor[2])}
    if shared and factor:
        told |= {
            "make_boxes": shared.others,
            "make_words": shared.words,
            "make_factor": shared.make[1],
            "make_factor_range": (shared.make[0], shared.make[2]),
        }
    return told
