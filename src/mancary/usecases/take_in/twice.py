"""Box codes that stand in a sheet more than once."""

import re
from collections import Counter
from collections.abc import Set as AbstractSet

from msgspec.structs import replace

from mancary.husbandry.codes import code
from mancary.husbandry.refusal import Refusal
from mancary.sheets.box_rows import BoxRow
from mancary.sheets.cells import Cells
from mancary.sheets.faults import LEAVE_OUT, Choice
from mancary.sheets.ground import Ground
from mancary.sheets.reading import SheetRow, Table

SAME_BOX = "the same box told again"
_NUMBERED = re.compile(r"(.*?)(\d+)")


class Codes:
    """The codes of a sheet as written, and which rows repeat one."""

    def __init__(self, table: Table, ground: Ground, booked: AbstractSet[str]) -> None:
        self._ground, self._booked = ground, frozenset(booked)
        self._at = ground.meaning.at("box") or 0
        self._all = [self.of(row) for row in table.rows]
        self._met: Counter[str] = Counter()
        self._lines: dict[tuple[str, ...], int] = {}
        self._number = -1
        self._taken: set[str] = set()

    def of(self, row: SheetRow) -> str:
        """The row's code as mended, empty where it is none."""
        mended = self._ground.mends.cell(row.line, self._heading)
        try:
            return code(row.cells[self._at] if mended is None else mended)
        except Refusal:
            return ""

    @property
    def _heading(self) -> str:
        return self._ground.meaning.columns[self._at].heading

    def same_as(self, row: SheetRow) -> int | None:
        """The line of an earlier row with the same cells. Call once a row, in order."""
        self._number += 1
        if self._ground.mends.of_line(row.line) or row.cells not in self._lines:
            self._lines.setdefault(row.cells, row.line)
            return None
        return self._lines[row.cells]

    def settled(self, cells: Cells, told: BoxRow) -> BoxRow | None:
        """The row under the code it means; asks where its code stood before."""
        self._met[told.box] += 1
        if told.box not in self._taken:
            self._taken.add(told.box)
            return told
        answer = cells.settle(
            "box",
            f"twice:{told.box}:{self._met[told.box]}",
            f"the code {told.box} stands in an earlier line of this sheet",
            self._choices(told.box),
            also=self._code,
        )
        if answer is None:
            return None if cells.left_out else told
        if answer in (SAME_BOX, told.box):
            return told
        return self.settled(cells, replace(told, box=answer))

    @staticmethod
    def _code(text: str) -> str | None:
        try:
            return code(text)
        except Refusal:
            return None

    def _choices(self, box: str) -> tuple[Choice, ...]:
        """A code the sheet skips is likely; where the book has it, the next free one is offered."""
        skipped = self._skipped(box)
        same, out = 0.5, 0.25
        codes: tuple[Choice, ...] = ()
        if skipped and skipped not in self._booked:
            same, out = 0.1, 0.05
            codes = (_code_choice(skipped, "which is missing", 0.8),)
        elif skipped:
            free = self._next_free(skipped)
            same, out = 0.45, 0.1
            codes = (
                _code_choice(skipped, "which the book has already", 0.25),
                _code_choice(free, "the next code that is free", 0.2),
            )
        return (
            *codes,
            Choice(value=SAME_BOX, words=SAME_BOX, likelihood=same),
            Choice(value=LEAVE_OUT, words="leave this row out", likelihood=out),
        )

    def _skipped(self, box: str) -> str:
        """The next code after this one, where the sheet skips it: B01, B01, B03 lacks B02."""
        following = _after(box)
        nearby = self._all[self._number + 1 : self._number + 2]
        skips = following and following not in self._all and nearby == [_after(following)]
        return following if skips else ""

    def _next_free(self, box: str) -> str:
        while box in self._booked or box in self._all or box in self._taken:
            box = _after(box)
        return box


def _after(box: str) -> str:
    """The code that follows: B02 after B01; empty where a code does not end in digits."""
    numbered = _NUMBERED.fullmatch(box)
    if not numbered:
        return ""
    stem, digits = numbered.groups()
    return f"{stem}{int(digits) + 1:0{len(digits)}d}"


def _code_choice(box: str, why: str, likelihood: float) -> Choice:
    return Choice(value=box, words=f"it is {box}, {why}", likelihood=likelihood)
