"""The register as it is looked through: found by words, sorted by one column."""

from collections.abc import Callable
from datetime import tzinfo
from typing import Any, Final

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import natural
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import register_of


class Registered(Struct, frozen=True, kw_only=True):
    """A box in the register, spare ones and those out of use too."""

    box: str
    shelf: str
    position: int | None
    litres: float | None
    state: str
    species: SpeciesName | None
    line: str
    morph: str
    as_bought: str
    since: str


SORTS: Final[dict[str, Callable[[Registered], Any]]] = {
    "box": lambda one: natural(one.box),
    "shelf": lambda one: (not one.shelf, natural(one.shelf), one.position or 10**6),
    "species": lambda one: (one.species is None, one.species.name if one.species else ""),
    "since": lambda one: (not one.since, one.since),
    "litres": lambda one: (one.litres is None, one.litres or 0.0),
}


def found_boxes(book: Book, zone: tzinfo, *, words: str, sort: str) -> list[Registered]:
    """The boxes in which every one of the words is found; an unknown sort is by box."""
    register = register_of(book, zone)
    every = [_registered(register, box) for box in register.boxes.values()]
    wanted = words.casefold().split()
    found = [one for one in every if all(word in _text(one) for word in wanted)]
    found.sort(key=SORTS["box"])
    return sorted(found, key=SORTS.get(sort, SORTS["box"]))


def _text(one: Registered) -> str:
    name = one.species.name if one.species else ""
    told = (one.box, one.shelf, name, one.line, one.morph, one.as_bought, one.state)
    return " ".join(told).casefold()


def _registered(register: Register, box: Box) -> Registered:
    colony, line = register.colony_in(box.code), register.line_in(box.code)
    return Registered(
        box=box.code,
        shelf=box.shelf,
        position=box.position,
        litres=box.litres,
        state=_state(box),
        species=species_name(register, line.species) if line else None,
        line=line.slug if line else "",
        morph=line.morph if line else "",
        as_bought=line.as_bought if line else "",
        since=(colony.moved_on or colony.founded) if colony else "",
    )


def _state(box: Box) -> str:
    if box.retired_on:
        return "out of use"
    if box.quarantine:
        return "set apart"
    return "" if box.colony else "spare"
