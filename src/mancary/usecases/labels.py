"""What stands on the label of a box: its code first, then whatever is known of it."""

from collections.abc import Sequence
from datetime import date, tzinfo
from typing import Final, Literal

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.facts import CareGiven
from mancary.husbandry.moments import Moment, is_exact, last_day
from mancary.husbandry.order import withdrawn_ids
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.register import Register
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.states import Box
from mancary.usecases.record import known_box
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import register_of
from mancary.usecases.vent_targets import damp_share_of
from mancary.usecases.zone import zone_of

LabelKind = Literal["box", "lid", "spare"]
KINDS: Final[tuple[LabelKind, ...]] = ("box", "lid", "spare")

_CLASSES: Final = (
    (0.25, tell("mostly dry")),
    (0.42, tell("a third damp")),
    (0.6, tell("half damp")),
)
_BEDDING: Final = ("substrate", "leaf_litter")


class Label(Struct, frozen=True, kw_only=True):
    """One box's label. ``damp`` is its class in words, ``damp_share`` 0..1 as a length beside it.

    ``damp_is`` says whose figure that is. ``batches`` are those its litter and substrate came from.
    """

    box: str
    kind: LabelKind
    shelf: str = ""
    species: SpeciesName | None = None
    morph: str = ""
    locality: str = ""
    founded: Moment | None = None
    batches: tuple[str, ...] = ()
    damp: str = ""
    damp_share: float | None = None
    damp_is: str = ""
    apart: bool = False
    apart_until: Moment | None = None
    size: str = ""


class Labels(Struct, frozen=True, kw_only=True):
    """The labels in walking order, and whether the book is an invented one."""

    labels: tuple[Label, ...]
    invented: bool


def damp_class(share: float) -> str:
    """The damp class of a floor, ours: in words, for a share 0..1."""
    return next((words for below, words in _CLASSES if share < below), tell("mostly damp"))


def labels(
    book: Book,
    *,
    on: date,
    kinds: Sequence[LabelKind] = ("box",),
    boxes: Sequence[str] = (),
    shelf: str = "",
) -> Labels:
    """The labels of the boxes named, of one shelf, or of all in use; spare ones only as such.

    Raises:
        Refusal: where none is meant; an unknown box is named.
    """
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    chosen = _chosen(book, register, boxes, shelf)
    bedding = _bedding(book) if "box" in kinds else {}
    made = tuple(
        _label(book, register, box, kind, bedding.get(box.code, ()), zone)
        for kind in KINDS
        if kind in kinds
        for box in chosen
        if (kind == "spare") == box.is_spare or (kind != "spare" and boxes)
    )
    if not made:
        raise Refusal(tell("No box is meant by that: name boxes, or a shelf that has some."))
    return Labels(labels=made, invented=bool(register.opened and register.opened.invented))


def _chosen(book: Book, register: Register, boxes: Sequence[str], shelf: str) -> list[Box]:
    if boxes:
        codes = dict.fromkeys(known_box(book, one) for one in boxes)
        return [register.boxes.get(one) or Box(one, first_told="") for one in codes]
    if shelf and shelf not in register.shelves:
        raise Refusal(tell("There is no shelf %(shelf)s in this book.", shelf=shelf))
    used = [
        one
        for one in register.boxes.values()
        if one.retired_on is None and (not shelf or one.shelf == shelf)
    ]
    return sorted(used, key=lambda one: _walk(register, one))


def _walk(register: Register, box: Box) -> tuple[bool, int, str, int, str]:
    shelf = register.shelves.get(box.shelf)
    return (shelf is None, shelf.turn if shelf else 0, box.shelf, box.position or 0, box.code)


def _bedding(book: Book) -> dict[str, tuple[str, ...]]:
    """For each box the batches last given of what it lives in."""
    entries = book.entries_of((CareGiven.kind, "withdrawn"))
    gone = withdrawn_ids(entries)
    last: dict[tuple[str, str], tuple[Moment, str]] = {}
    for entry in entries:
        fact = entry.fact
        if not isinstance(fact, CareGiven) or not fact.batch or entry.id in gone:
            continue
        if fact.care in _BEDDING and last.get((fact.box, fact.care), ("", ""))[0] <= entry.happened:
            last[fact.box, fact.care] = (entry.happened, fact.batch)
    found: dict[str, tuple[str, ...]] = {}
    for (box, _), (_, batch) in sorted(last.items()):
        found[box] = tuple(dict.fromkeys((*found.get(box, ()), batch)))
    return found


def _label(
    book: Book,
    register: Register,
    box: Box,
    kind: LabelKind,
    batches: tuple[str, ...],
    zone: tzinfo,
) -> Label:
    colony, line = register.colony_in(box.code), register.line_in(box.code)
    species = species_name(register, line.species) if line else None
    share, whose = box.damp_share, tell("as it stands")
    if share is None and species and (told := damp_share_of(book, species.slug)):
        share, whose = told
    return Label(
        box=box.code,
        kind=kind,
        shelf=box.shelf,
        species=species,
        morph=line.morph if line else "",
        locality=line.locality if line else "",
        founded=_day(colony.founded, zone) if colony else None,
        batches=batches,
        damp=damp_class(share) if share is not None else "",
        damp_share=share,
        damp_is=whose if share is not None else "",
        apart=box.quarantine is not None,
        apart_until=_day(box.quarantine.until, zone) if box.quarantine else None,
        size=_size(box),
    )


def _day(moment: Moment | None, zone: tzinfo) -> Moment | None:
    """No label needs the hour."""
    if moment is None or not is_exact(moment):
        return moment
    return last_day(moment, zone).isoformat()


def _size(box: Box) -> str:
    sides = (box.length_cm, box.width_cm, box.height_cm)
    told = [f"{box.litres:g} L"] if box.litres else []
    if all(sides):
        told.append(in_a_row(" × ", (f"{one:g}" for one in sides if one)) + " cm")
    return in_a_row(", ", told)
