"""When the scale says that a box is to be wetted again, and with how much."""

from datetime import date

from msgspec import Struct

from mancary.husbandry.sentences import tell
from mancary.husbandry.water_state import BoxWater, pour_middle, whole


class MistDue(Struct, frozen=True, kw_only=True):
    """A misting by the scale.

    It is due when the low estimate of the reserve is used, better not after its middle is.
    ``amount_ml`` is the middle of what to pour on this visit, 0 for a box that is wet enough;
    ``every_days`` how long a full reserve lasts, ``every_range`` between which days that lies.
    ``too_wet`` says by how much, or is empty.
    """

    due: date
    latest: date
    amount_ml: float
    said: str
    why: str
    every_days: float
    every_range: tuple[float, float]
    too_wet: str = ""


def mist_of(water: BoxWater) -> MistDue | None:
    """The misting that the weighings of a box call for.

    None where the rhythm has to serve: no weight marked just right, no loss told by two weighings
    nor by other boxes of its make, or water given since the last weighing without its amount.
    """
    if water.used is None or water.used_latest is None or water.pour_ml is None:
        return None
    if water.reserve_g is None or water.lasts_days is None:
        return None
    if water.loss_over_days == 0 and not water.make_boxes:
        return None
    mark = tell("an assumed low mark") if water.low_mark_is_assumed else tell("its too dry mark")
    return MistDue(
        due=water.used,
        latest=water.used_latest,
        amount_ml=float(pour_middle(water)),
        said=_said(water),
        why=tell(
            "by the scale: %(reserve_g)s g above %(mark)s%(water)s",
            reserve_g=whole(water.reserve_g),
            mark=mark,
            water=_doubts(water),
        ),
        every_days=water.lasts_days,
        every_range=water.full_days or (water.lasts_days, water.lasts_days),
        too_wet=tell("too wet by %(too_wet_g)s g", too_wet_g=whole(water.too_wet_g))
        if water.too_wet_g
        else "",
    )


def _doubts(water: BoxWater) -> str:
    """What makes the scale's word less sure, said where the task is."""
    said = ""
    if not water.loss_can_be_told:
        others = tell(", by %(make_boxes)s of its make", water) if water.make_boxes else ""
        said = tell("; its own loss is not told yet%(others)s", others=others)
        if water.loss_over_days:
            said = tell("; too little was lost to tell how fast%(others)s", others=others)
    if water.has_run_dry:
        said += tell("; not weighed since it ran dry")
    return (
        tell("%(said)s; its weight jumped, see its questions", said=said)
        if water.has_jumped
        else said
    )


def _said(water: BoxWater) -> str:
    if water.too_wet_g:
        return tell("pour nothing: too wet by %(too_wet_g)s g", too_wet_g=whole(water.too_wet_g))
    middle = pour_middle(water)
    if water.pour_ml is None or not middle:
        return tell("pour nothing: just right")
    if water.pour_is_held:
        return tell(
            "%(middle)s mL, its whole reserve and no more: weigh it the next day", middle=middle
        )
    told = whole(water.pour_ml)
    return (
        tell("%(middle)s mL", middle=middle)
        if told == f"{middle}"
        else tell("%(middle)s mL (%(told)s by the scale)", middle=middle, told=told)
    )
