"""The shelves in walking order: their last readings, and whose range these left."""

from collections.abc import Iterable, Mapping
from datetime import date, tzinfo

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.codec import encode
from mancary.husbandry.codes import natural
from mancary.husbandry.facts import ShelfRead, Withdrawn
from mancary.husbandry.moments import Moment, first_day
from mancary.husbandry.order import keyed
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.register import Register
from mancary.husbandry.states import Shelf
from mancary.usecases.round_shelves import temperature_range
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.web.forms import FormError
from mancary.web.typed import number_typed


class Reading(Struct, frozen=True, kw_only=True):
    """Lowest and highest since the look before it."""

    lowest_c: float
    highest_c: float
    happened: Moment


class LeftRange(Struct, frozen=True, kw_only=True):
    """A handbook range the reading left, by how many degrees, and who lives there by species."""

    homes: tuple[tuple[SpeciesName, tuple[str, ...]], ...]
    figure: handbook.Figure
    below_c: float
    above_c: float


class ShelfState(Struct, frozen=True, kw_only=True):
    """One shelf; ``unknown`` are its boxes for whose species no range is known."""

    shelf: Shelf
    boxes: int
    reading: Reading | None
    left: tuple[LeftRange, ...]
    unknown: tuple[str, ...]


def shelf_states(book: Book, register: Register, *, on: date, zone: tzinfo) -> list[ShelfState]:
    """Every shelf as it stands on a day."""
    readings = _last_readings(book, on=on, zone=zone)
    shelves = sorted(register.shelves.values(), key=lambda one: (one.turn, natural(one.code)))
    return [_state(register, shelf, readings.get(shelf.code)) for shelf in shelves]


def _last_readings(book: Book, *, on: date, zone: tzinfo) -> dict[str, Reading]:
    entries = book.entries_of((ShelfRead.kind, Withdrawn.kind))
    return {
        entry.fact.shelf: Reading(
            lowest_c=entry.fact.lowest_c,
            highest_c=entry.fact.highest_c,
            happened=entry.happened,
        )
        for _, _, entry in keyed(entries, zone)
        if isinstance(entry.fact, ShelfRead) and first_day(entry.happened, zone) <= on
    }


def _state(register: Register, shelf: Shelf, reading: Reading | None) -> ShelfState:
    living = sorted(
        (box.code for box in register.boxes.values() if box.shelf == shelf.code and box.colony),
        key=natural,
    )
    homes: dict[str, list[str]] = {}
    for code in living:
        if line := register.line_in(code):
            homes.setdefault(line.species, []).append(code)
    names = {slug: species_name(register, slug) for slug in homes}
    ranges = {slug: _range(name) for slug, name in names.items()}
    return ShelfState(
        shelf=shelf,
        boxes=len(living),
        reading=reading,
        left=tuple(_left(homes, names, ranges, reading)) if reading else (),
        unknown=tuple(code for slug, codes in homes.items() if not ranges[slug] for code in codes),
    )


def _range(name: SpeciesName) -> handbook.Figure | None:
    found = temperature_range(name.slug, name.care_group)
    return found if found and found.low is not None and found.high is not None else None


def _left(
    homes: Mapping[str, list[str]],
    names: Mapping[str, SpeciesName],
    ranges: Mapping[str, handbook.Figure | None],
    reading: Reading,
) -> Iterable[LeftRange]:
    """Species of one range, equally well known, are told together."""
    alike: dict[tuple[str, str], list[str]] = {}
    for slug, figure in ranges.items():
        if figure is not None:
            alike.setdefault((figure.said, figure.how_well), []).append(slug)
    for slugs in alike.values():
        figure = ranges[slugs[0]]
        if figure is None or figure.low is None or figure.high is None:
            continue
        below, above = figure.low - reading.lowest_c, reading.highest_c - figure.high
        if below > 0 or above > 0:
            yield LeftRange(
                homes=tuple((names[slug], tuple(homes[slug])) for slug in slugs),
                figure=figure,
                below_c=max(0.0, below),
                above_c=max(0.0, above),
            )


def readings_typed(form: Mapping[str, object], shelves: Iterable[str]) -> list[ShelfRead]:
    """The readings in a form: "low:SHELF" and "high:SHELF"; shelves left empty are passed over.

    Raises:
        FormError: naming the field, before anything is written.
    """
    found = [read for shelf in shelves if (read := _reading(form, shelf)) is not None]
    if not found:
        raise FormError("", "Write the lowest and the highest of one shelf at least.")
    return found


def _reading(form: Mapping[str, object], shelf: str) -> ShelfRead | None:
    low = number_typed(str(form.get(f"low:{shelf}", "")), f"low:{shelf}")
    high = number_typed(str(form.get(f"high:{shelf}", "")), f"high:{shelf}")
    if low is None and high is None:
        return None
    if low is None or high is None:
        missing = "low" if low is None else "high"
        raise FormError(f"{missing}:{shelf}", f"Say both for shelf {shelf}, lowest and highest.")
    if low > high:
        raise FormError(f"low:{shelf}", f"Lowest {low:g} °C is above highest {high:g} °C.")
    fact = ShelfRead(shelf=shelf, lowest_c=low, highest_c=high)
    try:
        encode(fact)
    except Refusal:
        raise FormError(
            f"low:{shelf}",
            f"{low:g} to {high:g} °C is no room with animals; expected -40 to 70 °C.",
        ) from None
    return fact
