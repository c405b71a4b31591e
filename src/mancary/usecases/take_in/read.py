"""Reading a sheet against the book. Nothing is written."""

import hashlib
from collections.abc import Mapping, Sequence
from datetime import date, datetime

from mancary.book import Book
from mancary.husbandry.refusal import Refusal
from mancary.sheets.ground import Ground, ground_of
from mancary.sheets.meaning import find_meaning
from mancary.sheets.reading import Table, read_table
from mancary.usecases.standings import register_of
from mancary.usecases.take_in.answer import Reading, Row, SheetSource
from mancary.usecases.take_in.boxes import BoxList
from mancary.usecases.take_in.journal import Journal
from mancary.usecases.take_in.known import Known, was_taken_in, withdrawals_of
from mancary.usecases.take_in.living import Living
from mancary.usecases.take_in.names import Handbook, NameFinder, Names
from mancary.usecases.take_in.notes import notes_of
from mancary.usecases.take_in.rows import RowDesk, without
from mancary.usecases.zone import zone_of


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

    An answer that meets nothing in the sheet, or that no choice allows, stands in ``unused``.

    Raises:
        Refusal: when the file as a whole cannot be read as a sheet, or ``as_of`` lies ahead.
    """
    source = SheetSource(
        data=data,
        file_name=file_name,
        answers=dict(answers or {}),
        meanings=dict(meanings or {}),
        as_of=as_of,
    )
    head, zone = book.head(), zone_of(book)
    today = now.astimezone(zone).date()
    if as_of and as_of > today:
        raise Refusal(
            f"{as_of.isoformat()} lies ahead; the figures of a sheet are from today"
            f" ({today.isoformat()}) or from a day that has been."
        )
    table = read_table(data)
    meaning = find_meaning(table, source.meanings)
    ground = ground_of(table, meaning, answers=source.answers, today=today, zone=zone)
    day = as_of or today
    rows = _rows(book, table, ground, source, day, now, names or Handbook())
    unused = ground.mends.unused
    return Reading(
        sort=meaning.sort,
        headings=table.headings,
        columns=meaning.columns,
        rows=tuple(rows),
        notes=(*unused.values(), *notes_of(table, ground, rows, as_of=day)),
        as_of=day,
        source=source,
        head=head,
        unused=tuple(unused.values()),
        unused_keys=tuple(unused),
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
    desk, zone = RowDesk(now=now), ground.calendar.zone
    if ground.meaning.sort == "journal":
        living = Living(register_of(book, zone), zone)
        journal = Journal(
            ground, set(book.subjects("box")), living, desk, book.has, withdrawals_of(book)
        )
        return _without_known(book, [journal.row(row) for row in table.rows])
    known = Known(book, zone)
    again = was_taken_in(book, hashlib.sha256(source.data).hexdigest())
    boxes = BoxList(table, ground, known, Names(names, known), desk, as_of=day, again=again)
    return _without_known(book, boxes.rows(table))


def _without_known(book: Book, rows: Sequence[Row]) -> list[Row]:
    """The rows with only those entries the book does not have yet."""
    has = book.has(entry.id for row in rows for entry in row.entries)
    return [without(row, has) for row in rows]
