"""How a box was built and where it stood in the days of its weighings."""

from collections.abc import Iterable, Sequence
from copy import copy
from dataclasses import dataclass
from datetime import date, tzinfo
from typing import Final

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import BoxDescribed, Shelved, Withdrawn
from mancary.husbandry.moments import first_day
from mancary.husbandry.order import keyed
from mancary.husbandry.states import Box

TELLS_THE_MODEL: Final = (
    "litres", "length_cm", "width_cm", "height_cm", "wall_mm", "vents", "damp_share",
    "substrate_cm", "litter_cm",
)  # fmt: skip
"""What the model of the vents reads of a box."""

_COUNTS: Final = (*TELLS_THE_MODEL, "warmer_c", "shelf")


@dataclass(frozen=True, slots=True)
class Era:
    """Days from ``since`` on in which a box was built and stood as ``box`` says."""

    since: date
    box: Box


def eras_of(entries: Iterable[Entry], code: str, zone: tzinfo, *, until: date) -> tuple[Era, ...]:
    """A box's eras in order, at least one; each begins where what the model reads was told anew.

    What is told for the first time was so before: a box whose vents are told late had them always.
    """
    box, told = Box(code, first_told=""), [Era(date.min, Box(code, first_told=""))]
    kinds = (BoxDescribed, Shelved, Withdrawn)
    for _, _, entry in keyed((one for one in entries if isinstance(one.fact, kinds)), zone):
        day, fact = first_day(entry.happened, zone), entry.fact
        if day > until:
            break
        if isinstance(fact, BoxDescribed) and fact.box == code:
            box.describe(fact)
        elif isinstance(fact, Shelved) and fact.box == code:
            box.shelf = fact.shelf
        told = [*(one for one in told if one.since < day), Era(day, copy(box))]
    return _apart(_told_back(told))


def _told_back(eras: Sequence[Era]) -> Sequence[Era]:
    """The eras with what is told later for the first time."""
    for name in _COUNTS:
        first = next(
            (told for era in eras if (told := getattr(era.box, name)) not in (None, "")), None
        )
        for era in eras:
            if getattr(era.box, name) not in (None, ""):
                break
            if first is not None and not (name == "vents" and era.box.vents_as_written):
                setattr(era.box, name, first)
    return eras


def _apart(eras: Sequence[Era]) -> tuple[Era, ...]:
    found = [eras[0]]
    for era in eras[1:]:
        if any(getattr(era.box, name) != getattr(found[-1].box, name) for name in _COUNTS):
            found.append(era)
    return tuple(found)


def era_between(eras: Sequence[Era], first: date, second: date) -> Era | None:
    """The era of all days between two weighings; None where the box changed between them.

    What is told on the day of a weighing was done after it, for the one before the change, and
    before it, for the one after.
    """
    held = [one for one in eras if one.since <= first]
    if any(first < one.since < second for one in eras):
        return None
    return held[-1] if held else eras[0]
