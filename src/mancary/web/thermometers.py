"""The shelves in walking order: their last readings, and whose range these left."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, tzinfo
from typing import cast

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.codec import encode
from mancary.husbandry.codes import code as code_of
from mancary.husbandry.codes import natural
from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.facts.places import Air
from mancary.husbandry.how_well import how_well
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.register import Register
from mancary.husbandry.shelf_climate import AIR_SAID, Span, percent
from mancary.husbandry.states import Shelf
from mancary.usecases.round_shelves import temperature_range
from mancary.usecases.shelf_readings import ShelfReading, readings_of, told_by
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.web.forms import FormError
from mancary.web.measures import num
from mancary.web.tongue import _, sentence
from mancary.web.typed import number_typed


class Reading(Struct, frozen=True, kw_only=True):
    """Lowest and highest since the look before it."""

    lowest_c: float
    highest_c: float
    happened: Moment


class Damp(Struct, frozen=True, kw_only=True):
    """The humidity told last: in percent, corrected where the instrument is checked, how, when."""

    said: str
    how: str
    happened: Moment


class LeftRange(Struct, frozen=True, kw_only=True):
    """A handbook range the reading left, by how many degrees, and who lives there by species."""

    homes: tuple[tuple[SpeciesName, tuple[str, ...]], ...]
    figure: handbook.Figure
    below_c: float
    above_c: float


class ShelfState(Struct, frozen=True, kw_only=True):
    """One shelf; ``unknown`` are its boxes for whose species no range is known.

    ``air_said`` is how the air moves there, empty where it is not told.
    """

    shelf: Shelf
    boxes: int
    reading: Reading | None
    damp: Damp | None
    air_said: str
    left: tuple[LeftRange, ...]
    unknown: tuple[str, ...]


def shelf_states(book: Book, register: Register, *, on: date, zone: tzinfo) -> list[ShelfState]:
    """Every shelf as it stands on a day."""
    readings = readings_of(book, on=on, zone=zone)
    shelves = sorted(register.shelves.values(), key=lambda one: (one.turn, natural(one.code)))
    return [
        _state(register, shelf, _last(told), _damp(book, told, zone))
        for shelf in shelves
        for told in (readings.get(shelf.code, ()),)
    ]


def instruments_named(book: Book, *, on: date, zone: tzinfo) -> list[str]:
    """The codes of the hygrometers that readings named so far."""
    told = (
        one.fact.instrument for some in readings_of(book, on=on, zone=zone).values() for one in some
    )
    return sorted({code for code in told if code}, key=natural)


def _last(told: Sequence[ShelfReading]) -> Reading | None:
    if not told:
        return None
    newest = told[-1]
    return Reading(
        lowest_c=newest.fact.lowest_c,
        highest_c=newest.fact.highest_c,
        happened=newest.happened,
    )


def _damp(book: Book, told: Sequence[ShelfReading], zone: tzinfo) -> Damp | None:
    newest = next((one for one in reversed(told) if one.tells_humidity), None)
    found = told_by(book, newest, zone) if newest else None
    if newest is None or found is None or found.humidity is None:
        return None
    return Damp(said=_percents(found.humidity), how=found.corrected, happened=newest.happened)


def _percents(span: Span) -> str:
    low, high = percent(span.low), percent(span.high)
    return low if low == high else f"{low} to {high}"


def _state(
    register: Register, shelf: Shelf, reading: Reading | None, damp: Damp | None
) -> ShelfState:
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
        damp=damp,
        air_said=AIR_SAID[cast("Air", shelf.air)] if shelf.air else "",
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
            alike.setdefault((figure.said, how_well(figure)), []).append(slug)
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

    Beside them the humidity in percent, "driest:SHELF" and "dampest:SHELF", one of the two where
    only one is known, and the instrument's code, "instrument:SHELF".

    Raises:
        FormError: naming the field, before anything is written.
    """
    found = [read for shelf in shelves if (read := _reading(form, shelf)) is not None]
    if not found:
        raise FormError("", _("Write the lowest and the highest of one shelf at least."))
    return found


def _reading(form: Mapping[str, object], shelf: str) -> ShelfRead | None:
    low = number_typed(str(form.get(f"low:{shelf}", "")), f"low:{shelf}")
    high = number_typed(str(form.get(f"high:{shelf}", "")), f"high:{shelf}")
    humidity = _humidity(form, shelf)
    instrument = _instrument(form, shelf)
    if low is None and high is None and not humidity and not instrument:
        return None
    if low is None or high is None:
        missing = "low" if low is None else "high"
        raise FormError(
            f"{missing}:{shelf}",
            _("Say both for shelf %(shelf)s, lowest and highest.", shelf=shelf),
        )
    if low > high:
        raise FormError(
            f"low:{shelf}",
            _("Lowest %(low)s °C is above highest %(high)s °C.", low=num(low), high=num(high)),
        )
    driest, dampest = humidity or (None, None)
    fact = ShelfRead(
        shelf=shelf,
        lowest_c=low,
        highest_c=high,
        rh_lowest=driest,
        rh_highest=dampest,
        instrument=instrument,
    )
    try:
        encode(fact)
    except Refusal:
        raise FormError(
            f"low:{shelf}",
            _(
                "%(low)s to %(high)s °C is no room with animals; expected -40 to 70 °C.",
                low=num(low),
                high=num(high),
            ),
        ) from None
    return fact


def _humidity(form: Mapping[str, object], shelf: str) -> tuple[float, float] | None:
    """Lowest and highest 0..1; a hygrometer that remembers nothing tells one figure for both."""
    found = []
    for name in (f"driest:{shelf}", f"dampest:{shelf}"):
        typed = number_typed(str(form.get(name, "")).replace("%", ""), name)
        if typed is not None and not 1 < typed <= 100:
            raise FormError(
                name, _("%(typed)s: expected the humidity in percent, like 45.", typed=num(typed))
            )
        found.append(None if typed is None else typed / 100)
    told = [one for one in found if one is not None]
    if not told:
        return None
    if told[0] > told[-1]:
        raise FormError(
            f"driest:{shelf}",
            _(
                "Lowest %(told)s is above highest %(told2)s.",
                told=percent(told[0]),
                told2=percent(told[-1]),
            ),
        )
    return told[0], told[-1]


def _instrument(form: Mapping[str, object], shelf: str) -> str | None:
    name = f"instrument:{shelf}"
    typed = str(form.get(name, ""))
    try:
        return code_of(typed, what="instrument") if typed.strip() else None
    except Refusal as fault:
        raise FormError(name, sentence(fault)) from None
