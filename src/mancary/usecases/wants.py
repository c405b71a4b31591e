"""A first plain list: what each box wants on a day, shelf by shelf."""

from datetime import date, tzinfo

from msgspec import Struct
from msgspec.structs import replace

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.codes import natural
from mancary.husbandry.register import Register
from mancary.husbandry.standing import Standing
from mancary.husbandry.wants import Want, by_scale, own_figures, wants
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import carried_along, register_of, standings_of
from mancary.usecases.zone import zone_of


class BoxWants(Struct, frozen=True, kw_only=True):
    """One box in walking order and its cares, the most urgent first."""

    box: str
    shelf: str
    position: int | None
    species: SpeciesName | None
    line: str
    morph: str
    quarantined: bool
    wants: tuple[Want, ...]


class WantsList(Struct, frozen=True, kw_only=True):
    """All boxes with a colony, in walking order: shelves by their turn, quarantined boxes last."""

    on: date
    invented: bool
    boxes: tuple[BoxWants, ...]


def wants_list(book: Book, *, on: date, weighed: bool = True) -> WantsList:
    """What every box with a colony wants on the day.

    Where a box's scale says when to wet it, that stands in the place of its rhythm; not so with
    ``weighed`` False.
    """
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    standings = standings_of(book, zone, until=on)
    living = [box.code for box in register.boxes.values() if box.colony]
    carried = [
        _carried(book, register, standings, code, zone) for code in walking_order(register, living)
    ]
    found = [box_wants(register, one, on=on, zone=zone) for one in carried]
    if weighed:
        found = [
            as_weighed(book, register, one, told, on=on, zone=zone)
            for one, told in zip(carried, found, strict=True)
        ]
    return WantsList(
        on=on,
        invented=bool(register.opened and register.opened.invented),
        boxes=tuple(found),
    )


def _carried(
    book: Book, register: Register, standings: dict[str, Standing], box: str, zone: tzinfo
) -> Standing:
    standing = standings.get(box, Standing(box))
    return carried_along(book, register.colony_in(box), standing, zone)


def walking_order(register: Register, boxes: list[str]) -> list[str]:
    """Codes by quarantine, shelf turn, position and code."""

    def place(code: str) -> tuple[object, ...]:
        box = register.boxes[code]
        shelf = register.shelves.get(box.shelf)
        turn = shelf.turn if shelf else 10**6
        return (
            box.quarantine is not None,
            turn,
            natural(box.shelf),
            box.position or 10**6,
            natural(code),
        )

    return sorted(boxes, key=place)


def box_wants(register: Register, standing: Standing, *, on: date, zone: tzinfo) -> BoxWants:
    """What one box wants; no cares are listed for a box without a colony."""
    code = standing.box
    box = register.boxes[code]
    line = register.line_in(code)
    species = species_name(register, line.species) if line else None
    cares: tuple[Want, ...] = ()
    if line and species:
        own = own_figures(
            register.figures,
            box=code,
            line=line.slug,
            species=line.species,
            care_group=species.care_group,
        )
        rhythms = rhythms_for(species)
        cares = wants(standing, rhythms, own, on=on, zone=zone)
    return BoxWants(
        box=code,
        shelf=box.shelf,
        position=box.position,
        species=species,
        line=line.slug if line else "",
        morph=line.morph if line else "",
        quarantined=box.quarantine is not None,
        wants=cares,
    )


def as_weighed(
    book: Book, register: Register, standing: Standing, told: BoxWants, *, on: date, zone: tzinfo
) -> BoxWants:
    """The same with the misting that the box's scale calls for, where it calls for any."""
    if not standing.just_right:
        return told
    from mancary.usecases.water import mist_by_scale  # numpy is slow to import

    mist = mist_by_scale(book, register, standing, on=on, zone=zone)
    return replace(told, wants=by_scale(told.wants, mist, on=on)) if mist else told


def rhythms_for(species: SpeciesName) -> dict[str, handbook.Rhythm]:
    """The handbook's rhythms: of the species, else of its care group, else none."""
    if species.slug in handbook.species_slugs():
        return handbook.rhythms(species.slug)
    groups = {group.slug for group in handbook.groups()}
    return handbook.rhythms(species.care_group) if species.care_group in groups else {}
