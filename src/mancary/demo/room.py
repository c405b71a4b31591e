"""The invented room: four racks of six shelves, four boxes on each, and who lives where."""

import random
from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from mancary import handbook

RACKS: Final = "ABCD"
SHELVES: Final = 6
ON_A_SHELF: Final = 4
ROOM: Final = "BUG ROOM"

CULTURES: Final = {
    "A24": "folsomia-candida",
    "B24": "sinella-curviseta",
    "C24": "coecobrya-tenebricosa",
    "D24": "ceratophysella-denticulata",
}
SPARE: Final = ("C23", "D23")
NEW: Final = "B23"
"""Founded late and quarantined."""

FAILING: Final = "D11"
MITES: Final = "B07"
HOT_SHELF: Final = "C1"
BAD_SACK_BOXES: Final = ("A05", "A06", "A13", "B02", "D05", "D18")

_KEPT: Final = {
    "A05": "porcellio-scaber",
    "A06": "armadillidium-vulgare",
    "A13": "porcellionides-pruinosus",
    "B02": "oniscus-asellus",
    "B07": "trichorhina-tomentosa",
    "B23": "ardentiella-sp-ember-bee",
    "D05": "armadillidium-nasatum",
    "D11": "cubaris-sp-rubber-ducky",
    "D18": "porcellio-dilatatus",
}
_LITRES: Final = {"slow": (1.5, 3.0), "medium": (3.0, 5.5, 8.0), "fast": (5.5, 8.0, 12.0)}
_VENTS: Final = {"low": (12, 3), "medium": (24, 3), "high": (30, 4)}


class Place(Struct, frozen=True, kw_only=True):
    """One box of the demonstration as it begins. Growth is a share a week, ``weeks`` its age."""

    box: str
    shelf: str
    position: int
    species: str
    name: str
    group: str
    litres: float
    damp_share: float
    holes: tuple[int, int]
    growth: float
    most: float
    founders: int
    weeks: int
    protein_days: float


def shelves() -> Iterator[tuple[str, int, int]]:
    """Shelf, its turn in the walk, and its level counted from the top."""
    turn = 0
    for rack in RACKS:
        for level in range(1, SHELVES + 1):
            turn += 1
            yield f"{rack}{level}", turn, level


def boxes() -> Iterator[tuple[str, str, int]]:
    """Box, shelf and position of all ninety-six."""
    for rack in RACKS:
        for number in range(1, SHELVES * ON_A_SHELF + 1):
            shelf = f"{rack}{(number - 1) // ON_A_SHELF + 1}"
            yield f"{rack}{number:02}", shelf, (number - 1) % ON_A_SHELF + 1


def places(chance: random.Random) -> list[Place]:
    """Who lives where, drawn once by the seeded chance; spare boxes are left out."""
    wanted = iter(_shuffled(chance))
    return [
        _place(chance, box, shelf, position, CULTURES.get(box) or _KEPT.get(box) or next(wanted))
        for box, shelf, position in boxes()
        if box not in SPARE
    ]


def _shuffled(chance: random.Random) -> list[str]:
    taken = {*CULTURES.values(), *_KEPT.values()}
    open_ = [
        slug
        for slug in handbook.species_slugs()
        if slug not in taken
        and handbook.page(slug).rank != "morph"
        and handbook.page(slug).group not in (None, "cleanup-crew-springtails")
    ]
    chance.shuffle(open_)
    return open_


def _place(chance: random.Random, box: str, shelf: str, position: int, species: str) -> Place:
    figures = handbook.figures(species)
    culture = box in CULTURES
    speed = figures["growth_speed"].text if "growth_speed" in figures else "medium"
    damp = figures.get("damp_share")
    vents = figures["ventilation_class"].text if "ventilation_class" in figures else "medium"
    litres = 1.5 if culture else chance.choice(_LITRES.get(speed, (3.0, 5.5)))
    rhythm = handbook.rhythms(species).get("protein")
    return Place(
        box=box,
        shelf=shelf,
        position=position,
        species=species,
        name=handbook.page(species).name,
        group=handbook.page(species).group or "",
        litres=litres,
        damp_share=round((damp.low + damp.high) / 2, 2) if damp and damp.low and damp.high else 0.4,
        holes=_VENTS.get(vents, (24, 3)),
        growth={"slow": 0.015, "medium": 0.03, "fast": 0.06}.get(speed, 0.03),
        most=litres * {"slow": 12, "medium": 22, "fast": 40}.get(speed, 22),
        founders=chance.randint(8, 15),
        weeks=2 if box == NEW else chance.randint(20, 150),
        protein_days=rhythm.high_days if rhythm else 7.0,
    )
