"""Before an absence: what to do, how sure each box is, and the sheet of the stand-in."""

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import Literal, get_args

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
from mancary.husbandry.shelf_climate import ShelfClimate
from mancary.husbandry.states import Box
from mancary.husbandry.wants import Want
from mancary.husbandry.warming import drying_factor
from mancary.husbandry.water_state import BoxWater
from mancary.usecases.reserve import reserve_of
from mancary.usecases.shelf_readings import climate_of
from mancary.usecases.stand_in import ShelfToWet, rack_to_wet
from mancary.usecases.standings import register_of, standings_of
from mancary.usecases.tray import size_band
from mancary.usecases.wants import BoxWants, wants_list
from mancary.usecases.water import water_of
from mancary.usecases.zone import zone_of

_FRESH_DAYS = 2
_SHORT_DAYS, _LONG_DAYS = 10, 21
"""Up to the first no visit is usual, up to the second one, by common practice (from memory)."""


RestsOn = Literal["weighings", "model", "rhythm"]
"""The best a reserve is known by; the model's answer is never shorter than the rhythm's."""


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


class BoxAway(Struct, frozen=True, kw_only=True):
    """One box: the chance that its reserve is used up, and what it gets before the leaving."""

    box: str
    shelf: str
    position: int | None
    species: str
    chance_dry: float
    reserve: Reserve
    rests_on: RestsOn
    temp_c: float
    humidity: float
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
    rack: tuple[ShelfToWet, ...]
    air: AirTaken | None
    rests_on: dict[str, int]
    rests_on_said: str
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
    drying_factor(heat_c)
    zone = zone_of(book)
    register = register_of(book, zone, until=leaving)
    listed = wants_list(book, on=leaving, weighed=False)
    standings = standings_of(book, zone, until=leaving)
    weighed = frozenset(code for code, one in standings.items() if one.just_right)
    airs = {one.box: climate_of(book, one.shelf, on=leaving, zone=zone) for one in listed.boxes}
    boxes = [
        _box(
            register.boxes[one.box],
            one,
            water_of(book, one.box, on=leaving) if one.box in weighed else None,
            airs[one.box],
            back,
            days,
            heat_c,
        )
        for one in listed.boxes
    ]
    risky = {one.box: one.reserve for one in boxes if one.chance_dry > RISK}
    found = visits(risky, [one.box for one in boxes], leaving=leaving, back=back)
    rests = Counter(one.rests_on for one in boxes)
    return Away(
        leaving=leaving,
        back=back,
        days=days,
        heat_c=heat_c,
        boxes=tuple(sorted(boxes, key=lambda one: -one.chance_dry)),
        visits=found,
        rack=rack_to_wet(register, {one.box: one.water_said for one in boxes}, found),
        air=_air_taken(list(airs.values()), heat_c),
        rests_on={name: rests[name] for name in get_args(RestsOn)},
        rests_on_said=_rests_said(rests),
        rules=(*RULES, _length_said(days)),
        stand_in=STAND_IN,
        basis=BASIS,
        invented=listed.invented,
    )


def _rests_said(rests: Counter[RestsOn]) -> str:
    if not rests:
        return "No box holds a colony."
    return (
        f"Of {rests.total()} boxes {rests['weighings']} rest on their weighings,"
        f" {rests['model']} on the model of their vents beside the misting rhythm,"
        f" {rests['rhythm']} on the rhythm alone."
    )


def _air_taken(airs: Sequence[ShelfClimate], heat_c: float) -> AirTaken | None:
    if not airs:
        return None
    temps, damps = [one.temperature.middle for one in airs], [one.rh for one in airs]
    read = sum(not one.temperature_is_assumed for one in airs)
    damp_read = sum(one.humidity is not None for one in airs)
    hot = f", and {heat_c:g} °C on top of it" if heat_c else ""
    return AirTaken(
        temp_c_low=round(min(temps), 1),
        temp_c_high=round(max(temps), 1),
        humidity_low=round(min(damps), 3),
        humidity_high=round(max(damps), 3),
        boxes=len(airs),
        read=read,
        damp_read=damp_read,
        said=(
            f"Reckoned at {_span(min(temps), max(temps))} °C, each box as its shelf{hot}; the"
            f" shelf’s thermometer was read lately for {read} of {len(airs)} boxes, else it is"
            f" assumed. Humidity of the room {_span(min(damps) * 100, max(damps) * 100, 0)} %,"
            f" read for {damp_read}, else assumed."
        ),
    )


def _span(low: float, high: float, digits: int = 1) -> str:
    least, most = f"{low:.{digits}f}", f"{high:.{digits}f}"
    return least if least == most else f"{least} to {most}"


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
    box: Box,
    one: BoxWants,
    water: BoxWater | None,
    climate: ShelfClimate,
    back: date,
    days: int,
    heat_c: float,
) -> BoxAway:
    reserve = reserve_of(box, one, water, climate)
    rests_on = _rests_on(reserve)
    if heat_c:
        reserve = shortened(reserve, *drying_factor(heat_c, climate.temperature.middle))
    return BoxAway(
        box=one.box,
        shelf=one.shelf,
        position=one.position,
        species=one.species.name if one.species else "",
        chance_dry=round(chance_used_up(reserve, days), 3),
        reserve=reserve,
        rests_on=rests_on,
        temp_c=round(climate.temperature.middle + heat_c, 1),
        humidity=round(climate.rh, 3),
        water_said=_water(box.litres),
        before=tuple(_before(one.wants, back)),
    )


def _rests_on(reserve: Reserve) -> RestsOn:
    if reserve.basis.startswith("its weighings"):
        return "weighings"
    return "model" if "a model, not weighed" in reserve.basis else "rhythm"


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
