"""What the instruments of the shelves told: the readings up to a day, and a shelf's climate."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta, tzinfo
from typing import Final

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import BookOpened, HygrometerChecked, ShelfPlaced, ShelfRead, Withdrawn
from mancary.husbandry.facts.places import Air
from mancary.husbandry.moments import Moment, day_said, first_day, last_day
from mancary.husbandry.order import keyed
from mancary.husbandry.sentences import tell
from mancary.husbandry.shelf_climate import ShelfClimate, Span, Told, shelf_climate
from mancary.usecases.unchanged import Unchanged

READ_WITHIN_DAYS: Final = 60
"""Ours: an older reading of the shelf tells of another season."""

CLIMATE_KINDS: Final = tuple(
    fact.kind for fact in (BookOpened, HygrometerChecked, ShelfPlaced, ShelfRead, Withdrawn)
)
"""The kinds of fact that a shelf's climate rests on."""
_CLIMATES: Final[Unchanged[tuple[str, bool], ShelfClimate]] = Unchanged(
    states=4, kinds=CLIMATE_KINDS
)


class ShelfReading(Struct, frozen=True, kw_only=True):
    """One look at a shelf's instruments; ``key`` orders it among the facts of its time."""

    key: str
    happened: Moment
    first: date
    last: date
    fact: ShelfRead

    @property
    def tells_humidity(self) -> bool:
        """Whether a humidity was told at this look."""
        return _shown(self.fact) is not None


def readings_of(book: Book, *, on: date, zone: tzinfo) -> dict[str, tuple[ShelfReading, ...]]:
    """Every shelf's readings up to a day, in order of happening; withdrawn ones are left out.

    Gathered once while no fact of a shelf's climate is written; whoever gets it changes nothing.
    """
    return _ALL.get(book, (on, zone), None, lambda: _all(book, on, zone))


_ALL: Final[Unchanged[None, dict[str, tuple[ShelfReading, ...]]]] = Unchanged(
    states=2, kinds=CLIMATE_KINDS
)


def _all(book: Book, on: date, zone: tzinfo) -> dict[str, tuple[ShelfReading, ...]]:
    found: dict[str, list[ShelfReading]] = {}
    for one in _readings(book.entries_of((ShelfRead.kind, Withdrawn.kind)), on, zone):
        found.setdefault(one.fact.shelf, []).append(one)
    return {shelf: tuple(told) for shelf, told in found.items()}


def readings_at(book: Book, shelf: str, *, on: date, zone: tzinfo) -> tuple[ShelfReading, ...]:
    """One shelf's readings up to a day, in order of happening; withdrawn ones are left out."""
    return tuple(_readings(book.entries_about(f"shelf:{shelf}"), on, zone)) if shelf else ()


def climate_of(
    book: Book, shelf: str, *, on: date, zone: tzinfo, newest: bool = False
) -> ShelfClimate:
    """The climate of a shelf on a day, by its readings of ``READ_WITHIN_DAYS`` days.

    With ``newest`` by the last look alone, however old. A shelf that tells nothing, and an empty
    code, get the handbook's room. Worked out once for a shelf while the book stays as it is.
    """
    return _CLIMATES.get(
        book, (on, zone), (shelf, newest), lambda: _climate(book, shelf, on, zone, newest=newest)
    )


def _climate(book: Book, shelf: str, on: date, zone: tzinfo, *, newest: bool) -> ShelfClimate:
    entries = book.entries_about(f"shelf:{shelf}") if shelf else []
    told = [one for one in _readings(entries, on, zone) if one.fact.lowest_c <= one.fact.highest_c]
    damp = [one for one in told if one.tells_humidity]
    if newest:
        told, damp = told[-1:], damp[-1:]
    else:
        since = on - timedelta(days=READ_WITHIN_DAYS)
        told, damp = ([one for one in some if one.first >= since] for some in (told, damp))
    return shelf_climate(
        shelf,
        warmth=[told_by(book, one, zone) for one in told],
        damp=[told_by(book, one, zone) for one in damp],
        air=_air(entries, on, zone),
        room=handbook.ventilation_room(),
    )


def told_by(book: Book, reading: ShelfReading, zone: tzinfo) -> Told:
    """A reading with its humidity as the instrument's last salt test before it corrects it."""
    fact, shown = reading.fact, _shown(reading.fact)
    humidity, words = _corrected(book, reading, shown, zone) if shown else (None, "")
    return Told(
        on_said=day_said(reading.happened, zone),
        temperature=Span(middle_c(fact), fact.lowest_c, fact.highest_c),
        by_logger=fact.mean_c is not None,
        humidity=humidity,
        corrected=words,
    )


def middle_c(fact: ShelfRead) -> float:
    """°C in the middle of a reading: the mean where a logger told it, else that of the ends."""
    return (fact.lowest_c + fact.highest_c) / 2 if fact.mean_c is None else fact.mean_c


def _shown(fact: ShelfRead) -> Span | None:
    """The humidity as the instrument showed it."""
    mean = fact.rh_mean
    low = mean if fact.rh_lowest is None else fact.rh_lowest
    high = mean if fact.rh_highest is None else fact.rh_highest
    if low is None or high is None:
        return None
    return Span((low + high) / 2 if mean is None else mean, low, high)


def _corrected(book: Book, reading: ShelfReading, shown: Span, zone: tzinfo) -> tuple[Span, str]:
    instrument = reading.fact.instrument
    if not instrument:
        return shown, tell("as shown by an instrument not named, so not checked")
    if book.is_known(f"instrument:{instrument}"):
        from mancary.usecases.hygrometers import correction_at  # numpy is slow to import

        found = correction_at(book, instrument, happened=reading.happened, zone=zone)
        if found is not None:
            low, high = found.line.ends(shown.low)[0], found.line.ends(shown.high)[1]
            words = found.said_of(shown.low, shown.high)
            return Span(found.corrected(shown.middle), low, high), words
    return shown, tell("as %(instrument)s showed it, not checked", instrument=instrument)


def _readings(entries: Iterable[Entry], on: date, zone: tzinfo) -> list[ShelfReading]:
    return [
        ShelfReading(
            key=key,
            happened=entry.happened,
            first=first_day(entry.happened, zone),
            last=last_day(entry.happened, zone),
            fact=entry.fact,
        )
        for key, _, entry in keyed(entries, zone)
        if isinstance(entry.fact, ShelfRead) and first_day(entry.happened, zone) <= on
    ]


def _air(entries: Sequence[Entry], on: date, zone: tzinfo) -> Air | None:
    placed = [
        entry.fact.air
        for _, _, entry in keyed(entries, zone)
        if isinstance(entry.fact, ShelfPlaced) and first_day(entry.happened, zone) <= on
    ]
    return placed[-1] if placed else None
