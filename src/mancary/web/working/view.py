"""What the work page shows beside its forms: boxes to choose from, and what practice says."""

from datetime import date, timedelta
from typing import get_args

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.codes import natural
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box, Colony, Line
from mancary.husbandry.words import EndCause
from mancary.usecases.species_names import SpeciesName, root_species, species_name
from mancary.usecases.species_page import Found, find_species, practice_for

CAUSES = get_args(EndCause)


class Practised(Struct, frozen=True, kw_only=True):
    """A figure of practice in days, and the days of the calendar it comes to from today."""

    figure: handbook.Figure
    first: date
    last: date


class WorkView(Struct, frozen=True, kw_only=True):
    """``mates`` are boxes of the same species, each with whether its line is the same."""

    box: Box
    colony: Colony | None
    line: Line | None
    species: SpeciesName | None
    spare: tuple[str, ...]
    mates: tuple[tuple[str, bool], ...]
    shelves: tuple[str, ...]
    quarantine: Practised | None
    waiting: handbook.Figure | None
    starter: tuple[handbook.Figure, ...]


class Confirming(Struct, frozen=True, kw_only=True):
    """The pages a name may mean, for the keeper to confirm one."""

    found: Found
    named: dict[str, SpeciesName]


def work_view(register: Register, code: str, *, on: date) -> WorkView:
    """The work page of a box on a day."""
    box = register.boxes.get(code) or Box(code, first_told="")
    line = register.line_in(code)
    species = species_name(register, line.species) if line else None
    practice = practice_for(species.care_group) if species else handbook.practice()
    return WorkView(
        box=box,
        colony=register.colony_in(code),
        line=line,
        species=species,
        spare=_spare(register, but=code),
        mates=_mates(register, code, line),
        shelves=tuple(sorted(register.shelves, key=natural)),
        quarantine=_from_today(practice.get("quarantine_days"), on),
        waiting=practice.get("waiting_days"),
        starter=tuple(one for name, one in practice.items() if name.startswith("starter")),
    )


def _spare(register: Register, *, but: str) -> tuple[str, ...]:
    spare = (box.code for box in register.boxes.values() if box.is_spare and box.code != but)
    return tuple(sorted(spare, key=natural))


def _mates(register: Register, code: str, line: Line | None) -> tuple[tuple[str, bool], ...]:
    if line is None:
        return ()
    root = root_species(line.species)
    found = [
        (box, other.slug == line.slug)
        for box in register.boxes
        if box != code and (other := register.line_in(box)) and root_species(other.species) == root
    ]
    return tuple(sorted(found, key=lambda mate: natural(mate[0])))


def _from_today(figure: handbook.Figure | None, on: date) -> Practised | None:
    if figure is None or figure.low is None or figure.high is None:
        return None
    return Practised(
        figure=figure,
        first=on + timedelta(days=round(figure.low)),
        last=on + timedelta(days=round(figure.high)),
    )


def confirming(book: Book, register: Register, typed: str) -> Confirming:
    """What a typed name may mean."""
    found = find_species(book, typed)
    named = {one.slug: species_name(register, one.slug) for one in found.proposals}
    return Confirming(found=found, named=named)
