"""Before an absence: what to do, how sure each box is, and the sheet of the stand-in."""

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import get_args

from msgspec import Struct
from msgspec.structs import replace

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.absence import (
    RISK,
    Reserve,
    RestsOn,
    Visit,
    absence_days,
    chance_used_up,
    shortened,
    visits,
)
from mancary.husbandry.absence_pour import Pour, Usual, with_pours
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell
from mancary.husbandry.shelf_climate import ShelfClimate
from mancary.husbandry.states import Box
from mancary.husbandry.wants import Want
from mancary.husbandry.warming import drying_factor
from mancary.husbandry.water_state import BoxWater, whole
from mancary.usecases.away_said import (
    BASIS,
    RULES,
    STAND_IN,
    AirTaken,
    air_taken,
    length_said,
    rests_said,
    visits_said,
)
from mancary.usecases.reserve import reserve_of
from mancary.usecases.shelf_readings import climate_of
from mancary.usecases.stand_in import ShelfToWet, rack_to_wet
from mancary.usecases.standings import register_of, standings_of
from mancary.usecases.tray import size_band
from mancary.usecases.wants import BoxWants, wants_list
from mancary.usecases.water import water_in
from mancary.usecases.zone import zone_of


class BoxAway(Struct, frozen=True, kw_only=True):
    """One box: the chance that its reserve is used up, and what it gets before the leaving.

    ``water_said`` is for the keeper on the day of leaving; ``pour`` is what the stand-in pours on
    each of its visits, None where it has none.
    """

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
    pour: Pour | None = None


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


def plan_absence(
    book: Book, *, leaving: date, back: date, heat_c: float = 0.0, today: date | None = None
) -> Away:
    """What an absence means for every box with a colony.

    ``heat_c`` assumes so many degrees more than usual for the whole time. ``today`` left out, days
    that are past are planned too.

    Raises:
        Refusal: for dates that are no absence or are over, or a heat that is none.
    """
    days = absence_days(leaving, back)
    if today and back <= today:
        raise Refusal(
            tell("Back on %(back)s: that is past. Today is %(today)s.", back=back, today=today)
        )
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
            water_in(book, register, one.box, on=leaving, zone=zone)
            if one.box in weighed
            else None,
            airs[one.box],
            back,
            days,
            heat_c,
        )
        for one in listed.boxes
    ]
    risky = {one.box: one.reserve for one in boxes if one.chance_dry > RISK}
    wanted = visits(risky, [one.box for one in boxes], leaving=leaving, back=back)
    usual = {box: _usual(register.boxes[box].litres) for box in risky}
    found, pours = with_pours(wanted, risky, usual, leaving=leaving)
    boxes = [replace(one, pour=pours.get(one.box)) for one in boxes]
    rests = Counter(one.rests_on for one in boxes)
    return Away(
        leaving=leaving,
        back=back,
        days=days,
        heat_c=heat_c,
        boxes=tuple(sorted(boxes, key=lambda one: -one.chance_dry)),
        visits=found,
        rack=rack_to_wet(register, {box: pour.said for box, pour in pours.items()}, found),
        air=air_taken(list(airs.values()), heat_c),
        rests_on={name: rests[name] for name in get_args(RestsOn)},
        rests_on_said=rests_said(rests, [one.box for one in boxes if one.reserve.doubt]),
        rules=(*RULES, length_said(days), *visits_said(found, risky)),
        stand_in=STAND_IN,
        basis=BASIS,
        invented=listed.invented,
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
    if heat_c:
        reserve = shortened(reserve, *drying_factor(heat_c, climate.temperature.middle))
    return BoxAway(
        box=one.box,
        shelf=one.shelf,
        position=one.position,
        species=one.species.name if one.species else "",
        chance_dry=round(chance_used_up(reserve, days), 3),
        reserve=reserve,
        rests_on=reserve.rests_on,
        temp_c=round(climate.temperature.middle + heat_c, 1),
        humidity=round(climate.rh, 3),
        water_said=_water(box.litres, water),
        before=(*([reserve.doubt] if reserve.doubt else []), *_before(one.wants, back)),
    )


def _mist(litres: float | None) -> handbook.Amount | None:
    band = size_band(litres)
    return next((a for a in handbook.amounts() if a.care == "mist" and a.box == band), None)


def _usual(litres: float | None) -> Usual:
    told = _mist(litres)
    return (told.low or 0.0, told.high or 0.0) if told else (0.0, 0.0)


def _water(litres: float | None, water: BoxWater | None) -> str:
    """What the keeper gives on the day of leaving: up to the weight he marked, where he did.

    That weight with what was put in since, as a range where that is not known.
    """
    if water and water.right_now_g is not None and water.full_g is not None:
        return tell(
            "up to about %(right_now_g)s g on the scale, its just right",
            right_now_g=whole(water.right_now_g),
        )
    told = _mist(litres)
    size = "" if litres else tell(" (its size is not told)")
    return told.said + size if told else tell("as usual")


def _before(wants: Sequence[Want], back: date) -> list[str]:
    """What would be wanted before the return and can be done beforehand."""
    asked = {
        "leaf_litter": tell("leaf litter"),
        "springtail_check": tell("look for springtails, add some where they are few"),
        "calcium": tell("calcium powder"),
    }
    due = {
        want.care
        for want in wants
        if want.state in ("late", "due", "no_record") or (want.latest and want.latest <= back)
    }
    return [tell("water at the damp end"), *(words for care, words in asked.items() if care in due)]
