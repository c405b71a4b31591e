"""Hygrometers: their salt tests written down, and the correction that held at a moment."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta, tzinfo
from typing import Final

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import code, natural
from mancary.husbandry.facts import HygrometerChecked, ShelfRead, Withdrawn
from mancary.husbandry.facts.instruments import SaltReading
from mancary.husbandry.hygrometers import SaltLine, salt_line
from mancary.husbandry.moments import Moment, clock_said, first_day, last_day, order_key
from mancary.husbandry.order import keyed
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.usecases.hygrometer_said import beyond_said, outside_said, span_said
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, write
from mancary.usecases.zone import zone_of

AGAIN_DAYS: Final = 365
AGAIN_BASIS: Final = tell("yearly by common practice, from memory")
_SHOWN_AT: Final = (0.4, 0.6, 0.8)


class Checked(Struct, frozen=True, kw_only=True):
    """A test that stands, and the correction it teaches."""

    instrument: str
    happened: Moment
    fact_id: str
    line: SaltLine
    note: str
    on_said: str

    def corrected(self, rh: float) -> float:
        """True humidity 0..1 for one shown, 0..1.

        Raises:
            Refusal: for a reading outside 0..1.
        """
        return self.line.corrected(rh)

    def standard_error(self, rh: float) -> float | None:
        """Standard error of the correction at a reading, 0..1; None where nothing tells it.

        Raises:
            Refusal: for a reading outside 0..1.
        """
        return self.line.standard_error(rh)

    @property
    def said(self) -> str:
        """What a corrected reading rests on."""
        salts = in_a_row(tell(" and "), dict.fromkeys(point.salt for point in self.line.points))
        return tell(
            "corrected by the salt test of %(instrument)s on %(on_said)s (%(salts)s)",
            instrument=self.instrument,
            on_said=self.on_said,
            salts=salts,
        )

    def said_of(self, *shown: float) -> str:
        """What readings, 0..1, rest on, and that some lie beyond the test, where they do."""
        if not any(self.line.is_outside(rh) for rh in shown):
            return self.said
        return tell(
            "%(said)s; %(line)s, %(line2)s",
            said=self.said,
            line=span_said(self.line),
            line2=beyond_said(self.line),
        )


def correction_at(book: Book, instrument: str, *, happened: Moment, zone: tzinfo) -> Checked | None:
    """The newest test made before a moment that teaches a correction; None where there is none.

    Withdrawn tests are left out.
    """
    end = order_key(happened, zone)
    before = [one for key, one in _tests(book, instrument, zone) if key <= end]
    return before[-1] if before else None


def _tests(book: Book, instrument: str, zone: tzinfo) -> list[tuple[str, Checked]]:
    """The tests that stand and teach something, in order, with their order keys."""
    found = []
    for key, _, entry in keyed(book.entries_about(f"instrument:{instrument}"), zone):
        fact = entry.fact
        if isinstance(fact, HygrometerChecked) and (line := _line(fact)):
            checked = Checked(
                instrument=instrument,
                happened=entry.happened,
                fact_id=entry.id,
                line=line,
                note=fact.note,
                on_said=clock_said(entry.happened, zone)[:10],
            )
            found.append((key, checked))
    return found


def _line(fact: HygrometerChecked) -> SaltLine | None:
    """None for a test that came from elsewhere and teaches nothing; here such a one is refused."""
    try:
        return salt_line(fact.readings)
    except Refusal:
        return None


class Hygrometer(Struct, frozen=True, kw_only=True):
    """How an instrument stands: humidities 0..1, errors too, None where not known.

    ``outside`` counts readings of the shelves since its test that lie outside the checked span.
    """

    instrument: str
    last_check: Moment | None
    check_again: date | None
    is_due: bool
    offset: float | None
    slope: float | None
    lowest_checked: float | None
    highest_checked: float | None
    points: tuple["Point", ...]
    shows: tuple[str, ...]
    error_said: str
    readings: int
    outside: int
    said: tuple[str, ...]


class Point(Struct, frozen=True, kw_only=True):
    """A salt of the test, humidities 0..1, °C; ``corrected_rh`` is what the line makes of it."""

    salt: str
    temp_c: float
    shown_rh: float
    true_rh: float
    true_error: float
    corrected_rh: float
    standard_error: float | None


def hygrometers(book: Book, *, on: date) -> tuple[Hygrometer, ...]:
    """Every instrument that was tested, or that a humidity of a shelf names, by its name."""
    zone = zone_of(book)
    read = _readings(book, on, zone)
    names = {*book.subjects("instrument"), *read}
    told = (_hygrometer(book, name, read.get(name, []), on, zone) for name in names)
    return tuple(sorted(told, key=lambda one: natural(one.instrument)))


def hygrometer(book: Book, instrument: str, *, on: date) -> Hygrometer:
    """How one instrument stands.

    Raises:
        Refusal: where the book names no such instrument.
    """
    name = code(instrument, what="hygrometer")
    known = {one.instrument: one for one in hygrometers(book, on=on)}
    if name not in known:
        raise Refusal(
            tell("There is no hygrometer %(name)s in this book; test it and it is.", name=name)
        )
    return known[name]


def check_hygrometer(
    book: Book,
    instrument: str,
    readings: Sequence[SaltReading],
    *,
    pen: Pen,
    note: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """Writes a salt test down, once it teaches a correction.

    Raises:
        Refusal: where it teaches none, the name cannot be one, or the day lies in the future.
    """
    fact = checked_fact(instrument, readings, note=note)
    return write(book, [fact], pen=pen, happened=happened)


def checked_fact(
    instrument: str, readings: Sequence[SaltReading], *, note: str = ""
) -> HygrometerChecked:
    """The fact of a salt test.

    Raises:
        Refusal: where it teaches no correction, or the name cannot be one.
    """
    told = tuple(readings)
    salt_line(told)
    name = code(instrument, what="hygrometer")
    return HygrometerChecked(instrument=name, readings=told, note=in_a_row(" ", note.split()))


def _readings(book: Book, on: date, zone: tzinfo) -> dict[str, list[tuple[str, ShelfRead]]]:
    """The humidities of the shelves up to a day, with their order keys, by instrument."""
    found: dict[str, list[tuple[str, ShelfRead]]] = {}
    for key, _, entry in keyed(book.entries_of((ShelfRead.kind, Withdrawn.kind)), zone):
        fact = entry.fact
        if not isinstance(fact, ShelfRead) or first_day(entry.happened, zone) > on:
            continue
        if fact.instrument and any(True for _ in _humidities(fact)):
            found.setdefault(fact.instrument, []).append((key, fact))
    return found


def _humidities(fact: ShelfRead) -> Iterable[float]:
    return (rh for rh in (fact.rh_lowest, fact.rh_mean, fact.rh_highest) if rh is not None)


def _hygrometer(
    book: Book, name: str, read: Sequence[tuple[str, ShelfRead]], on: date, zone: tzinfo
) -> Hygrometer:
    tests = [
        (key, one) for key, one in _tests(book, name, zone) if first_day(one.happened, zone) <= on
    ]
    if not tests:
        return _never_checked(name, len(read))
    key, last = tests[-1]
    since = [fact for at, fact in read if at >= key]
    outside = sum(any(last.line.is_outside(rh) for rh in _humidities(fact)) for fact in since)
    again = last_day(last.happened, zone) + timedelta(days=AGAIN_DAYS)
    line = last.line.line
    shows = tuple(last.line.off_said(rh) for rh in _SHOWN_AT)
    return Hygrometer(
        instrument=name,
        last_check=last.happened,
        check_again=again,
        is_due=again <= on,
        offset=line.offset,
        slope=line.slope,
        lowest_checked=line.lowest_reading,
        highest_checked=line.highest_reading,
        points=_points(last),
        shows=shows,
        error_said=last.line.error_said,
        readings=len(since),
        outside=outside,
        said=(_tested(last, again, on), *outside_said(outside, last.line)),
    )


def _points(checked: Checked) -> tuple[Point, ...]:
    return tuple(
        Point(
            salt=one.salt,
            temp_c=one.temp_c,
            shown_rh=one.shown_rh,
            true_rh=one.true_rh,
            true_error=one.true_error,
            corrected_rh=checked.corrected(one.shown_rh),
            standard_error=checked.standard_error(one.shown_rh),
        )
        for one in checked.line.points
    )


def _tested(last: Checked, again: date, on: date) -> str:
    due = (
        tell("that is over: test it anew")
        if again <= on
        else tell("test it again by %(again)s", again=again)
    )
    return tell(
        "Tested on %(on_said)s; %(due)s (%(again_basis)s).", last, due=due, again_basis=AGAIN_BASIS
    )


def _never_checked(name: str, readings: int) -> Hygrometer:
    return Hygrometer(
        instrument=name,
        last_check=None,
        check_again=None,
        is_due=True,
        offset=None,
        slope=None,
        lowest_checked=None,
        highest_checked=None,
        points=(),
        shows=(),
        error_said="",
        readings=readings,
        outside=0,
        said=(tell("Never tested with salts, so its humidities stand as it showed them."),),
    )
