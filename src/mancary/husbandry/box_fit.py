"""Whether what is told of a box can be true of one box."""

from typing import Final

from mancary.husbandry.box_figures import sides_said
from mancary.husbandry.box_sketch import sketched
from mancary.husbandry.facts import BoxDescribed
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.states import Box

_ROOM: Final = 1.7
"""Ours: litres on a label, outer sides and round corners differ from the inner sides by less."""
_SKETCHED: Final = 2.0
"""Ours: a box of which only the litres are told is not twice as high as its sketch."""
_CM: Final = 100
_SIZES: Final = ("litres", "length_cm", "width_cm", "height_cm")
_FILLS: Final = ("substrate_cm", "litter_cm")
WIDE_HOLE_MM: Final = 15.0
"""Wider open holes exchange air by themselves, beyond the sums (see the vents' limits)."""


def misfit(box: Box, told: BoxDescribed) -> str:
    """Why ``box``, as it stands after ``told``, cannot be; empty where it can.

    Only what ``told`` says anew is looked at: an old fault refuses nothing else.
    """
    if any((getattr(box, name) or 0) < 0 for name in (*_SIZES, *_FILLS)):
        return ""  # the fact itself refuses what lies below zero
    sized = any(getattr(told, name) is not None for name in _SIZES)
    filled = any(getattr(told, name) is not None for name in _FILLS)
    return (_litres(box) if sized else "") or (_depth(box) if sized or filled else "")


def wide_holes(told: BoxDescribed) -> str:
    """A question about open holes so wide that a slip of the pen is likelier; else empty."""
    wide = [
        vent
        for vent in told.vents or ()
        if vent.make == "hole" and vent.size_mm and vent.size_mm > WIDE_HOLE_MM
    ]
    if not wide:
        return ""
    first = wide[0]
    return (
        tell(
            "%(count)s open holes of %(size_mm)g mm in box %(box)s: was %(size_mm2)g mm"
            " meant? So wide a hole without mesh lets young out and the sums do not hold"
            " for it.",
            first,
            box=told.box,
            size_mm2=(first.size_mm / 10 if first.size_mm else 0),
        )
        if first.count != 1
        else tell(
            "%(count)s open hole of %(size_mm)g mm in box %(box)s: was %(size_mm2)g mm"
            " meant? So wide a hole without mesh lets young out and the sums do not hold"
            " for it.",
            first,
            box=told.box,
            size_mm2=(first.size_mm / 10 if first.size_mm else 0),
        )
    )


def _litres(box: Box) -> str:
    if not (box.litres and box.length_cm and box.width_cm and box.height_cm):
        return ""
    inside = box.length_cm * box.width_cm * box.height_cm / 1000
    if 1 / _ROOM <= inside / box.litres <= _ROOM:
        return ""
    return tell(
        "%(box)s is %(inside).2g L, but box %(code)s is said to hold %(litres)g L."
        " Tell sides and litres together, so that they agree.",
        box,
        box=sides_said(box),
        inside=inside,
    )


def _depth(box: Box) -> str:
    filled = (box.substrate_cm or 0) + (box.litter_cm or 0)
    sketch = sketched(box)
    if sketch is None or not filled:
        return ""
    told = box.height_cm is not None or bool(box.litres and box.length_cm and box.width_cm)
    height = sketch.height_m * _CM
    if filled < height * (1 if told else _SKETCHED):
        return ""
    what = in_a_row(
        tell(" and "),
        (
            tell("%(name)s %(depth)g cm deep", name=name, depth=depth)
            for name, depth in (
                (tell("substrate"), box.substrate_cm),
                (tell("litter"), box.litter_cm),
            )
            if depth
        ),
    )
    said = {"what": what, "height": height}
    if told:
        return tell("%(what)s leaves no air: box %(code)s is %(height).3g cm high.", box, **said)
    return tell(
        "%(what)s leaves no air: box %(code)s by its litres is about %(height).3g cm high.",
        box,
        **said,
    )
