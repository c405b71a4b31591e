"""Reading a sheet against the book. Nothing is written."""

import hashlib
from collections.abc import Mapping, Sequence
from datetime import date, datetime

from msgspec.structs import replace

from mancary.book import Book
from mancary.sheets.cells import Ground, ground_of
from mancary.sheets.meaning import find_meaning
from mancary.sheets.reading import Table, read_table
from mancary.usecases.take_in.answer import Reading, Row, SheetSource
from mancary.usecases.take_in.boxes import BoxList
from mancary.usecases.take_in.journal import Journal
from mancary.usecases.take_in.known import Known, was_taken_in, zone_of
from mancary.usecases.take_in.names import Handbook, NameFinder, Names
from mancary.usecases.take_in.notes import notes_of
from mancary.usecases.take_in.rows import RowDesk


def read_sheet(
    book: Book,
    data: bytes,
    file_name: str,
    *,
    now: datetime,
    answers: Mapping[str, str] | None = None,
    meanings: Mapping[str, str] | None = None,
    as_of: date | None = None,
    names: NameFinder | None = None,
) -> Reading:
    """What a sheet would add to the book, row by row.

    ``answers`` are the keeper's mends: a question's key, "12:Litres" for the cell of line 12, or
    "12" for the row, to the text that stands instead, or "leave out". ``meanings`` gives a heading
    another role. ``as_of`` is the day the undated figures of a box list hold for, default today.

    Raises:
        Refusal: when the file as a whole cannot be read as a sheet.
    """
    source = SheetSource(
        data=data,
        file_name=file_name,
        answers=dict(answers or {}),
        meanings=dict(meanings or {}),
        as_of=as_of,
    )
    table = read_table(data)
    meaning = find_meaning(table, source.meanings)
    zone = zone_of(book)
    today = now.astimezone(zone).date()
    ground = ground_of(table, meaning, answers=source.answers, today=today, zone=zone)
    day = as_of or today
    rows = _rows(book, table, ground, source, day, now, names or Handbook())
    return Reading(
        sort=meaning.sort,
        headings=table.headings,
        columns=meaning.columns,
        rows=tuple(rows),
        notes=notes_of(table, ground, rows, as_of=day),
        as_of=day,
        source=source,
    )


def _rows(
    book: Book,
    table: Table,
    ground: Ground,
    source: SheetSource,
    day: date,
    now: datetime,
    names: NameFinder,
) -> Sequence[Row]:
    desk = RowDesk(now=now)
    if ground.meaning.sort == "journal":
        journal = Journal(ground, set(book.subjects("box")), desk)
        return _without_known(book, [journal.row(row) for row in table.rows])
    known = Known(book)
    again = was_taken_in(book, hashlib.sha256(source.data).hexdigest())
    boxes = BoxList(table, ground, known, Names(names, known), desk, as_of=day, again=again)
    return _without_known(book, boxes.rows(table))


def _without_known(book: Book, rows: Sequence[Row]) -> list[Row]:
    """The rows with only those entries the book does not have yet."""
    has = book.has(entry.id for row in rows for entry in row.entries)
    return [_fresh(row, has) if row.entries else row for row in rows]


def _fresh(row: Row, has: set[str]) -> Row:
    entries = tuple(entry for entry in row.entries if entry.id not in has)
    if entries:
        return replace(row, entries=entries) if len(entries) < len(row.entries) else row
    said = (*row.said, "the book has all of this row already")
    return replace(row, state="repeated", entries=(), said=said)
