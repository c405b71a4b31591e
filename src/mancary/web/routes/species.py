"""The finder of names, all pages by care group, and a species' own page."""

import secrets
from typing import Annotated

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body, Parameter
from litestar.response import Redirect
from msgspec import Struct

from mancary import handbook
from mancary.husbandry.facts import PageOpened
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.register import Register
from mancary.usecases.set_up import open_page
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.species_page import find_species, species_page
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError, OwnPageForm
from mancary.web.own_figures import FigureForm, figures_of_species
from mancary.web.threads import threaded
from mancary.web.tongue import _, sentence
from mancary.web.wording import species_address
from mancary.web.written import Written, WrittenIds, written_of


class GroupView(Struct, frozen=True, kw_only=True):
    """A care group and the names of its pages."""

    slug: str
    name: str
    pages: list[SpeciesName]


@get("/species", media_type=MediaType.HTML)
@threaded
def finder_page(
    request: Asked,
    desk: Desk,
    q: Annotated[str, Parameter(description="a name as bought or typed", max_length=200)] = "",
) -> Response[str]:
    """What a name may mean, with how sure that is; without one, all pages by care group."""
    with desk.open() as book:
        return _finder(request, book, q)


@post("/species", media_type=MediaType.HTML, status_code=303)
@threaded
def open_own_page(
    request: Asked,
    desk: Desk,
    data: Annotated[OwnPageForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Opens the keeper's own page for a form that the handbook does not hold."""
    with desk.open() as book:
        try:
            name = data.checked_name()
            receipt = open_page(book.book, name, data.care_group, pen=book.pen)
        except Refusal as fault:
            field = fault.field if isinstance(fault, FormError) else "care_group"
            fault = FormError(field, sentence(fault))
            return _finder(request, book, data.name, fault=fault, status=422)
        opened = receipt.entries[0].fact
        assert isinstance(opened, PageOpened)
        return Redirect(species_address(opened.species), status_code=303)


@get("/species/{slug:str}", media_type=MediaType.HTML)
@threaded
def species_sheet(
    request: Asked, desk: Desk, slug: str, written: WrittenIds = None
) -> Response[str]:
    """All that is known of a species, how well, and what the keeper's own boxes say."""
    with desk.open() as book:
        just = written_of(book.book, written)
        return page_of_species(request, book, slug.lower(), just=just)


def page_of_species(
    request: Asked,
    book: OpenDesk,
    slug: str,
    *,
    just: Written | None = None,
    figure_fault: FormError | None = None,
    figure: FigureForm | None = None,
) -> Response[str]:
    """A species' page, with what was typed where a field does not fit."""
    page = species_page(book.book, slug)
    register = register_of(book.book, book.zone)
    return book.page(
        request,
        "species.html",
        status=422 if figure_fault else 200,
        page=page,
        group=handbook.group(page.care_group) if page.care_group else None,
        parent=species_name(register, page.parent) if page.parent else None,
        just=just,
        own_figures=figures_of_species(register, slug, page.care_group),
        figure_fault=figure_fault,
        figure_told=figure or FigureForm(),
        once=secrets.token_hex(16),
    )


def _finder(
    request: Asked,
    book: OpenDesk,
    words: str,
    *,
    fault: FormError | None = None,
    status: int = 200,
) -> Response[str]:
    found = find_species(book.book, words) if words.strip() else None
    register = register_of(book.book, book.zone)
    return book.page(
        request,
        "finder.html",
        status=status,
        q=words,
        found=found,
        named={one.slug: species_name(register, one.slug) for one in found.proposals}
        if found
        else {},
        guesses=found.groups if found else (),
        care_groups=handbook.groups(),
        groups=[] if found else _groups(register),
        fault=fault,
    )


def _groups(register: Register) -> list[GroupView]:
    names = [species_name(register, slug) for slug in handbook.species_slugs()]
    own = [species_name(register, slug) for slug in register.pages]
    held: dict[str, list[SpeciesName]] = {}
    for name in sorted((*names, *own), key=lambda one: one.name):
        held.setdefault(name.care_group, []).append(name)
    views = [
        GroupView(slug=group.slug, name=group.name, pages=held.get(group.slug, []))
        for group in handbook.groups()
    ]
    apart = GroupView(slug="", name=_("in no care group"), pages=held.get("", []))
    return [view for view in (*views, apart) if view.pages]
