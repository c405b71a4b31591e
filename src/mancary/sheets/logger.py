"""The file of a logger that wrote down a shelf's temperature and humidity, any common layout."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta, tzinfo
from itertools import pairwise
from statistics import median
from typing import Final

from msgspec import Struct

from mancary.husbandry.moments import Moment, instant
from mancary.sheets.faults import Fault, Unreadable
from mancary.sheets.logger_columns import Columns, find_columns
from mancary.sheets.logger_table import WORKBOOK, LogTable, log_table
from mancary.sheets.logger_times import Almanac, Written, order_of, sort_of_time, written_moment
from mancary.sheets.logger_values import degrees, share
from mancary.sheets.values.dates import Calendar, DateOrder

_NO_STEP: Final = timedelta()
_NO_DAYS: Final = DateOrder(order=None, why="no day is written")


class LogRow(Struct, frozen=True):
    """One reading: the instant in UTC, °C, and humidity 0..1 where told; ``line`` in the file."""

    line: int
    at: datetime
    temp_c: float
    rh: float | None

    @property
    def moment(self) -> Moment:
        """The instant as the book writes it."""
        return instant(self.at)


class Log(Struct, frozen=True, kw_only=True):
    """A logger's file as read: its readings in order of time, and what could not be read.

    A reading without a readable temperature is left out; one without a readable humidity has none.
    ``repeated`` lines said again what another had said.
    """

    rows: tuple[LogRow, ...]
    faults: tuple[Fault, ...]
    lines: int
    repeated: int
    temperature: str
    humidity: str
    how: str
    notes: tuple[str, ...]


class _Line(Struct, frozen=True):
    line: int
    cells: tuple[str, ...]
    bare: datetime


def read_logger(
    data: bytes,
    *,
    zone: tzinfo,
    today: date,
    day_first: bool | None = None,
    temperature: str = "",
    humidity: str = "",
    unit: str = "",
) -> Log:
    """The readings in a logger's file (CSV of any delimiter, XLSX).

    ``zone`` is that of the shelf's clock, where neither lines nor headings name one; days after
    ``today`` are faults. ``temperature`` and ``humidity`` name columns, ``unit`` is ``c`` or ``f``.

    Raises:
        Refusal: where it is no such file, or asking which column, order or unit is meant.
    """
    table = log_table(data)
    columns = find_columns(table, temperature=temperature, humidity=humidity, unit=unit)
    faults: list[Fault] = []
    told = _told(table, columns, faults)
    name = table.headings[columns.time[0]]
    days = [one.day for _, _, one in told if isinstance(one, Written)]
    days = [day for at, day in enumerate(days) if not at or day != days[at - 1]]
    order = _NO_DAYS
    if days:
        order = order_of(days, column=name, day_first=day_first, today=today)
    calendar = Calendar(order=order, today=today)
    almanac = Almanac(calendar, columns.zone or zone)
    rows, repeated = _rows(_dated(told, almanac, name, faults), almanac, table, columns, faults)
    return Log(
        rows=tuple(sorted(rows, key=lambda row: row.at)),
        faults=tuple(sorted(faults, key=lambda fault: fault.row)),
        lines=len(table.lines),
        repeated=repeated,
        temperature=table.headings[columns.temperature],
        humidity="" if columns.humidity is None else table.headings[columns.humidity],
        how=table.how,
        notes=columns.notes,
    )


def _told(
    table: LogTable, columns: Columns, faults: list[Fault]
) -> list[tuple[int, tuple[str, ...], datetime | Written]]:
    found = []
    for line, cells in table.lines:
        text = " ".join(cells[at] for at in columns.time)
        if table.how == WORKBOOK and len(columns.time) == 1 and sort_of_time(text) == "day":
            text += " 00:00"  # a workbook's midnight is a bare day
        try:
            found.append((line, cells, written_moment(text)))
        except Unreadable as fault:
            name = table.headings[columns.time[0]]
            faults.append(Fault(row=line, column=name, value=text, why=str(fault)))
    return found


def _dated(
    told: Iterable[tuple[int, tuple[str, ...], datetime | Written]],
    almanac: Almanac,
    name: str,
    faults: list[Fault],
) -> list[_Line]:
    """The lines by the logger's clock, the oldest first where the newest stood first."""
    found: list[_Line] = []
    for line, cells, written in told:
        try:
            found.append(_Line(line, cells, almanac.bare(written)))
        except Unreadable as fault:
            value = written.day if isinstance(written, Written) else str(written)
            faults.append(Fault(row=line, column=name, value=value, why=str(fault)))
    steps = _steps(found)
    falling = sum(step < _NO_STEP for step in steps)
    return found[::-1] if 2 * falling > len(steps) else found


def _steps(lines: Sequence[_Line]) -> list[timedelta]:
    return [
        b.bare - a.bare
        for a, b in pairwise(lines)
        if (a.bare.tzinfo is None) == (b.bare.tzinfo is None)
    ]


def _rows(
    lines: Sequence[_Line],
    almanac: Almanac,
    table: LogTable,
    columns: Columns,
    faults: list[Fault],
) -> tuple[list[LogRow], int]:
    usual = [step for step in _steps(lines) if step > _NO_STEP]
    step = timedelta(seconds=median(one.total_seconds() for one in usual)) if usual else _NO_STEP
    kept: dict[datetime, LogRow] = {}
    repeated = 0
    before: datetime | None = None
    cells: tuple[str, ...] = ()
    for one in lines:
        try:
            at = almanac.instant(one.bare, before=before, step=step, same=one.cells == cells)
        except Unreadable as fault:
            name = table.headings[columns.time[0]]
            faults.append(Fault(row=one.line, column=name, value=str(one.bare), why=str(fault)))
            continue
        before, cells = at, one.cells
        row = _row(one, at, table, columns, faults)
        if row is None:
            continue
        first = kept.setdefault(at, row)
        if (first.temp_c, first.rh) != (row.temp_c, row.rh):
            faults.append(_twice(row, first, table, columns))
        elif first is not row:
            repeated += 1
    return list(kept.values()), repeated


def _twice(row: LogRow, first: LogRow, table: LogTable, columns: Columns) -> Fault:
    return Fault(
        row=row.line,
        column=table.headings[columns.time[0]],
        value=row.moment,
        why=f"line {first.line} tells other figures for this moment, and it was kept; expected"
        " each moment once",
    )


def _row(
    one: _Line, at: datetime, table: LogTable, columns: Columns, faults: list[Fault]
) -> LogRow | None:
    rh: float | None = None
    if (place := columns.humidity) is not None:
        try:
            rh = share(one.cells[place], columns.whole)
        except Unreadable as fault:
            faults.append(_fault(one, table, place, fault))
    try:
        temp_c = degrees(one.cells[columns.temperature], columns.unit)
    except Unreadable as fault:
        faults.append(_fault(one, table, columns.temperature, fault))
        return None
    return LogRow(one.line, at, temp_c, rh)


def _fault(one: _Line, table: LogTable, place: int, fault: Unreadable) -> Fault:
    return Fault(row=one.line, column=table.headings[place], value=one.cells[place], why=str(fault))
