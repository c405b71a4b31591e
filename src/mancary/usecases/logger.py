"""A logger's file taken in: one reading of the shelf for each local day."""

from collections.abc import Sequence
from datetime import date, tzinfo

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import code
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import ShelfRead, Withdrawn
from mancary.husbandry.moments import on_day
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell
from mancary.sheets.faults import Fault
from mancary.sheets.logger import Log, LogRow, read_logger
from mancary.usecases.colony_work import known_shelf
from mancary.usecases.logger_beside import Reckoned, State, beside, noted
from mancary.usecases.logger_days import HOURS_FOR_A_MEAN, LogDay, days_of
from mancary.usecases.logger_whose import (
    Held,
    days_said,
    held_of,
    is_nameless,
    whose_log,
    written_day,
)
from mancary.usecases.pen import Pen
from mancary.usecases.record import write_entries
from mancary.usecases.zone import zone_of


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
        why = (
            tell(" Line %(row)s, %(column)s %(value)r: %(why)s.", first, value=first.value)
            if first
            else ""
        )
        raise Refusal(tell("None of %(lines)s lines could be read.%(why)s", log, why=why))
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
    readings, and the book's extremes among them; or, where book and log each have hours of it that
    the other has not, both together. ``replace`` does so with any other figures too. A log taken in
    once with its code and once without is known by a day of the same figures.

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
    told, rows = days_of(log.rows, zone), _by_day(log.rows, zone)
    instrument, held, whose = whose_log(held_of(book, named, zone), told, instrument)
    days = tuple(
        _reckoned(day, rows[day.day], held, instrument, zone, replace=replace) for day in told
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
        notes=(*log.notes, *whose, *_notes(days)),
        ids=() if dry_run else tuple(entry.id for entry in entries),
    )


def _by_day(rows: Sequence[LogRow], zone: tzinfo) -> dict[date, list[LogRow]]:
    found: dict[date, list[LogRow]] = {}
    for row in rows:
        found.setdefault(row.at.astimezone(zone).date(), []).append(row)
    return found


def _reckoned(
    day: LogDay, rows: Sequence[LogRow], held: Held, instrument: str, zone: tzinfo, *, replace: bool
) -> Reckoned:
    entries = held.get(day.day, ())
    before = [told for entry in entries if (told := written_day(entry))]
    found = beside(day, rows, before, zone, replace=replace)
    if found.state == "same" and instrument and all(map(is_nameless, entries)):
        return Reckoned(day=day, state="changed")
    return found


def _all_agree(days: Sequence[Reckoned], held: Held, shelf: str, instrument: str) -> None:
    """Asks about days that the book has with figures of another log."""
    other = [one.day for one in days if one.state == "differs"]
    if not other:
        return
    first = other[0]
    before = held[first.day][-1].fact
    whose = f"{instrument}'s" if instrument else tell("a logger's without a code")
    known = (
        tell("%(lowest_c)g to %(highest_c)g °C", before) if isinstance(before, ShelfRead) else ""
    )
    more = tell(" and %(other)s more", other=len(other) - 1) if len(other) > 1 else ""
    raise OtherFigures(
        tell(
            "Shelf %(shelf)s has %(whose)s readings of %(day)s%(more)s already, and this"
            " file tells others: %(known)s in the book, %(lowest_c)g to %(highest_c)g °C"
            " here. Nothing was written. Is it another logger's file, or another shelf's?"
            " Then say its code or its shelf.",
            first,
            shelf=shelf,
            whose=whose,
            more=more,
            known=known,
        )
    )


def _fact(day: LogDay, shelf: str, instrument: str) -> ShelfRead:
    return ShelfRead(
        shelf=shelf,
        lowest_c=day.lowest_c,
        highest_c=day.highest_c,
        mean_c=day.mean_c,
        rh_lowest=day.rh_lowest,
        rh_highest=day.rh_highest,
        rh_mean=day.rh_mean,
        instrument=instrument or None,
        note=noted(day),
    )


def _entries(
    days: Sequence[Reckoned], shelf: str, instrument: str, held: Held, pen: Pen
) -> list[Entry]:
    entries: list[Entry] = []
    for one in days:
        if one.state not in ("new", "changed"):
            continue
        fresh = pen.entry(_fact(one.day, shelf, instrument), happened=on_day(one.day.day))
        entries.append(fresh)
        for old in held.get(one.day.day, ()):
            why = tell("the log tells other figures of this day now, or whose it is")
            touches = old.fact.subjects()
            entries.append(
                pen.entry(Withdrawn(mistaken=old.id, why=why, instead=fresh.id, touches=touches))
            )
    return entries


def _notes(days: Sequence[Reckoned]) -> list[str]:
    notes = []
    if short := [one.day.day for one in days if one.day.mean_c is None]:
        notes.append(
            tell(
                "No mean for %(short)s: less than %(hours_for_a_mean)g hours of readings.",
                short=days_said(short),
                hours_for_a_mean=HOURS_FOR_A_MEAN,
            )
        )
    bare = [
        one.day.day
        for one in days
        if one.day.mean_c is not None and one.day.rh_lowest is not None and one.day.rh_mean is None
    ]
    if bare:
        notes.append(
            tell(
                "No mean humidity for %(bare)s: less than %(hours_for_a_mean)g hours of it.",
                bare=days_said(bare),
                hours_for_a_mean=HOURS_FOR_A_MEAN,
            )
        )
    if both := [one.day.day for one in days if one.joined]:
        notes.append(
            tell(
                "Put together with the book's: %(both)s; each has hours that the other has not.",
                both=days_said(both),
            )
        )
    if kept := [one.day.day for one in days if one.state == "kept"]:
        notes.append(
            tell(
                "Left as the book has it: %(kept)s; it rests on more readings there.",
                kept=days_said(kept),
            )
        )
    return notes
