"""Bytes of a file to a table: headings, and rows with their line in the file."""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from mancary.husbandry.refusal import Refusal
from mancary.sheets.heading_words import is_heading_word
from mancary.sheets.plain import tidy
from mancary.sheets.reading.encoding import decoded
from mancary.sheets.reading.workbook import is_workbook, workbook_rows

_MOST_BYTES = 20_000_000
_MOST_ROWS = 200_000
_MOST_COLUMNS = 500
_LONGEST_CELL = 100_000
_DELIMITERS = {";": "semicolons", ",": "commas", "\t": "tabs", "|": "bars"}
_SAMPLE_LINES = 200
_HEADING_SEARCH = 30
_SEP_LINE = re.compile(r"^\ufeff?\"?sep=(.)\"?\s*$", re.IGNORECASE)

Record = tuple[int, list[str]]


class SheetRow(Struct, frozen=True):
    """One row: the line it begins on in the file (the first line is 1) and its cells as text."""

    line: int
    cells: tuple[str, ...]


class Table(Struct, frozen=True, kw_only=True):
    """A sheet as read: one heading a column, all rows as wide as the headings."""

    headings: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    heading_line: int
    how: str
    """How the file was read: "UTF-8 text with semicolons", "workbook"."""


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
        return _table(_filled(workbook_rows(data)), "workbook")
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
            raise Refusal(f"Line {line} holds a cell too long to be one; is a quote left open?")
        kept.append((line, tidied))
    return kept


def _table(records: list[Record], how: str) -> Table:
    at = _heading_at(records)
    line, first = records[at]
    width = max(len(cells) for _, cells in records[at:])
    if width > _MOST_COLUMNS:
        raise Refusal(
            f"This file has {width:,} columns; a keeper's sheet has fewer than {_MOST_COLUMNS}."
        )
    headings = _headings(first, width)
    rows = tuple(
        SheetRow(number, tuple(cells) + ("",) * (width - len(cells)))
        for number, cells in records[at + 1 :]
    )
    if not rows:
        raise Refusal("This sheet has headings but no rows.")
    return Table(headings=headings, rows=rows, heading_line=line, how=how)


def _heading_at(records: Sequence[Record]) -> int:
    known = [
        sum(is_heading_word(cell) for cell in cells if cell)
        for _, cells in records[:_HEADING_SEARCH]
    ]
    if not known:
        raise Refusal("This file has no rows.")
    best = max(range(len(known)), key=lambda index: (min(known[index], 2), -index))
    return best if known[best] > 1 else 0


def _headings(cells: Sequence[str], width: int) -> tuple[str, ...]:
    seen: Counter[str] = Counter()
    named = []
    for number in range(width):
        heading = (cells[number] if number < len(cells) else "") or f"column {number + 1}"
        seen[heading] += 1
        named.append(heading if seen[heading] == 1 else f"{heading} ({seen[heading]})")
    return tuple(named)
