"""What all rows of a sheet are read by: its meaning, decimal sign, order of dates, and mends."""

from collections.abc import Mapping
from datetime import date, tzinfo

from msgspec import Struct

from mancary.sheets.meaning import Meaning
from mancary.sheets.mends import Answers, Mends
from mancary.sheets.plain import plain
from mancary.sheets.reading import Table
from mancary.sheets.values.dates import DAY_FIRST, MONTH_FIRST, Calendar, DateOrder, date_order
from mancary.sheets.values.numbers import decimal_sign

_NUMERIC = frozenset(
    ("count", "litres", "size", "length", "width", "height", "damp", "vents", "protein", "amount")
)


class Ground(Struct, frozen=True, kw_only=True):
    """What all rows of a sheet are read by. ``places``: the first column of each role."""

    meaning: Meaning
    decimal: str | None
    calendar: Calendar
    mends: Mends
    places: Mapping[str, int]


def ground_of(
    table: Table, meaning: Meaning, *, answers: Answers, today: date, zone: tzinfo
) -> Ground:
    """Decides decimal sign and order of dates from whole columns, the keeper's answers first."""
    mends = Mends(answers, table)
    return Ground(
        meaning=meaning,
        decimal=_decimal(table, meaning, mends),
        calendar=_calendar(table, meaning, mends, today, zone),
        mends=mends,
        places={column.role: at for at, column in reversed(list(enumerate(meaning.columns)))},
    )


def _decimal(table: Table, meaning: Meaning, mends: Mends) -> str | None:
    for sign, other in ((",", "."), (".", ",")):
        told = mends.get(f"numbers:{sign}")
        if told and "decimals" in told:
            return sign
        if told and "thousands" in told:
            return other
        if told:
            mends.wrong(f"numbers:{sign}", "expected decimals or thousands")
    numeric = [i for i, column in enumerate(meaning.columns) if column.role in _NUMERIC]
    return decimal_sign(row.cells[i] for row in table.rows for i in numeric)


def _calendar(table: Table, meaning: Meaning, mends: Mends, today: date, zone: tzinfo) -> Calendar:
    at = meaning.at("date" if meaning.sort == "journal" else "since")
    if at is None:
        none = DateOrder(order=None, why="there are no dates")
        return Calendar(order=none, today=today, zone=zone)
    key = f"dates:{meaning.columns[at].heading}"
    told = mends.get(key)
    order = next((one for one in (DAY_FIRST, MONTH_FIRST) if plain(told or "").startswith(one)), "")
    if told and not order:
        mends.wrong(key, f"expected {DAY_FIRST} or {MONTH_FIRST}")
    decided = (
        DateOrder(order=order, why="you said so")
        if order
        else date_order(row.cells[at] for row in table.rows)
    )
    return Calendar(order=decided, today=today, zone=zone, key=key)
