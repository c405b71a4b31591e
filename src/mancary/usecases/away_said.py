"""What is said of an absence in words: its rules, the air it is reckoned in, and its visits."""

from collections import Counter
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from mancary.husbandry.absence import LEAST_GAP_DAYS, Reserve, RestsOn, Visit, lasts_days
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.shelf_climate import ShelfClimate

_FRESH_DAYS = 2
_SHORT_DAYS, _LONG_DAYS = 10, 21
"""Up to the first no visit is usual, up to the second one, by common practice (from memory)."""

_NAMED: Final = 4

RULES = (
    tell(
        "No fresh food and no protein in the last %(fresh_days)s days: what is left spoils unseen.",
        fresh_days=_FRESH_DAYS,
    ),
    tell("Take leftovers out on the day of leaving."),
    tell("Wet the damp end only, up to its usual wetness and no further: a box can also drown."),
    tell("Fill leaf litter up: it is the food of the absence."),
    tell("A cooler room by a few degrees and shade lengthen every reserve."),
    tell("No mat or lamp without a thermostat, and none that nobody looks after."),
)
STAND_IN = (
    tell("Wet only the boxes on this sheet, at their damp end, with the amount written here."),
    tell(
        "No food, no fruit, no cleaning. Do not open the other boxes. Move nothing between boxes."
    ),
    tell("Wash hands before and after; no flower sprays, no perfume, no insecticide in the room."),
    tell("Shellfish or dust-mite allergy: gloves and mask, or leave it to another."),
    tell(
        "Where a damp end is still wet, pour nothing. If a box smells, swarms or looks wrong: ring."
    ),
)
BASIS = tell(
    "The chance is the model's: the reserve's days as a log-normal between its low"
    " and its high estimate (ours). No box gets more than it has lost by its"
    " middle estimate and one reserve; one whose scale tells gets what it has lost"
    " (ours). Rules and usual amounts are common practice, from memory, or yours."
)


class AirTaken(Struct, frozen=True, kw_only=True):
    """The air the boxes are reckoned in: of their shelves' middles the least and the most.

    ``temp_c_*`` are without the heat that is assumed; ``read`` boxes of ``boxes`` stand on a shelf
    whose thermometer was read, ``damp_read`` on one whose humidity was.
    """

    temp_c_low: float
    temp_c_high: float
    humidity_low: float
    humidity_high: float
    boxes: int
    read: int
    damp_read: int
    said: str


def rests_said(rests: Counter[RestsOn], doubted: Sequence[str]) -> str:
    """How many boxes rest on what, and which were weighed in vain so far."""
    if not rests:
        return tell("No box holds a colony.")
    again = (
        tell(" Weighed, but too uncertain to plan by: %(all)s.", all=in_a_row(", ", doubted))
        if doubted
        else ""
    )
    return tell(
        "Of %(total)s boxes %(rests)s rest on their weighings, or on those of boxes of"
        " their make, %(rests2)s on the model of their vents beside the misting"
        " rhythm, %(rests3)s on the rhythm alone.%(again)s",
        total=rests.total(),
        rests=rests["weighings"],
        rests2=rests["model"],
        rests3=rests["rhythm"],
        again=again,
    )


def air_taken(airs: Sequence[ShelfClimate], heat_c: float) -> AirTaken | None:
    """The air of the shelves together; None without boxes."""
    if not airs:
        return None
    temps, damps = [one.temperature.middle for one in airs], [one.rh for one in airs]
    read = sum(not one.temperature_is_assumed for one in airs)
    damp_read = sum(one.humidity is not None for one in airs)
    hot = tell(", and %(heat_c)g °C on top of it", heat_c=heat_c) if heat_c else ""
    return AirTaken(
        temp_c_low=round(min(temps), 1),
        temp_c_high=round(max(temps), 1),
        humidity_low=round(min(damps), 3),
        humidity_high=round(max(damps), 3),
        boxes=len(airs),
        read=read,
        damp_read=damp_read,
        said=tell(
            "Reckoned at %(temps)s °C, each box as its shelf%(hot)s; the shelf’s"
            " thermometer was read lately for %(read)s of %(airs)s boxes, else it is"
            " assumed. Humidity of the room %(damps)s %%, read for %(damp_read)s, else"
            " assumed.",
            temps=_span(min(temps), max(temps)),
            hot=hot,
            read=read,
            airs=len(airs),
            damps=_span(min(damps) * 100, max(damps) * 100, 0),
            damp_read=damp_read,
        ),
    )


def _span(low: float, high: float, digits: int = 1) -> str:
    least, most = f"{low:.{digits}f}", f"{high:.{digits}f}"
    return least if least == most else tell("%(least)s to %(most)s", least=least, most=most)


def length_said(days: int) -> str:
    """What keepers do for an absence of so many days."""
    if days <= _SHORT_DAYS:
        return tell(
            "Up to %(short_days)s days most boxes are left alone (common practice, from memory).",
            short_days=_SHORT_DAYS,
        )
    if days <= _LONG_DAYS:
        return tell(
            "%(short_days)s to %(long_days)s days: one visit by a stand-in with a one-page"
            " sheet is usual (common practice, from memory).",
            short_days=_SHORT_DAYS,
            long_days=_LONG_DAYS,
        )
    return tell(
        "More than %(long_days)s days: hand backups of your lines to another keeper"
        " (common practice, from memory).",
        long_days=_LONG_DAYS,
    )


def visits_said(visits: Sequence[Visit], reserves: dict[str, Reserve]) -> tuple[str, ...]:
    """Why there are so many visits, and which boxes no visit of this plan keeps safe."""
    often = [box for visit in visits for box in visit.boxes]
    told = []
    if len(visits) > 1:
        shortest = min(lasts_days(reserves[box]) for box in often)
        least = sorted(box for box in set(often) if lasts_days(reserves[box]) <= shortest)
        told.append(
            tell(
                "This plan has %(visits)s visits, for %(least)s: reckoned to last only"
                " %(shortest)s day. Most boxes are wetted %(what)s.",
                visits=len(visits),
                least=_listed(least),
                shortest=shortest,
                what=_times(sorted(often.count(box) for box in set(often))),
            )
            if shortest == 1
            else tell(
                "This plan has %(visits)s visits, for %(least)s: reckoned to last only"
                " %(shortest)s days. Most boxes are wetted %(what)s.",
                visits=len(visits),
                least=_listed(least),
                shortest=shortest,
                what=_times(sorted(often.count(box) for box in set(often))),
            )
        )
    brief = sorted(box for box in set(often) if lasts_days(reserves[box]) < LEAST_GAP_DAYS)
    if brief:
        told.append(
            tell(
                "%(brief)s: may be dry before a visit every %(least_gap_days)s days, and"
                " nobody is asked to come more often (ours). Stand what lasts so little in a"
                " cooler place, or leave it with somebody who looks daily.",
                brief=_listed(brief),
                least_gap_days=LEAST_GAP_DAYS,
            )
        )
    return tuple(told)


def _listed(boxes: Sequence[str]) -> str:
    more = tell(" and %(boxes)s more", boxes=len(boxes) - _NAMED) if len(boxes) > _NAMED else ""
    return ", ".join(boxes[:_NAMED]) + more


def _times(counts: Sequence[int]) -> str:
    middle = counts[len(counts) // 2]
    return {1: "once", 2: "twice"}.get(middle, tell("%(middle)s times", middle=middle))
