"""Writing a sheet that was read: all of its understood rows in one go, or nothing."""

import hashlib
from datetime import datetime
from pathlib import PurePath

from mancary.book import Book, Receipt
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import SheetTakenIn
from mancary.husbandry.moments import instant
from mancary.husbandry.refusal import Refusal
from mancary.usecases.take_in.answer import Reading, SheetReceipt
from mancary.usecases.take_in.names import NameFinder
from mancary.usecases.take_in.read import read_sheet

_MOST_TURNS = 6


def take(
    book: Book,
    reading: Reading,
    *,
    now: datetime,
    accept_best: float | None = None,
    names: NameFinder | None = None,
) -> SheetReceipt:
    """Writes the understood rows in one append; nothing at all where nothing is new.

    With ``accept_best`` (a likelihood, 0 to 1) asked rows are written too where the best choice of
    each of their questions is at least so likely.

    Raises:
        Refusal: while an answer of the keeper's was not used: he may think a row left out.
        MovedOn: when something else was written since the sheet was read; read it again.
        BookTrouble: when the book cannot be written; then nothing was.
    """
    if reading.unused:
        raise Refusal(f"Nothing was written. {' '.join(reading.unused)}")
    if accept_best is not None:
        reading = _with_best(book, reading, accept_best, now, names)
    entries = reading.entries
    if not entries:
        return SheetReceipt(reading=reading, receipt=Receipt((), ()))
    receipt = book.append(
        [*entries, _taken_in(reading, now)], written_at=now, expecting=reading.head
    )
    return SheetReceipt(reading=reading, receipt=receipt)


def _with_best(
    book: Book, reading: Reading, accept_best: float, now: datetime, names: NameFinder | None
) -> Reading:
    """The sheet read again with the best answers, for one answer may raise another question."""
    for _ in range(_MOST_TURNS):
        best = {
            question.key: question.best.value
            for row in reading.rows
            if all(question.best.likelihood >= accept_best for question in row.asked)
            for question in row.asked
        }
        if not best:
            break
        source = reading.source
        reading = read_sheet(
            book,
            source.data,
            source.file_name,
            now=now,
            answers={**source.answers, **best},
            meanings=source.meanings,
            as_of=source.as_of,
            names=names,
        )
    return reading


def _taken_in(reading: Reading, now: datetime) -> Entry:
    sha256 = hashlib.sha256(reading.source.data).hexdigest()
    told = "|".join(entry.id for entry in reading.entries)
    fact = SheetTakenIn(
        file=PurePath(reading.source.file_name).name[:200] or "sheet",
        sha256=sha256,
        rows_read=reading.rows_read,
        rows_understood=reading.rows_understood,
        rows_refused=reading.rows_refused,
        rows_asked=reading.rows_asked,
        rows_repeated=reading.rows_repeated,
    )
    return Entry(
        id=derived_id(f"sheet|{fact.kind}|{sha256}|{told}"),
        happened=instant(now),
        typed=instant(now),
        fact=fact,
    )
