"""Which holes to drill into a box: for its species, its size and its place, several choices."""

from dataclasses import replace
from datetime import date
from typing import Literal

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.box_air import Place, modelled, place_on, warmer_said, why_not
from mancary.husbandry.box_sketch import Sketch, sketched
from mancary.husbandry.cautions import DRILLING
from mancary.husbandry.facts.places import Air
from mancary.husbandry.lid_wet import wet_lid_said
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell
from mancary.husbandry.shelf_climate import ShelfClimate, shelf_climate
from mancary.husbandry.states import Box, Line
from mancary.husbandry.vent_advice import Advice, advised
from mancary.husbandry.vent_choices import (
    DRILLS_MM,
    Choice,
    Holes,
    Target,
    Tool,
    choices,
    drilled,
    given,
)
from mancary.usecases.record import known_box
from mancary.usecases.shelf_readings import climate_of
from mancary.usecases.standings import register_of
from mancary.usecases.vent_targets import Wanted, damp_share_of, target_of
from mancary.usecases.zone import zone_of

EMPTY = tell(
    "Drill the box empty, away from the animals: shaking and chips harm them."
    " Brush out every chip, and begin with fewer holes: more can be drilled, none"
    " can be undone but with tape."
)
HEAT = tell(
    "A heat mat is in these sums only where the book tells how much warmer the box"
    " is than its shelf. A box 1 °C warmer than its room loses about a tenth more"
    " (modelled). Mats and lamps only with a thermostat and a tested plug, never"
    " under a stack or in a shut cupboard. Where local rules say more, they go"
    " first."
)
ENDS_ALIKE = tell(
    "The air differs little between the ends of a small box; the floor differs"
    " much. What the animals choose between is the floor: keep one end damp and"
    " the other dry."
)
UNPROVED = tell(
    "Worked out, never compared with a real box. The lid is taken as tight; a"
    " loose one takes up to a fifth more (modelled). The range is what the sums"
    " may be wrong by before any weighing (a judgement, ours); weigh the box twice"
    " and your own scale knows better."
)
_DRILLED_LOW_MM, _DRILLED_HIGH_MM = 0.5, 30.0
_MOST_DRILLS = 8


class Wish(Struct, frozen=True, kw_only=True):
    """What the keeper says. Sizes go before those of the box in the book; ``humidity`` is 0..1.

    What is not said of the place (``air`` empty) is that of the box's shelf, else a usual room's.
    """

    box: str = ""
    litres: float | None = None
    length_cm: float | None = None
    width_cm: float | None = None
    height_cm: float | None = None
    drills_mm: tuple[float, ...] = ()
    air: Air | Literal[""] = ""
    temp_c: float | None = None
    humidity: float | None = None
    wanted: Wanted = Wanted()


class BoxTaken(Struct, frozen=True, kw_only=True):
    """The box the sums are for; sides in cm, inside. ``air_litres`` is what is over the floor."""

    code: str
    litres: float
    length_cm: float
    width_cm: float
    height_cm: float
    air_litres: float
    damp_share: float
    wall_mm: float


class VentsAnswer(Struct, frozen=True, kw_only=True):
    """The choices side by side, what the present vents give, and all that was assumed.

    ``as_it_is_meets`` where the middle of the present vents' range is what is wanted already.
    ``take`` is the one of the choices that is advised, None where there is none.
    ``as_it_is`` is None without vents in the book, and ``as_it_is_not`` says why.
    """

    box: BoxTaken
    temp_c: float
    humidity: float
    air: Air
    target: Target
    as_it_is: Holes | None
    as_it_is_not: str
    as_it_is_meets: bool
    take: Advice | None
    choices: tuple[Choice, ...]
    left_out: tuple[str, ...]
    assumed: tuple[str, ...]
    limits: tuple[str, ...]
    to_know: tuple[str, ...]
    cautions: tuple[str, ...]


def vents_for(book: Book | None, wish: Wish) -> VentsAnswer:
    """The choices of holes for what the keeper says.

    Raises:
        Refusal: where size or what is wanted is not said, or a figure cannot be.
        UnknownSubject: when there is no such box in the book.
    """
    box, line = _box(book, wish)
    assumed: list[str] = []
    species, own_line = (line.species, line.slug) if line else ("", "")
    target, slug = target_of(book, wish.wanted, species, box=box.code, line=own_line)
    if box.damp_share is None and slug and (share := damp_share_of(book, slug)):
        box = replace(box, damp_share=share[0])
        assumed.append(share[1])
    sketch = sketched(box)
    if sketch is None:
        raise Refusal(tell("Say how large the box is: litres, or length, width and height."))
    place = _place(book, wish, box, assumed)
    if refused := why_not(replace(box, vents=drilled("lid", 2, Tool(3.0))), place):
        raise Refusal(refused)
    found = choices(box, target, place, _drills(wish))
    present = modelled(box, place)
    wet = wet_lid_said(box, place, present) if present else ""
    holes = sum(vent.count for vent in box.vents or ())
    as_it_is = given(present, holes) if present else None
    figure = getattr(as_it_is, target.measure) if as_it_is else 0.0
    limits = [*sketch.limits, *(line for one in found.choices for line in one.gives.limits)]
    return VentsAnswer(
        box=_taken(box, sketch),
        temp_c=place.temp_c,
        humidity=place.rh_outside,
        air=place.air,
        target=target,
        as_it_is=as_it_is,
        as_it_is_not="" if present else why_not(box, place),
        as_it_is_meets=target.low <= figure <= target.high,
        take=advised(found.choices, wanted=target.middle, measure=target.measure),
        choices=found.choices,
        left_out=found.left_out,
        assumed=(*sketch.assumed, *assumed),
        limits=tuple(dict.fromkeys(limits)),
        to_know=tuple(filter(None, (ENDS_ALIKE, wet, UNPROVED))),
        cautions=(DRILLING, EMPTY, HEAT),
    )


def drawn(answer: VentsAnswer, choice: Choice | None) -> Box:
    """The box with the holes of a choice, as a box of the register, to be drawn."""
    taken = answer.box
    return Box(
        taken.code or tell("of %(litres).3g L", taken),
        first_told="",
        litres=taken.litres,
        length_cm=taken.length_cm,
        width_cm=taken.width_cm,
        height_cm=taken.height_cm,
        damp_share=taken.damp_share,
        vents=choice.vents if choice else (),
    )


def _box(book: Book | None, wish: Wish) -> tuple[Box, Line | None]:
    """The box with what is said of it now, and the line that lives in it."""
    told = {
        name: value
        for name in ("litres", "length_cm", "width_cm", "height_cm")
        if (value := getattr(wish, name)) is not None
    }
    for name, value in told.items():
        if not 0 < value <= 1000:
            raise Refusal(
                tell(
                    "%(replace)s %(value)g: no box is of that size.",
                    replace=name.replace("_", " "),
                    value=value,
                )
            )
    if not wish.box.strip():
        return Box("", first_told="", **told), None
    if book is None:
        raise Refusal(tell("There is no book here to look the box up in; say its litres instead."))
    code = known_box(book, wish.box)
    register = register_of(book, zone_of(book))
    line = register.line_in(code)
    box = register.boxes.get(code) or Box(code, first_told="")
    if told:
        bare = replace(box, litres=None, length_cm=None, width_cm=None, height_cm=None)
        box = replace(bare, **told)
    return box, line


def _place(book: Book | None, wish: Wish, box: Box, assumed: list[str]) -> Place:
    """The last look at the box's shelf, with what is said now in its stead."""
    climate = _climate(book, box)
    place = place_on(climate, box)
    said = (
        (wish.temp_c is None, climate.temperature_said),
        (wish.humidity is None, climate.humidity_said),
        (not wish.air, climate.air_said),
    )
    assumed += [words for unsaid, words in said if unsaid]
    assumed += warmer_said(box)
    temp = place.temp_c if wish.temp_c is None else wish.temp_c
    humidity = place.rh_outside if wish.humidity is None else wish.humidity
    if not 0 <= humidity < 1:
        raise Refusal(tell("The room's humidity is a share of 0 to less than 100 %."))
    if not 5 <= temp <= 40:
        raise Refusal(tell("%(temp)g °C: the sums hold from 5 to 40 °C.", temp=temp))
    return Place(temp, humidity, wish.air or climate.air, place.warmer_c)


def _climate(book: Book | None, box: Box) -> ShelfClimate:
    if book is None:
        room = handbook.ventilation_room()
        return shelf_climate("", warmth=(), damp=(), air=None, room=room)
    return climate_of(book, box.shelf, on=date.max, zone=zone_of(book), newest=True)


def _drills(wish: Wish) -> tuple[float, ...]:
    drills = tuple(sorted(set(wish.drills_mm))) or DRILLS_MM
    for mm in drills:
        if not _DRILLED_LOW_MM <= mm <= _DRILLED_HIGH_MM:
            raise Refusal(tell("A drill of %(mm)g mm: expected 0.5 to 30 mm.", mm=mm))
    if len(drills) > _MOST_DRILLS:
        raise Refusal(
            tell(
                "%(drills)s drills: compare at most %(most_drills)s at once.",
                drills=len(drills),
                most_drills=_MOST_DRILLS,
            )
        )
    return drills


def _taken(box: Box, sketch: Sketch) -> BoxTaken:
    air = sketch.length_m * sketch.width_m * sketch.headspace_m * 1000
    return BoxTaken(
        code=box.code,
        litres=round(sketch.litres, 2),
        length_cm=round(sketch.length_m * 100, 1),
        width_cm=round(sketch.width_m * 100, 1),
        height_cm=round(sketch.height_m * 100, 1),
        air_litres=round(air, 2),
        damp_share=sketch.damp_share,
        wall_mm=round(sketch.wall_m * 1000, 2),
    )
