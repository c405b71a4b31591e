"""The register as it is looked through: found by words, filtered, sorted by one column."""

import csv
import io
from collections.abc import Callable, Sequence
from datetime import tzinfo
from typing import Any, Final

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import natural
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box
from mancary.usecases.hand_out import harmless
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import register_of
from mancary.web.tongue import N_


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


class Looking(Struct, frozen=True, kw_only=True):
    """What is asked of the register, as it stands in the address of the page."""

    q: str = ""
    which: str = ""
    shelf: str | None = None
    """None for all; empty for the boxes on no shelf."""
    sort: str = "box"
    turned: bool = False

    def fields(self, **others: object) -> dict[str, object]:
        """The fields of an address that asks the same, but for the others."""
        asked = {"q": self.q, "which": self.which, "sort": self.sort, "shelf": self.shelf}
        asked |= {"turned": "yes" if self.turned else ""}
        told = asked | others
        given = {name: value for name, value in told.items() if value not in ("", None, False)}
        if told["shelf"] == "":
            given["shelf"] = ""
        if given.get("sort") == "box":
            del given["sort"]
        return given


SORTS: Final[dict[str, tuple[str, Callable[[Registered], Any]]]] = {
    "box": (N_("code"), lambda one: natural(one.box)),
    "shelf": (N_("shelf"), lambda one: (natural(one.shelf), one.position or 10**6)),
    "species": (N_("species"), lambda one: one.species.name if one.species else ""),
    "since": (N_("since when"), lambda one: one.since),
    "litres": (N_("litres"), lambda one: one.litres or 0.0),
}
_BLANK: Final[dict[str, Callable[[Registered], bool]]] = {
    "shelf": lambda one: not one.shelf,
    "species": lambda one: one.species is None,
    "since": lambda one: not one.since,
    "litres": lambda one: one.litres is None,
}
"""What has nothing to be sorted by comes last, whichever way round."""

LIVED_IN: Final = N_("lived in")
STATES: Final = (LIVED_IN, N_("spare"), N_("set apart"), N_("out of use"))

COLUMNS: Final = (
    "box", "shelf", "place_from_left", "species", "trade_name", "morph", "line", "bought_as",
    "state", "in_this_box_since", "litres",
)  # fmt: skip


def found_boxes(book: Book, zone: tzinfo, asked: Looking) -> list[Registered]:
    """The boxes in which every one of the words is found; an unknown sort is by box."""
    register = register_of(book, zone)
    every = [_registered(register, box) for box in register.boxes.values()]
    wanted = asked.q.casefold().split()
    found = [one for one in every if _is_asked(one, asked, wanted)]
    found.sort(key=SORTS["box"][1], reverse=asked.turned)
    if asked.sort in _BLANK:
        found.sort(key=SORTS[asked.sort][1], reverse=asked.turned)
        found.sort(key=_BLANK[asked.sort])
    return found


def _is_asked(one: Registered, asked: Looking, wanted: Sequence[str]) -> bool:
    text = _text(one)
    return (
        all(word in text for word in wanted)
        and asked.shelf in (None, one.shelf)
        and asked.which in ("", one.state, LIVED_IN if one.species else "")
    )


def csv_of(found: Sequence[Registered]) -> str:
    """The boxes as CSV (RFC 4180); none of its cells starts a formula."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for one in found:
        name = one.species
        cells = (
            one.box, one.shelf, one.position,
            name.latin if name else "", name.trade if name else "",
            one.morph, one.line, one.as_bought, one.state, one.since, one.litres,
        )  # fmt: skip
        writer.writerow(harmless("" if cell is None else cell) for cell in cells)
    return out.getvalue()


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
