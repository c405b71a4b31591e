"""Which of several choices of holes to take, and why."""

from collections.abc import Sequence
from math import log
from typing import Final

from msgspec import Struct

from mancary.husbandry.sentences import tell
from mancary.husbandry.vent_choices import LAYOUTS, Choice

USUAL_HOLES: Final = 20
"""Ours: few enough to drill in an evening, so many that one more or less is a twentieth."""

_LID: Final = tell(
    "all in the lid, in one plane, is what the sums know best and what tape undoes"
    " most easily; of the lids this drill comes nearest to %(usual_holes)s holes:"
    " few enough to drill, and so many that one more or less changes little (ours)",
    usual_holes=USUAL_HOLES,
)
_NO_LID: Final = tell(
    "no lid of these drills gives what is wanted; of the open holes this comes"
    " nearest to %(usual_holes)s (ours)",
    usual_holes=USUAL_HOLES,
)
_MESH: Final = tell("no open holes of these drills give what is wanted, and mesh does (ours)")
_NEAREST: Final = tell(
    "nothing here gives just what is wanted; this comes nearest to it. Begin with"
    " it and weigh (ours)"
)


class Advice(Struct, frozen=True, kw_only=True):
    """The choice to take, with its reason, and as it is told the book once it is drilled."""

    choice: Choice
    said: str
    why: str
    as_told: str


def advised(choices: Sequence[Choice], *, wanted: float, measure: str) -> Advice | None:
    """The choice to take of those side by side; None where there is none.

    What meets the wish goes before what does not, and of that the lid before the sides, open holes
    before mesh (its range is a factor of 3, theirs 1.5), then the usual number of holes.
    """
    if not choices:
        return None
    meeting = [one for one in choices if one.meets]
    if not meeting:
        nearest = min(choices, key=lambda one: abs(log(getattr(one.gives, measure) / wanted)))
        return _advice(nearest, _NEAREST)
    best = min(
        meeting,
        key=lambda one: (
            bool(one.mesh),
            one.layout != "lid",
            abs(log(one.gives.holes / USUAL_HOLES)),
        ),
    )
    return _advice(best, _MESH if best.mesh else _LID if best.layout == "lid" else _NO_LID)


def _advice(one: Choice, why: str) -> Advice:
    number, place = one.gives.holes, LAYOUTS[one.layout]
    where = {"number": number, "place": place}
    if one.mesh:
        said = tell("%(number)s windows of %(mesh)s mesh, %(mm)g mm, %(place)s", one, **where)
        if number == 1:
            said = tell("%(number)s window of %(mesh)s mesh, %(mm)g mm, %(place)s", one, **where)
    elif number == 1:
        said = tell("%(number)s hole of %(mm)g mm, %(place)s", one, **where)
    else:
        said = tell("%(number)s holes of %(mm)g mm, %(place)s", one, **where)
    mesh = f" mm {one.mesh} mesh" if one.mesh else " mm"
    return Advice(
        choice=one,
        said=said,
        why=why,
        as_told=f"{number}x{one.mm:g}{mesh} {place}",
    )
