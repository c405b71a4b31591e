"""A logger's file taken in: one reading of the shelf for each local day."""

import re
from collections.abc import Sequence
from datetime import date, tzinfo
from typing import Final, Literal

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import code
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import ShelfRead, Withdrawn
from mancary.husbandry.moments import on_day
from mancary.husbandry.order import in_order
from mancary.husbandry.refusal import Refusal
from mancary.sheets.faults import Fault
from mancary.sheets.logger import Log, read_logger
from mancary.usecases.colony_work import known_shelf
from mancary.usecases.logger_days import HOURS_FOR_A_MEAN, LogDay, days_of
from mancary.usecases.pen import Pen
from mancary.usecases.record import write_entries
from mancary.usecases.zone import zone_of

State = Literal["new", "changed", "same", "kept", "differs"]
_NOTE: Final = re.compile(r"logger: (\d+) readings? over .*")


class Reckoned(Struct, frozen=True, kw_only=True):
    """A day of the log beside the book: ``new``, ``changed`` (the day in the book is withdrawn),
    ``same``, ``kept`` where the book's day rests on more readings than this log has, or
    ``differs`` where the log cannot be the same one read on: it is asked about.
    """

    day: LogDay
    state: State


class OtherFigures(Refusal):
    """Days that the book has already, with figures that no longer log of the same would have."""


class LogTaken(Struct, frozen=True, kw_only=True):
    """What a log told and what was written of it; ``ids`` are the facts written, to undo them."""

    shelf: str
    instrument: str
    dry_run: bool
    days: tuple[Reckoned, ...]
    lines: int
    readings: int
    repeated: int
    temperature: str
    humidity: str
    how: str
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]
    ids: tuple[str, ...]

    def count(self, state: State) -> int:
        """How many days are in a state."""
        return sum(one.state == state for one in self.days)


def read_log(
    data: bytes,
    *,
    zone: tzinfo,
    today: date,
    day_first: bool | None = None,
    temperature: str = "",
    humidity: str = "",
    unit: str = "",
) -> Log:
    """The readings of a logger's file; see ``sheets.logger.read_logger``.

    Raises:
        Refusal: asking what is unclear, or where no line could be read.
    """
    log = read_logger(
        data,
        zone=zone,
        today=today,
        day_first=day_first,
        temperature=temperature,
        humidity=humidity,
        unit=unit,
    )
    if not log.rows:
        first = log.faults[0] if log.faults else None
        why = f" Line {first.row}, {first.column} {first.value!r}: {first.why}." if first else ""
        raise Refusal(f"None of {log.lines} lines could be read.{why}")
    return log


def take_log(
    book: Book,
    shelf: str,
    data: bytes,
    *,
    instrument: str,
    pen: Pen,
    day_first: bool | None = None,
    temperature: str = "",
    humidity: str = "",
    unit: str = "",
    replace: bool = False,
    dry_run: bool = False,
) -> LogTaken:
    """Writes one ``ShelfRead`` for each local day of a log, all in one go.

    A day in the book with the same figures, of this shelf and instrument, is passed over; one whose
    figures changed is withdrawn and written anew where the log has been read on since: more
    readings, and the book's extremes among them. ``replace`` does so with any other figures too.

    Raises:
        OtherFigures: for days with other figures, where ``replace`` is not said.
        Refusal: for an unknown shelf, a file that cannot be read, or a question.
        MovedOn: when the book was written to meanwhile.
    """
    head, zone = book.head(), zone_of(book)
    named = known_shelf(book, shelf)
    instrument = code(instrument, what="instrument") if instrument.strip() else ""
    today = pen.now().astimezone(zone).date()
    log = read_log(
        data,
        zone=zone,
        today=today,
        day_first=day_first,
        temperature=temperature,
        humidity=humidity,
        unit=unit,
    )
    held = _held(book, named, instrument, zone)
    days = tuple(
        Reckoned(day=day, state=_state(day, held.get(on_day(day.day), ()), replace=replace))
        for day in days_of(log.rows, zone)
    )
    if not dry_run:
        _all_agree(days, held, named, instrument)
    entries = _entries(days, named, instrument, held, pen)
    if entries and not dry_run:
        write_entries(book, entries, pen=pen, expecting=head)
    return LogTaken(
        shelf=named,
        instrument=instrument,
        dry_run=dry_run,
        days=days,
        lines=log.lines,
        readings=len(log.rows),
        repeated=log.repeated,
        temperature=log.temperature,
        humidity=log.humidity,
        how=log.how,
        faults=log.faults,
        notes=(*log.notes, *_notes(days)),
        ids=() if dry_run else tuple(entry.id for entry in entries),
    )


def _held(book: Book, shelf: str, instrument: str, zone: tzinfo) -> dict[str, tuple[Entry, ...]]:
    """The days of earlier logs that stand, of the shelf and instrument."""
    found: dict[str, tuple[Entry, ...]] = {}
    for entry in in_order(book.entries_about(f"shelf:{shelf}"), zone):
        fact = entry.fact
        if (
            isinstance(fact, ShelfRead)
            and (fact.instrument or "") == instrument
            and _NOTE.fullmatch(fact.note)
        ):
            found[entry.happened] = (*found.get(entry.happened, ()), entry)
    return found


def _fact(day: LogDay, shelf: str, instrument: str) -> ShelfRead:
    some = "reading" if day.readings == 1 else "readings"
    return ShelfRead(
        shelf=shelf,
        lowest_c=day.lowest_c,
        highest_c=day.highest_c,
        mean_c=day.mean_c,
        rh_lowest=day.rh_lowest,
        rh_highest=day.rh_highest,
        rh_mean=day.rh_mean,
        instrument=instrument or None,
        note=f"logger: {day.readings} {some} over {day.hours:g} h",
    )


def _figures(one: LogDay | ShelfRead) -> tuple[float | None, ...]:
    temps = (one.lowest_c, one.highest_c, one.mean_c)
    return (*temps, one.rh_lowest, one.rh_highest, one.rh_mean)


def _state(day: LogDay, held: Sequence[Entry], *, replace: bool) -> State:
    facts = [entry.fact for entry in held if isinstance(entry.fact, ShelfRead)]
    if not facts:
        return "new"
    if any(_figures(fact) == _figures(day) for fact in facts):
        return "same"
    if replace:
        return "changed"
    found = [_NOTE.fullmatch(fact.note) for fact in facts]
    most = max(int(one[1]) for one in found if one)
    if most == day.readings or not all(
        _agree(fact, day, longer=most < day.readings) for fact in facts
    ):
        return "differs"
    return "kept" if most > day.readings else "changed"


def _agree(fact: ShelfRead, day: LogDay, *, longer: bool) -> bool:
    """Whether the day of one is the other's read on: the longer has the shorter's extremes."""
    more, less = (day, fact) if longer else (fact, day)
    return all(
        wide is None or narrow is None or by * (wide - narrow) >= 0
        for wide, narrow, by in (
            (more.lowest_c, less.lowest_c, -1),
            (more.highest_c, less.highest_c, 1),
            (more.rh_lowest, less.rh_lowest, -1),
            (more.rh_highest, less.rh_highest, 1),
        )
    )


def _all_agree(
    days: Sequence[Reckoned], held: dict[str, tuple[Entry, ...]], shelf: str, instrument: str
) -> None:
    """Asks about days that the book has with figures of another log."""
    other = [one.day for one in days if one.state == "differs"]
    if not other:
        return
    first = other[0]
    before = held[on_day(first.day)][-1].fact
    whose = f"{instrument}'s" if instrument else "a logger's without a code"
    known = (
        f"{before.lowest_c:g} to {before.highest_c:g} °C" if isinstance(before, ShelfRead) else ""
    )
    more = f" and {len(other) - 1} more" if len(other) > 1 else ""
    raise OtherFigures(
        f"Shelf {shelf} has {whose} readings of {first.day}{more} already, and this file tells"
        f" others: {known} in the book, {first.lowest_c:g} to {first.highest_c:g} °C here. Nothing"
        " was written. Is it another logger's file, or another shelf's? Then say its code or its"
        " shelf."
    )


def _entries(
    days: Sequence[Reckoned],
    shelf: str,
    instrument: str,
    held: dict[str, tuple[Entry, ...]],
    pen: Pen,
) -> list[Entry]:
    entries: list[Entry] = []
    for one in days:
        if one.state not in ("new", "changed"):
            continue
        happened = on_day(one.day.day)
        fresh = pen.entry(_fact(one.day, shelf, instrument), happened=happened)
        entries.append(fresh)
        for old in held.get(happened, ()):
            why = "the log tells other figures of this day now"
            touches = old.fact.subjects()
            entries.append(
                pen.entry(Withdrawn(mistaken=old.id, why=why, instead=fresh.id, touches=touches))
            )
    return entries


def _notes(days: Sequence[Reckoned]) -> list[str]:
    notes = []
    if short := [f"{one.day.day}" for one in days if one.day.mean_c is None]:
        notes.append(
            f"No mean for {', '.join(short)}: less than {HOURS_FOR_A_MEAN:g} hours of readings."
        )
    bare = [
        f"{one.day.day}"
        for one in days
        if one.day.mean_c is not None and one.day.rh_lowest is not None and one.day.rh_mean is None
    ]
    if bare:
        notes.append(
            f"No mean humidity for {', '.join(bare)}: less than {HOURS_FOR_A_MEAN:g} hours of it."
        )
    if kept := [f"{one.day.day}" for one in days if one.state == "kept"]:
        notes.append(
            f"Left as the book has it: {', '.join(kept)}; it rests on more readings there."
        )
    return notes
