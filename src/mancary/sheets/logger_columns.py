"""Which columns of a logger's table hold the moment, the temperature and the humidity."""

from collections import Counter
from collections.abc import Sequence
from datetime import tzinfo
from statistics import median
from typing import Final

from msgspec import Struct

from mancary.husbandry.refusal import Refusal
from mancary.sheets.logger_headings import role_of, sensor_of, unit_in
from mancary.sheets.logger_table import LogTable
from mancary.sheets.logger_times import offset_in_heading, sort_of_time
from mancary.sheets.logger_unsaid import Unsaid
from mancary.sheets.logger_values import figure
from mancary.sheets.plain import plain

NONE: Final = "none"
"""Said for the humidity's column where none is to be read."""
_SAMPLE: Final = 300
_MOST_OF: Final = 0.5
_WARMER_THAN_ROOMS: Final = 45.0
"""Ours: half of a log above this is hardly a room with animals in °C."""


class Columns(Struct, frozen=True, kw_only=True):
    """Places of the columns, counted from 0. ``unit`` is ``c`` or ``f``; ``whole`` 100 or 1."""

    time: tuple[int, ...]
    zone: tzinfo | None
    temperature: int
    unit: str
    humidity: int | None
    whole: float
    notes: tuple[str, ...]


def find_columns(table: LogTable, *, temperature: str, humidity: str, unit: str) -> Columns:
    """The columns by headings and by what stands in them; what the keeper said goes first.

    Raises:
        Refusal: asking, with the names of the columns that may be meant.
    """
    time = _time(table)
    zones = (offset_in_heading(table.headings[at]) for at in time)
    warm = _warm(table, temperature, time)
    damp = _damp(table, humidity, warm, time)
    found, note = _unit(table, warm, unit)
    whole, share_note = _whole(table, damp)
    return Columns(
        time=time,
        zone=next((zone for zone in zones if zone), None),
        temperature=warm,
        unit=found,
        humidity=damp,
        whole=whole,
        notes=tuple(filter(None, (note, share_note))),
    )


def _cells(table: LogTable, at: int) -> list[str]:
    step = max(1, len(table.lines) // _SAMPLE)
    return [cells[at] for _, cells in table.lines[::step] if cells[at]]


def _sort(table: LogTable, at: int) -> str:
    cells = _cells(table, at)
    sorts = Counter(filter(None, map(sort_of_time, cells))).most_common(1)
    return sorts[0][0] if sorts and sorts[0][1] > _MOST_OF * len(cells) else ""


def _time(table: LogTable) -> tuple[int, ...]:
    sorts: dict[str, list[int]] = {}
    for at in range(len(table.headings)):
        sorts.setdefault(_sort(table, at), []).append(at)
    for some in sorts.values():
        some.sort(key=lambda at: (role_of(table.headings[at]) != "time", at))
    if epochs := [at for at in sorts.get("epoch", []) if _tells_time(table, at, sorts)]:
        return (epochs[0],)
    if "both" in sorts:
        return (sorts["both"][0],)
    if "day" in sorts and "clock" in sorts:
        return sorts["day"][0], sorts["clock"][0]
    raise Refusal(
        "No column of this log tells day and hour; expected one such as 2026-03-01 10:05, or a"
        " column of days and one of hours."
    )


def _tells_time(table: LogTable, at: int, sorts: dict[str, list[int]]) -> bool:
    """Long numbers are seconds where the heading says so, or where nothing else tells the time."""
    if role_of(table.headings[at]) == "time":
        return True
    return "both" not in sorts and not ("day" in sorts and "clock" in sorts)


def _is_figures(table: LogTable, at: int, time: Sequence[int]) -> bool:
    return at not in time and any(figure(cell) for cell in _cells(table, at))


def _in_cells(table: LogTable, at: int) -> str:
    units = Counter(found[1] for cell in _cells(table, at) if (found := figure(cell)))
    return units.most_common(1)[0][0] if units else ""


def _fitting(table: LogTable, role: str, units: str, time: Sequence[int]) -> list[int]:
    places = [at for at in range(len(table.headings)) if _is_figures(table, at, time)]
    named = [
        at
        for at, heading in enumerate(table.headings)
        if at not in time and role_of(heading) == role
    ]
    if named:
        return [at for at in named if at in places] or named
    bare = [at for at in places if table.headings[at] == f"column {at + 1}"]
    return [at for at in bare if _in_cells(table, at) and _in_cells(table, at) in units]


def _said(table: LogTable, name: str) -> int:
    """The column a keeper named: its heading, part of it, or its number."""
    wanted = plain(name)
    same = [at for at, head in enumerate(table.headings) if plain(head) == wanted]
    part = [at for at, head in enumerate(table.headings) if wanted in plain(head)]
    if same or len(part) == 1:
        return (same or part)[0]
    if wanted.isdigit() and 1 <= int(wanted) <= len(table.headings):
        return int(wanted) - 1
    raise Refusal(f"No one column is called {name!r}; there are {_names(table.headings)}.")


def _names(headings: Sequence[str]) -> str:
    return ", ".join(repr(one) for one in headings)


def _warm(table: LogTable, name: str, time: Sequence[int]) -> int:
    if name.strip():
        return _said(table, name)
    fits = _fitting(table, "temperature", "cf", time)
    celsius = [at for at in fits if unit_in(table.headings[at]) == "c"]
    if len(fits) == 2 and len(celsius) == 1 and _one_sensor(table, fits):
        return celsius[0]
    if len(fits) == 1:
        return fits[0]
    shown = [table.headings[at] for at in fits] or [
        head for at, head in enumerate(table.headings) if _is_figures(table, at, time)
    ]
    why = f"{len(fits)} columns may be" if fits else "No heading tells which column is"
    raise Unsaid("temperature", f"{why} the temperature: {_names(shown)}.")


def _one_sensor(table: LogTable, places: Sequence[int]) -> bool:
    return len({sensor_of(table.headings[at]) for at in places}) == 1


def _damp(table: LogTable, name: str, warm: int, time: Sequence[int]) -> int | None:
    if plain(name) == NONE:
        return None
    if name.strip():
        return _said(table, name)
    fits = [at for at in _fitting(table, "humidity", "%", time) if at != warm]
    if len(fits) > 1:
        sensor = sensor_of(table.headings[warm])
        fits = [at for at in fits if sensor_of(table.headings[at]) == sensor] or fits
    if len(fits) > 1:
        names = _names([table.headings[at] for at in fits])
        raise Unsaid("humidity", f"{len(fits)} columns may be the humidity: {names}.")
    return fits[0] if fits else None


def _unit(table: LogTable, warm: int, said: str) -> tuple[str, str]:
    if said:
        return said, ""
    heading = table.headings[warm]
    if found := unit_in(heading) or _in_cells(table, warm) or unit_in(table.above):
        return found, ""
    values = _figures(table, warm)
    if values and _WARMER_THAN_ROOMS < median(values) < 140:
        raise Unsaid(
            "unit",
            f"Column {heading!r} does not say °C or °F, and half of it is above"
            f" {_WARMER_THAN_ROOMS:g}.",
        )
    return "c", f"Column {heading!r} names no unit; it is read as °C, assumed."


def _whole(table: LogTable, damp: int | None) -> tuple[float, str]:
    """What the column writes for all, 100 or 1, from all of it; a note where it says otherwise."""
    if damp is None:
        return 100.0, ""
    told = [found for _, cells in table.lines if (found := figure(cells[damp]))]
    good = [value for value, unit in told if value >= 0 and unit != "%"]
    if not good or max(good) > 1:
        return 100.0, ""
    heading = table.headings[damp]
    why = "though it is headed with %, " if "%" in heading else ""
    return 1.0, (
        f"Column {heading!r} holds nothing above 1: {why}its figures are read as shares, 0.5 being"
        " 50 %, assumed."
    )


def _figures(table: LogTable, at: int) -> list[float]:
    return [found[0] for cell in _cells(table, at) if (found := figure(cell))]
