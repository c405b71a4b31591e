"""Before an absence: what to do, how sure each box is, and the sheet of the stand-in."""

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.absence import (
    RISK,
    Reserve,
    Visit,
    absence_days,
    chance_used_up,
    shortened,
    visits,
)
from mancary.husbandry.register import Register
from mancary.husbandry.wants import Want
from mancary.husbandry.warming import drying_factor
from mancary.usecases.reserve import reserve_of
from mancary.usecases.standings import register_of, standings_of
from mancary.usecases.tray import size_band
from mancary.usecases.wants import BoxWants, wants_list
from mancary.usecases.water import water_of
from mancary.usecases.zone import zone_of

_FRESH_DAYS = 2
_SHORT_DAYS, _LONG_DAYS = 10, 21
"""Up to the first no visit is usual, up to the second one, by common practice (from memory)."""


class BoxAway(Struct, frozen=True, kw_only=True):
    """One box: the chance that its reserve is used up, and what it gets before the leaving."""

    box: str
    shelf: str
    position: int | None
    species: str
    chance_dry: float
    reserve: Reserve
    water_said: str
    before: tuple[str, ...]


class Away(Struct, frozen=True, kw_only=True):
    """The absence, its boxes by chance, the visits, and the rules that need no model."""

    leaving: date
    back: date
    days: int
    heat_c: float
    boxes: tuple[BoxAway, ...]
    visits: tuple[Visit, ...]
    rules: tuple[str, ...]
    stand_in: tuple[str, ...]
    basis: str
    invented: bool

    def asked(self) -> dict[str, list[BoxAway]]:
        """What is done before leaving, with the boxes it is done to, by their codes."""
        told: dict[str, list[BoxAway]] = {}
        for one in sorted(self.boxes, key=lambda box: box.box):
            for words in one.before:
                told.setdefault(words, []).append(one)
        return told


RULES = (
    f"No fresh food and no protein in the last {_FRESH_DAYS} days: what is left spoils unseen.",
    "Take leftovers out on the day of leaving.",
    "Wet the damp end only, up to its usual wetness and no further: a box can also drown.",
    "Fill leaf litter up: it is the food of the absence.",
    "A cooler room by a few degrees and shade lengthen every reserve.",
    "No mat or lamp without a thermostat, and none that nobody looks after.",
)
STAND_IN = (
    "Wet only the boxes on this sheet, at their damp end, with the amount written here.",
    "No food, no fruit, no cleaning. Do not open the other boxes. Move nothing between boxes.",
    "Wash hands before and after; no flower sprays, no perfume, no insecticide in the room.",
    "Shellfish or dust-mite allergy: gloves and mask, or leave it to another.",
    "If a box smells, swarms or looks wrong: close it, and ring.",
)
BASIS = (
    "The chance is the model's: the reserve's days as a log-normal between its low and its high"
    " estimate (ours). Rules and amounts are common practice, from memory, or yours."
)


def plan_absence(book: Book, *, leaving: date, back: date, heat_c: float = 0.0) -> Away:
    """What an absence means for every box with a colony.

    ``heat_c`` assumes so many degrees more than usual for the whole time.

    Raises:
        Refusal: for dates that are no absence, or a heat that is none.
    """
    days = absence_days(leaving, back)
    factor, why = drying_factor(heat_c)
    register = register_of(book, zone_of(book), until=leaving)
    listed = wants_list(book, on=leaving)
    standings = standings_of(book, zone_of(book), until=leaving)
    weighed = frozenset(code for code, one in standings.items() if one.just_right)
    boxes = [_box(book, register, one, leaving, back, factor, why, weighed) for one in listed.boxes]
    risky = {one.box: one.reserve for one in boxes if one.chance_dry > RISK}
    walk = [one.box for one in boxes]
    return Away(
        leaving=leaving,
        back=back,
        days=days,
        heat_c=heat_c,
        boxes=tuple(sorted(boxes, key=lambda one: -one.chance_dry)),
        visits=visits(risky, walk, leaving=leaving, back=back),
        rules=(*RULES, _length_said(days)),
        stand_in=STAND_IN,
        basis=BASIS,
        invented=listed.invented,
    )


def _length_said(days: int) -> str:
    if days <= _SHORT_DAYS:
        return f"Up to {_SHORT_DAYS} days most boxes are left alone (common practice, from memory)."
    if days <= _LONG_DAYS:
        return (
            f"{_SHORT_DAYS} to {_LONG_DAYS} days: one visit by a stand-in with a one-page sheet is"
            " usual (common practice, from memory)."
        )
    return (
        f"More than {_LONG_DAYS} days: hand backups of your lines to another keeper (common"
        " practice, from memory)."
    )


def _box(
    book: Book,
    register: Register,
    one: BoxWants,
    leaving: date,
    back: date,
    factor: float,
    why: str,
    weighed: frozenset[str],
) -> BoxAway:
    water = water_of(book, one.box, on=leaving) if one.box in weighed else None
    reserve = reserve_of(register.boxes[one.box], one, water)
    if factor != 1:
        reserve = shortened(reserve, factor, why)
    return BoxAway(
        box=one.box,
        shelf=one.shelf,
        position=one.position,
        species=one.species.name if one.species else "",
        chance_dry=round(chance_used_up(reserve, (back - leaving).days), 3),
        reserve=reserve,
        water_said=_water(register.boxes[one.box].litres),
        before=tuple(_before(one.wants, back)),
    )


def _water(litres: float | None) -> str:
    band = size_band(litres)
    told = next((a for a in handbook.amounts() if a.care == "mist" and a.box == band), None)
    size = "" if litres else " (its size is not told)"
    return f"{told.said}{size}" if told else "as usual"


def _before(wants: Sequence[Want], back: date) -> list[str]:
    """What would be wanted before the return and can be done beforehand."""
    asked = {
        "leaf_litter": "leaf litter",
        "springtail_check": "look for springtails, add some where they are few",
        "calcium": "calcium powder",
    }
    due = {
        want.care
        for want in wants
        if want.state in ("late", "due", "no_record") or (want.latest and want.latest <= back)
    }
    return ["water at the damp end", *(words for care, words in asked.items() if care in due)]
