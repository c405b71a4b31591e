"""One row's cells read by role, with its faults and questions gathered on the way."""

from collections.abc import Callable, Mapping
from datetime import date, tzinfo
from typing import TypeVar

from msgspec import Struct

from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.sheets.faults import LEAVE_OUT, Choice, Fault, Question, Unclear, Unreadable
from mancary.sheets.meaning import Meaning
from mancary.sheets.plain import plain, tidy
from mancary.sheets.reading import SheetRow, Table
from mancary.sheets.values.dates import (
    DAY_FIRST,
    MONTH_FIRST,
    Calendar,
    DateOrder,
    date_order,
    read_date,
)
from mancary.sheets.values.measures import is_unknown
from mancary.sheets.values.numbers import decimal_sign

T = TypeVar("T")
_LONGEST_VALUE = 200
_NUMERIC = frozenset(
    ("count", "litres", "size", "length", "width", "height", "damp", "vents", "protein", "amount")
)

Answers = Mapping[str, str]
"""The keeper's mends: a question's key, or "12:Litres" for one cell, or "12" for a row."""


class Ground(Struct, frozen=True, kw_only=True):
    """What all rows of a sheet are read by. ``places``: the first column of each role."""

    meaning: Meaning
    decimal: str | None
    calendar: Calendar
    answers: Answers
    places: Mapping[str, int]


def ground_of(
    table: Table, meaning: Meaning, *, answers: Answers, today: date, zone: tzinfo
) -> Ground:
    """Decides decimal sign and order of dates from whole columns, the keeper's answers first."""
    return Ground(
        meaning=meaning,
        decimal=_decimal(table, meaning, answers),
        calendar=_calendar(table, meaning, answers, today, zone),
        answers=answers,
        places={column.role: at for at, column in reversed(list(enumerate(meaning.columns)))},
    )


def _decimal(table: Table, meaning: Meaning, answers: Answers) -> str | None:
    for sign, other in ((",", "."), (".", ",")):
        if answers.get(f"numbers:{sign}") in ("decimals", "thousands"):
            return sign if answers[f"numbers:{sign}"] == "decimals" else other
    numeric = [i for i, column in enumerate(meaning.columns) if column.role in _NUMERIC]
    return decimal_sign(row.cells[i] for row in table.rows for i in numeric)


def _calendar(
    table: Table, meaning: Meaning, answers: Answers, today: date, zone: tzinfo
) -> Calendar:
    at = meaning.at("date" if meaning.sort == "journal" else "since")
    if at is None:
        return Calendar(
            order=DateOrder(order=None, why="there are no dates"), today=today, zone=zone
        )
    key = f"dates:{meaning.columns[at].heading}"
    if answers.get(key) in (DAY_FIRST, MONTH_FIRST):
        order = DateOrder(order=answers[key], why="you said so")
    else:
        order = date_order(row.cells[at] for row in table.rows)
    return Calendar(order=order, today=today, zone=zone, key=key)


class Cells:
    """The cells of one row. ``read`` gives None for an empty cell, and gathers what is wrong."""

    def __init__(self, row: SheetRow, ground: Ground) -> None:
        self.line = row.line
        self.ground = ground
        self.refused: list[Fault] = []
        self.asked: list[Question] = []
        self.said: list[str] = []
        self.left_out = ground.answers.get(str(row.line)) == LEAVE_OUT
        self._texts = [self._mended(i, cell) for i, cell in enumerate(row.cells)]

    def _mended(self, at: int, cell: str) -> str:
        if not self.ground.answers:
            return cell
        told = self.ground.answers.get(f"{self.line}:{self.heading(at)}")
        if told == LEAVE_OUT:
            self.left_out = True
        return cell if told is None or told == LEAVE_OUT else tidy(told)

    def heading(self, at: int | None) -> str:
        return self.ground.meaning.columns[at].heading if at is not None else ""

    def column(self, role: str) -> str:
        """The heading of a role's column, empty where there is none."""
        return self.heading(self.ground.places.get(role))

    def text(self, role: str) -> str:
        """The text of a role's cell, as mended; empty where there is no such column."""
        at = self.ground.places.get(role)
        return self._texts[at] if at is not None else ""

    def unit(self, role: str) -> str:
        """The unit given by a role's heading."""
        at = self.ground.places.get(role)
        return self.ground.meaning.columns[at].unit if at is not None else ""

    def words(self, *roles: str) -> list[str]:
        """The filled cells of all columns of the roles; those not understood with their heading."""
        found = []
        for at, column in enumerate(self.ground.meaning.columns):
            if column.role in roles and self._texts[at]:
                named = f"{column.heading}: " if column.role == "note" else ""
                found.append(named + self._texts[at])
        return found

    def refuse(self, role: str, why: str) -> None:
        """Gathers a fault of a role's cell."""
        self.refused.append(
            Fault(row=self.line, column=self.column(role), value=self.text(role), why=why)
        )

    def answer(self, key: str) -> str | None:
        """The keeper's answer under a key; "leave out" leaves this row out."""
        told = self.ground.answers.get(key)
        if told == LEAVE_OUT:
            self.left_out = True
        return told

    def ask(self, role: str, key: str, why: str, choices: tuple[Choice, ...]) -> None:
        """Gathers a question about a role's cell."""
        self.asked.append(
            Question(
                key=key,
                row=self.line,
                column=self.column(role),
                value=self.text(role),
                why=why,
                choices=choices,
            )
        )

    def read(self, role: str, parse: Callable[[str], T]) -> T | None:
        """The value of a role's cell; None where it is empty, not known, refused or asked about."""
        text = self.text(role)
        if is_unknown(text):
            return None
        if len(text) > _LONGEST_VALUE:
            self.refuse(role, "expected one value; this text is too long for it")
            return None
        try:
            return parse(text)
        except Unclear as unclear:
            return self._settled(role, text, parse, unclear)
        except Refusal as fault:
            self.refuse(role, str(fault))
            return None

    def _settled(
        self, role: str, text: str, parse: Callable[[str], T], unclear: Unclear
    ) -> T | None:
        key = unclear.key or f"{role}:{plain(text)}"
        told = self.answer(key)
        if told is not None and told != LEAVE_OUT:
            try:
                return parse(told)
            except (Unclear, Unreadable):
                pass
        self.ask(role, key, unclear.why, unclear.choices)
        return None

    def moment(self, role: str) -> Moment | None:
        """The date of a role's cell."""
        return self.read(role, lambda text: read_date(text, self.ground.calendar))
