"""Bytes of a file to a table: headings, and rows with their line in the file."""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from mancary.husbandry.refusal import Refusal
from mancary.sheets.plain import tidy, told_apart
from mancary.sheets.reading.encoding import decoded
from mancary.sheets.reading.headings import Record, heading_at
from mancary.sheets.reading.pages import chosen_page
from mancary.sheets.reading.workbook import is_workbook

_MOST_BYTES = 20_000_000
_MOST_ROWS = 200_000
_MOST_COLUMNS = 500
_LONGEST_CELL = 100_000
_DELIMITERS = {";": "semicolons", ",": "commas", "\t": "tabs", "|": "bars"}
_SAMPLE_LINES = 200
_TOO_LONG = (
    f"Line {{}} holds a cell of more than {_LONGEST_CELL:,} letters, too long to be one. A quote"
    " may be left open."
)
_SEP_LINE = re.compile(r"^\ufeff?\"?sep=(.)\"?\s*$", re.IGNORECASE)


class SheetRow(Struct, frozen=True):
    """One row: the line it begins on in the file (the first line is 1) and its cells as text."""

    line: int
    cells: tuple[str, ...]


class Table(Struct, frozen=True, kw_only=True):
    """A sheet as read: one heading a column, all rows as wide as the headings.

    Where the sheet has no headings the columns are named by their places, "column 1" first, and
    ``heading_line`` is 0. ``notes`` are sentences about what of the file was left aside.
    """

    headings: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    heading_line: int
    how: str
    """How the file was read: "UTF-8 text with semicolons", "workbook"."""
    notes: tuple[str, ...] = ()


def read_table(data: bytes) -> Table:
    """The table in the bytes of a CSV or XLSX file. Empty lines are not rows.

    Raises:
        Refusal: in one sentence, when the file is too large, no table, or has no headings.
    """
    if len(data) > _MOST_BYTES:
        raise Refusal(f"This file is larger than {_MOST_BYTES // 1_000_000} MB; split it first.")
    if not data.strip():
        raise Refusal("This file is empty.")
    if is_workbook(data):
        rows, notes = chosen_page(data)
        return _table(_filled(rows), "workbook", notes)
    text, encoding = decoded(data)
    delimiter, text, skipped = _told_delimiter(text)
    delimiter = delimiter or find_delimiter(text)
    how = f"{encoding} text with {_DELIMITERS.get(delimiter, repr(delimiter))}"
    return _table(_filled(_records(text, delimiter, skipped)), how)


def _told_delimiter(text: str) -> tuple[str, str, int]:
    first, _, rest = text.partition("\n")
    told = _SEP_LINE.match(first)
    return (told.group(1), rest, 1) if told else ("", text, 0)


def find_delimiter(text: str) -> str:
    """The sign between cells: the one that cuts the first lines into most, evenest columns."""
    start = "\n".join(text.splitlines()[:_SAMPLE_LINES])
    return max(_DELIMITERS, key=lambda sign: _evenness(start, sign))


def _evenness(text: str, delimiter: str) -> float:
    try:
        widths = Counter(
            len(row) for row in csv.reader(io.StringIO(text), delimiter=delimiter) if row
        )
    except csv.Error:
        return 0.0
    if not widths:
        return 0.0
    width, lines = widths.most_common(1)[0]
    return 0.0 if width == 1 else lines / widths.total() + min(width, 20) / 100


def _records(text: str, delimiter: str, skipped: int) -> Iterator[Record]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    begins = 1 + skipped
    try:
        for cells in reader:
            yield begins, cells
            begins = reader.line_num + 1 + skipped
    except csv.Error as fault:
        if "field limit" in str(fault):
            raise Refusal(_TOO_LONG.format(begins)) from None
        raise Refusal(f"Line {begins} cannot be read as a row of cells ({fault}).") from None


def _filled(records: Iterable[Record]) -> list[Record]:
    kept: list[Record] = []
    for line, cells in records:
        tidied = [tidy(cell) for cell in cells]
        if not any(tidied):
            continue
        if len(kept) > _MOST_ROWS:
            raise Refusal(f"This sheet has more than {_MOST_ROWS:,} rows; split it first.")
        if max(map(len, tidied)) > _LONGEST_CELL:
            raise Refusal(_TOO_LONG.format(line))
        kept.append((line, tidied))
    return kept


def _table(records: list[Record], how: str, notes: tuple[str, ...] = ()) -> Table:
    at = heading_at(records)
    body = records if at is None else records[at + 1 :]
    width = max(len(cells) for _, cells in records[at or 0 :])
    if width > _MOST_COLUMNS:
        raise Refusal(
            f"This file has {width:,} columns; a keeper's sheet has fewer than {_MOST_COLUMNS}."
        )
    rows = tuple(
        SheetRow(number, tuple(cells) + ("",) * (width - len(cells))) for number, cells in body
    )
    if not rows:
        raise Refusal("This sheet has headings but no rows.")
    return Table(
        headings=told_apart([] if at is None else records[at][1], width),
        rows=rows,
        heading_line=0 if at is None else records[at][0],
        how=how,
        notes=notes + _above(records[: at or 0]),
    )


def _above(records: Sequence[Record]) -> tuple[str, ...]:
    if not records:
        return ()
    first = ", ".join(cell for cell in records[0][1] if cell)[:60]
    lines = f"Line {records[0][0]}" if len(records) == 1 else f"{len(records)} lines"
    verb = "is" if len(records) == 1 else "are"
    return (f"{lines} above the headings ({first!r}) {verb} left aside.",)
