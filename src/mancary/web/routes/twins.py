"""The same answers for programs, as JSON."""

from litestar import Router, get
from litestar.enums import MediaType

from mancary.usecases.box_card import BoxCard, box_card
from mancary.usecases.species_page import SpeciesPage, species_page
from mancary.usecases.wants import WantsList, wants_list
from mancary.web.desk import Desk
from mancary.web.threads import threaded


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


TWINS = Router("/json", route_handlers=[wants_twin, box_twin, species_twin])
