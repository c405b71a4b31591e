"""One row's cells read by role, with its faults and questions gathered on the way."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.sheets.faults import LEAVE_OUT, Choice, Fault, Question, Unclear
from mancary.sheets.ground import Ground
from mancary.sheets.plain import plain, tidy
from mancary.sheets.reading import SheetRow
from mancary.sheets.values.dates import read_date
from mancary.sheets.values.measures import is_unknown

T = TypeVar("T")
_LONGEST_VALUE = 200
_SHOWN = 5
_LEAVE_OUT_WORDS = "leave this row out"


class Cells:
    """The cells of one row. ``read`` gives None for an empty cell, and gathers what is wrong."""

    def __init__(self, row: SheetRow, ground: Ground) -> None:
        self.line = row.line
        self.ground = ground
        self.refused: list[Fault] = []
        self.asked: list[Question] = []
        self.said: list[str] = []
        self.left_out = ground.mends.leaves_out(row.line)
        self._texts = [self._mended(i, cell) for i, cell in enumerate(row.cells)]

    def _mended(self, at: int, cell: str) -> str:
        told = self.ground.mends.cell(self.line, self.heading(at))
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

    def settle(
        self,
        role: str,
        key: str,
        why: str,
        choices: Sequence[Choice],
        *,
        also: Callable[[str], str | None] = lambda _: None,
    ) -> str | None:
        """The keeper's answer to a question as the value of a choice; asks where there is none.

        An answer may be a choice's value, its words, or what ``also`` turns into a value. Another
        one is told as not used, and the question stands. None too where the row is left out.
        """
        told = self.ground.mends.get(key)
        if told is None:
            self.ask(role, key, why, choices)
            return None
        chosen = _chosen(told, choices)
        if LEAVE_OUT in (chosen, plain(told)) or plain(told) == _LEAVE_OUT_WORDS:
            self.left_out = True
            return None
        value = chosen or also(told)
        if value is None:
            self.ground.mends.wrong(key, f"it is none of the choices ({_values(choices)})")
            self.ask(role, key, f"your answer {told!r} is none of the choices; {why}", choices)
        return value

    def ask(self, role: str, key: str, why: str, choices: Sequence[Choice]) -> None:
        """Gathers a question about a role's cell."""
        self.asked.append(
            Question(
                key=key,
                row=self.line,
                column=self.column(role),
                value=self.text(role),
                why=why,
                choices=tuple(choices),
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

        def readable(told: str) -> str | None:
            return told if _parses(parse, told) else None

        told = self.settle(role, key, unclear.why, unclear.choices, also=readable)
        if told is None:
            return None
        try:
            return parse(told)
        except (Unclear, Refusal):
            self.ask(role, key, unclear.why, unclear.choices)
            return None

    def moment(self, role: str) -> Moment | None:
        """The date of a role's cell."""
        return self.read(role, lambda text: read_date(text, self.ground.calendar))


def _chosen(told: str, choices: Sequence[Choice]) -> str | None:
    for one in choices:
        if plain(told) in (plain(one.value), plain(one.words)):
            return one.value
    return None


def _values(choices: Sequence[Choice]) -> str:
    more = f" and {len(choices) - _SHOWN} more" if len(choices) > _SHOWN else ""
    return ", ".join(repr(one.value) for one in choices[:_SHOWN]) + more


def _parses(parse: Callable[[str], object], text: str) -> bool:
    try:
        parse(text)
    except (Unclear, Refusal):
        return False
    return True
