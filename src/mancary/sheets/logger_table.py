"""The bytes of a logger's file to its columns: what stands above the table is left aside."""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from mancary.husbandry.refusal import Refusal
from mancary.sheets.logger_headings import is_unit_alone, role_of
from mancary.sheets.logger_times import sort_of_time
from mancary.sheets.logger_values import figure
from mancary.sheets.plain import tidy, told_apart
from mancary.sheets.reading.encoding import decoded
from mancary.sheets.reading.pages import chosen_page
from mancary.sheets.reading.workbook import is_workbook

WORKBOOK: Final = "workbook"
_MOST_BYTES: Final = 20_000_000
_DELIMITERS: Final = {";": "semicolons", "\t": "tabs", "|": "bars", ",": "commas"}
_SEP_LINE = re.compile(r"\ufeff?\"?sep=(.)\"?\s*", re.IGNORECASE)
_SEARCH: Final = 200
_RUN: Final = 3
Record = tuple[int, tuple[str, ...]]


class LogTable(Struct, frozen=True, kw_only=True):
    """Headings, and the lines below with their number in the file (the first is 1).

    All lines are as wide as the headings, which are "column 1" and so on where there are none;
    ``above`` is the text over the table.
    """

    headings: tuple[str, ...]
    lines: tuple[Record, ...]
    above: str
    how: str


def log_table(data: bytes) -> LogTable:
    """The table in a logger's file.

    Raises:
        Refusal: in one sentence, when the file is too large, empty, or holds no lines of readings.
    """
    if len(data) > _MOST_BYTES:
        raise Refusal(f"This file is larger than {_MOST_BYTES // 1_000_000} MB; split it first.")
    if not data.strip():
        raise Refusal("This file is empty.")
    if is_workbook(data):
        pages, _ = chosen_page(data)
        return _table([(at, _tidied(cells)) for at, cells in pages if any(cells)], WORKBOOK)
    text, encoding = decoded(data)
    sign, text, skipped = _delimiter(text)
    how = f"{encoding} text with {_DELIMITERS.get(sign, repr(sign))}"
    return _table(list(_records(text, sign, skipped)), how)


def _tidied(cells: Sequence[str]) -> tuple[str, ...]:
    return tuple(tidy(cell) for cell in cells)


def _delimiter(text: str) -> tuple[str, str, int]:
    """The sign that makes most lines a moment and a figure, the text below a line naming it."""
    first, _, rest = text.partition("\n")
    if told := _SEP_LINE.fullmatch(first):
        return told[1], rest, 1
    start = "\n".join(text.splitlines()[:_SEARCH])
    return max(_DELIMITERS, key=lambda sign: _likeness(start, sign)), text, 0


def _likeness(start: str, sign: str) -> tuple[int, bool, int]:
    """Lines that are readings, whether headings are known, and lines with a moment and more."""
    cut = [cells for _, cells in _records(start, sign, 0)]
    sure = sum(_is_reading(cells, strict=True) for cells in cut)
    return sure, any(map(_is_heads, cut)), sum(map(_is_reading, cut))


def _records(text: str, sign: str, skipped: int) -> Iterator[Record]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=sign)
    begins = 1 + skipped
    try:
        for cells in reader:
            tidied = _tidied(cells)
            if any(tidied):
                yield begins, tidied
            begins = reader.line_num + 1 + skipped
    except csv.Error as fault:
        raise Refusal(f"Line {begins} cannot be read as a row of cells ({fault}).") from None


def _is_reading(cells: Sequence[str], *, strict: bool = False) -> bool:
    """A line with a moment and, beside it, a figure; or, unless ``strict``, any other cell."""
    times = [at for at, cell in enumerate(cells) if cell and sort_of_time(cell)]
    others = [cell for at, cell in enumerate(cells) if at not in times]
    if not times:
        return False
    return any(figure(cell) for cell in others) or (not strict and len(others) > 0)


def _table(records: list[Record], how: str) -> LogTable:
    start = _first_line(records)
    if start is None:
        raise Refusal(
            "No line of this file holds a moment and a reading beside it; expected the table of a"
            " logger as CSV, with a day and an hour in each line."
        )
    heads, above = _heads(records[:start])
    width = max(
        len(heads), Counter(len(cells) for _, cells in records[start:]).most_common(1)[0][0]
    )
    lines = tuple((at, (cells + ("",) * width)[:width]) for at, cells in records[start:])
    if heads and len(heads) < width and not any(cells[len(heads)] == "" for _, cells in lines):
        raise Refusal(
            f"Its lines have {width} cells under {len(heads)} headings. If commas part the cells"
            " and mark decimals too, save it with semicolons or points."
        )
    return LogTable(headings=told_apart(heads, width), lines=lines, above=above, how=how)


def _first_line(records: Sequence[Record]) -> int | None:
    """Where lines of readings begin: below known headings, else where a run of readings does."""
    start = records[:_SEARCH]
    heads = next((at for at, (_, cells) in enumerate(start) if _is_heads(cells)), -1)
    for at in range(heads + 1, len(records) if heads >= 0 else len(start)):
        run = records[at : at + (1 if heads >= 0 else _RUN)]
        if all(_is_reading(cells, strict=heads < 0) for _, cells in run):
            return at
    return None


def _is_heads(cells: Sequence[str]) -> bool:
    roles = {role_of(cell) for cell in cells if cell}
    return "time" in roles and bool(roles & {"temperature", "humidity"}) and _may_head(cells)


def _heads(before: Sequence[Record]) -> tuple[tuple[str, ...], str]:
    """The headings right above the readings, with the line of units below them, and the rest."""
    at = next((n for n in reversed(range(len(before))) if _may_head(before[n][1])), None)
    for n in reversed(range(len(before))):
        if _is_heads(before[n][1]):
            at = n
    if at is None:
        return (), " ".join(" ".join(cells) for _, cells in before)
    heads = before[at][1]
    units = before[at + 1][1] if at + 1 < len(before) else ()
    if at and all(is_unit_alone(cell) for cell in heads if cell):
        at -= 1
        heads, units = before[at][1], heads
    if units and all(is_unit_alone(cell) for cell in units if cell):
        heads = tuple(
            f"{name} {units[n] if n < len(units) else ''}".strip() for n, name in enumerate(heads)
        )
    return heads, " ".join(" ".join(cells) for _, cells in before[:at])


def _may_head(cells: Sequence[str]) -> bool:
    return sum(map(bool, cells)) > 1 and not any(sort_of_time(cell) for cell in cells if cell)
