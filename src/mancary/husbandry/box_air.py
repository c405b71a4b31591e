"""What a described box loses, and how damp its air is, before any weighing has corrected it."""

from dataclasses import dataclass
from typing import Final, NamedTuple

from mancary.husbandry.box_sketch import Sketch, sketched
from mancary.husbandry.facts.places import Air
from mancary.husbandry.sentences import tell
from mancary.husbandry.shelf_climate import ShelfClimate
from mancary.husbandry.states import Box
from mancary.husbandry.vent_flow import Exchange, crowded, exchange
from mancary.husbandry.vent_rows import Row, limits_of, rows_of, spread_of
from mancary.science.box import air_and_loss
from mancary.science.validity import OutsideValidity

SPEED_M_S: Final[dict[Air, float]] = {"cupboard": 0.011, "room": 0.053, "draughty": 0.3}
"""Air speed over the box. Published, seen as abstracts: a bedroom with its air off 1.1 cm/s and
six lived-in houses 5.3 cm/s in the middle (Matthews et al. 1987), workplaces 0.3 m/s on average
(Baldwin and Maynard 1998). Which of them a keeper's place is, is ours."""

_QUANTITIES: Final = {
    "temp_c": (tell("the temperature"), "°C", 1.0),
    "length_m": (tell("the box's length"), "cm", 100.0),
    "width_m": (tell("the box's width"), "cm", 100.0),
    "headspace_m": (tell("the air over the floor"), "cm", 100.0),
    "damp_share": (tell("the damp share of the floor"), "%", 100.0),
    "litter_m": (tell("the litter's depth"), "cm", 100.0),
    "diameter_m": (tell("the width of a vent"), "mm", 1000.0),
    "wall_m": (tell("the wall"), "mm", 1000.0),
}
"""What the sums call it, as a keeper does: its name, his unit, and how many of it one makes."""
_PASSES: Final = 6
_SETTLED_RH: Final = 1e-4
_FIRST_RH: Final = 0.95
_TEMP_LOW_C, _TEMP_HIGH_C = 15.0, 30.0
MOST_WARMER_C: Final = 3.0
"""°C: the model's own table of worked-out boxes goes so far above the room; ours beyond it."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a box stands: the shelf's °C and humidity 0..1, and how the air moves there.

    The box itself is ``warmer_c`` above the shelf, by a mat or by what stands below it.
    """

    temp_c: float
    rh_outside: float
    air: Air = "room"
    warmer_c: float = 0.0

    @property
    def box_c(self) -> float:
        """The temperature inside the box, °C."""
        return self.temp_c + self.warmer_c


def place_on(climate: ShelfClimate, box: Box) -> Place:
    """Where a box of the book stands: its shelf's climate, and how much warmer it is itself.

    Rounded to what instruments tell (0.1 °C, 1 point), so that boxes alike are worked out once.
    """
    return Place(
        temp_c=round(climate.temperature.middle, 1),
        rh_outside=round(climate.rh, 2),
        air=climate.air,
        warmer_c=box.warmer_c or 0.0,
    )


def warmer_said(box: Box) -> tuple[str, ...]:
    """The words for a box that is warmer than its shelf; none where it is not."""
    return (
        (tell("the box %(warmer_c)g °C warmer than its shelf, as told", box),)
        if box.warmer_c
        else ()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Modelled:
    """Loss in g a day, humidity 0..1 at both ends, air changes a day; each with its range.

    ``assumed`` says what nobody told, ``limits`` where the model is beyond its ground.
    """

    g_per_day_low: float
    g_per_day: float
    g_per_day_high: float
    rh_damp_low: float
    rh_damp: float
    rh_damp_high: float
    rh_dry_low: float
    rh_dry: float
    rh_dry_high: float
    air_changes_per_day_low: float
    air_changes_per_day: float
    air_changes_per_day_high: float
    spread: float
    assumed: tuple[str, ...]
    limits: tuple[str, ...]


class _OneBox(NamedTuple):
    g_per_day: float
    rh_damp: float
    rh_dry: float
    air_changes: float


def modelled(box: Box, place: Place) -> Modelled | None:
    """The air and the loss of a box from its description alone.

    None where its size or its vents are not told, where it has no vents (a tight lid leaks by its
    seam, which nobody can tell), or where the sums do not hold; ``why_not`` says which.
    """
    return _answer(box, place)[0]


def why_not(box: Box, place: Place) -> str:
    """Why nothing can be worked out for this box, as a sentence; empty where something can."""
    return _answer(box, place)[1]


def _answer(box: Box, place: Place) -> tuple[Modelled | None, str]:
    sketch = sketched(box)
    if sketch is None:
        return None, tell("Its size is not told: litres, or length and width.")
    if box.vents is None:
        return None, _vents_unknown(box)
    if not box.vents:
        return None, tell("It has no vents: what its lid's seam lets through cannot be told.")
    try:
        return _modelled(sketch, box, place), ""
    except OutsideValidity as outside:
        words, unit, by = _QUANTITIES.get(outside.quantity, (outside.quantity, "", 1.0))
        return None, (
            tell(
                "The sums do not hold here: %(words)s is %(value).3g %(unit)s; they need"
                " %(low).3g to %(high).3g.",
                words=words,
                value=outside.value * by,
                unit=unit,
                low=outside.low * by,
                high=outside.high * by,
            )
        ).replace(" ;", ";")


def _vents_unknown(box: Box) -> str:
    if not box.vents_as_written:
        return tell("Its vents are not told.")
    return tell(
        "Its vents are not known: “%(vents_as_written)s” is not understood. Tell them"
        " anew, like 24x3 mm lid.",
        box,
    )


def _modelled(sketch: Sketch, box: Box, place: Place) -> Modelled:
    assumed = list(sketch.assumed)
    rows = rows_of(box.vents or (), assumed)
    limits = [*sketch.limits, *limits_of(rows), *_place_limits(place)]
    if crowded(rows, sketch):
        limits.append(
            tell("Holes nearer than three diameters hinder each other: taken as three apart.")
        )
    spread = spread_of(rows)
    vents = _settled(sketch, rows, place)
    air, tight, wide = (_air(sketch, vents, place, by) for by in (1.0, 1 / spread, spread))
    return Modelled(
        g_per_day_low=air.g_per_day / spread,
        g_per_day=air.g_per_day,
        g_per_day_high=air.g_per_day * spread,
        rh_damp_low=wide.rh_damp,
        rh_damp=air.rh_damp,
        rh_damp_high=tight.rh_damp,
        rh_dry_low=wide.rh_dry,
        rh_dry=air.rh_dry,
        rh_dry_high=tight.rh_dry,
        air_changes_per_day_low=air.air_changes / spread,
        air_changes_per_day=air.air_changes,
        air_changes_per_day_high=air.air_changes * spread,
        spread=spread,
        assumed=tuple(dict.fromkeys(assumed)),
        limits=tuple(limits),
    )


def _settled(sketch: Sketch, rows: tuple[Row, ...], place: Place) -> Exchange:
    """The vents' exchange when the air inside and the flow it drives agree."""
    rh = _FIRST_RH
    for _ in range(_PASSES):
        vents = exchange(
            rows,
            sketch,
            temp_c=place.box_c,
            outside_temp_c=place.temp_c,
            rh_inside=rh,
            rh_outside=place.rh_outside,
            speed_m_s=SPEED_M_S[place.air],
        )
        air = _air(sketch, vents, place, 1.0)
        before, rh = rh, (air.rh_damp + air.rh_dry) / 2
        if abs(rh - before) < _SETTLED_RH:
            break
    return vents


def _air(sketch: Sketch, vents: Exchange, place: Place, by: float) -> _OneBox:
    """One box's air where the vents are worth ``by`` times what is worked out."""
    air = air_and_loss(
        temp_c=place.box_c,
        outside_temp_c=place.temp_c,
        rh_outside=place.rh_outside,
        length_m=sketch.length_m,
        width_m=sketch.width_m,
        headspace_m=sketch.headspace_m,
        damp_share=sketch.damp_share,
        vents_damp_m3_s=vents.damp_m3_s * by,
        vents_dry_m3_s=vents.dry_m3_s * by,
        litter_m=sketch.litter_m,
    )
    return _OneBox(
        g_per_day=float(air.loss_g_per_day),
        rh_damp=float(air.rh_damp),
        rh_dry=float(air.rh_dry),
        air_changes=float(air.air_changes_per_day),
    )


def _place_limits(place: Place) -> list[str]:
    limits = [
        tell("%(temp_c)g °C: the model was made for 15 to 30 °C.", temp_c=temp_c)
        for temp_c in dict.fromkeys((place.temp_c, round(place.box_c, 1)))
        if not _TEMP_LOW_C <= temp_c <= _TEMP_HIGH_C
    ]
    if place.warmer_c > MOST_WARMER_C:
        limits.append(
            tell(
                "A box %(warmer_c)g °C warmer than its shelf: the sums were made for up to"
                " %(most_warmer_c)g °C. A mat heats the floor more than the air, and water"
                " gathers on a cooler lid; both are left out.",
                place,
                most_warmer_c=MOST_WARMER_C,
            )
        )
    return limits
