"""The same answers for programs, as JSON."""

from datetime import timedelta
from typing import Annotated

from litestar import Router, get
from litestar.enums import MediaType
from litestar.params import Parameter

from mancary.usecases.away import Away, plan_absence
from mancary.usecases.box_card import BoxCard, box_card
from mancary.usecases.culture import Culture, culture_in
from mancary.usecases.grow import Grow, Surplus, Taking, grow, surplus, taking
from mancary.usecases.hygrometers import Hygrometer, hygrometer, hygrometers
from mancary.usecases.species_page import SpeciesPage, species_page
from mancary.usecases.vents import VentsAnswer, vents_for
from mancary.usecases.wants import WantsList, wants_list
from mancary.usecases.watch import Watch, watch
from mancary.web.desk import Desk
from mancary.web.threads import threaded
from mancary.web.typed import day_typed, number_typed, whole_typed
from mancary.web.vents_form import vents_form

FORTNIGHT = timedelta(days=14)
TakingTyped = Annotated[str, Parameter(query="taking", description="animals to be taken")]


@get("/wants", media_type=MediaType.JSON)
@threaded
def wants_twin(desk: Desk) -> WantsList:
    """What every box wants on the day; durations in days."""
    with desk.open() as book:
        return wants_list(book.book, on=book.on)


@get("/boxes/{box:path}", media_type=MediaType.JSON)
@threaded
def box_twin(desk: Desk, box: str) -> BoxCard:
    """A box's card with its whole time line."""
    with desk.open() as book:
        return box_card(book.book, box.strip("/"), on=book.on)


@get("/species/{slug:str}", media_type=MediaType.JSON)
@threaded
def species_twin(desk: Desk, slug: str) -> SpeciesPage:
    """A species' figures with kind and source, and what the keeper's own boxes say."""
    with desk.open() as book:
        return species_page(book.book, slug.lower())


@get("/away", media_type=MediaType.JSON)
@threaded
def away_twin(desk: Desk, leaving: str = "", back: str = "", heat: str = "") -> Away:
    """An absence: each box's chance and reserve in days, the visits, the rack of the stand-in.

    Without dates a fortnight from the day on; ``heat`` in °C more than usual.
    """
    with desk.open() as book:
        first = day_typed(leaving, "leaving") or book.on
        return plan_absence(
            book.book,
            leaving=first,
            back=day_typed(back, "back") or first + FORTNIGHT,
            heat_c=number_typed(heat, "heat") or 0.0,
            today=book.on,
        )


@get("/vents", media_type=MediaType.JSON)
@threaded
def vents_twin(
    desk: Desk,
    box: str = "",
    litres: str = "",
    length_cm: str = "",
    width_cm: str = "",
    height_cm: str = "",
    species: str = "",
    ventilation: str = "",
    room: str = "",
    temp_c: str = "",
    humidity: str = "",
    mm: str = "",
    ml_a_week: str = "",
    air_changes: str = "",
) -> VentsAnswer:
    """Which drills and how many holes, with the fields of the page; humidity typed in percent.

    What comes back is in 0..1 for humidity, mL a week, air changes a day and millimetres.
    """
    form = vents_form(
        {
            "box": box,
            "litres": litres,
            "length_cm": length_cm,
            "width_cm": width_cm,
            "height_cm": height_cm,
            "species": species,
            "ventilation": ventilation,
            "room": room,
            "temp_c": temp_c,
            "humidity": humidity,
            "mm": mm,
            "ml_a_week": ml_a_week,
            "air_changes": air_changes,
        }
    )
    with desk.open() as book:
        return vents_for(book.book, form.wish())


@get("/hygrometer", media_type=MediaType.JSON)
@threaded
def hygrometer_twin(desk: Desk, instrument: str = "") -> tuple[Hygrometer, ...]:
    """How every hygrometer stands by its salt test, or the one named; humidities are 0..1."""
    with desk.open() as book:
        if instrument.strip():
            return (hygrometer(book.book, instrument, on=book.on),)
        return hygrometers(book.book, on=book.on)


@get("/watch", media_type=MediaType.JSON)
@threaded
def watch_twin(desk: Desk) -> Watch:
    """Every colony by its chance (0..1) to fall below five in 12 weeks, starters last."""
    with desk.open() as book:
        return watch(book.book, on=book.on, learn=book.learns)


@get("/colony/{box:path}", media_type=MediaType.JSON)
@threaded
def colony_twin(desk: Desk, box: str) -> Grow | Culture:
    """How the colony of a box goes: juveniles and adults, 90 % ranges of a model's runs.

    Of a springtail culture: days to double, and the share 0..1 that may go each week.
    """
    with desk.open() as book:
        if culture := culture_in(book.book, box.strip("/"), on=book.on):
            return culture
        return grow(book.book, box.strip("/"), on=book.on, learn=book.learns)


@get("/surplus/{box:path}", media_type=MediaType.JSON)
@threaded
def surplus_twin(desk: Desk, box: str, taking_animals: TakingTyped = "") -> Surplus | Taking:
    """How many may go from a box and what binds; with ``taking`` what so many fewer would mean."""
    with desk.open() as book:
        animals = whole_typed(taking_animals, "taking", "a number of animals")
        if animals is None:
            return surplus(book.book, box.strip("/"), on=book.on, learn=book.learns)
        return taking(book.book, box.strip("/"), animals, on=book.on, learn=book.learns)


TWINS = Router(
    "/json",
    route_handlers=[
        wants_twin,
        box_twin,
        species_twin,
        away_twin,
        vents_twin,
        hygrometer_twin,
        watch_twin,
        colony_twin,
        surplus_twin,
    ],
)
