"""Box codes that stand in a sheet more than once."""

import re
from collections import Counter

from msgspec.structs import replace

from mancary.husbandry.codes import code
from mancary.husbandry.refusal import Refusal
from mancary.sheets.box_rows import BoxRow
from mancary.sheets.cells import Cells, Ground
from mancary.sheets.faults import LEAVE_OUT, Choice
from mancary.sheets.reading import SheetRow, Table

SAME_BOX = "the same box told again"
_NUMBERED = re.compile(r"(.*?)(\d+)")


class Codes:
    """The codes of a sheet as written, and which rows repeat one."""

    def __init__(self, table: Table, ground: Ground) -> None:
        self._ground = ground
        self._at = ground.meaning.at("box") or 0
        self._all = [self.of(row) for row in table.rows]
        self._met: Counter[str] = Counter()
        self._lines: dict[tuple[str, ...], int] = {}
        self._number = -1
        self._taken: set[str] = set()

    def of(self, row: SheetRow) -> str:
        """The row's code as mended, empty where it is none."""
        text = self._ground.answers.get(f"{row.line}:{self._heading}", row.cells[self._at])
        try:
            return code(text)
        except Refusal:
            return ""

    @property
    def _heading(self) -> str:
        return self._ground.meaning.columns[self._at].heading

    def same_as(self, row: SheetRow) -> int | None:
        """The line of an earlier row with the same cells. Call once a row, in order."""
        self._number += 1
        mended = any(
            f"{row.line}:{column.heading}" in self._ground.answers
            for column in self._ground.meaning.columns
        )
        if mended or row.cells not in self._lines:
            self._lines.setdefault(row.cells, row.line)
            return None
        return self._lines[row.cells]

    def settled(self, cells: Cells, told: BoxRow) -> BoxRow | None:
        """The row under the code it means; asks where its code stood before."""
        self._met[told.box] += 1
        if told.box not in self._taken:
            self._taken.add(told.box)
            return told
        key = f"twice:{told.box}:{self._met[told.box]}"
        answer = cells.answer(key)
        if answer == SAME_BOX:
            return told
        if answer and answer != LEAVE_OUT and (other := self._code(answer)):
            return self.settled(cells, replace(told, box=other)) if other != told.box else told
        missing = self._missing(told.box)
        cells.ask(
            "box",
            key,
            f"the code {told.box} stands in an earlier line of this sheet",
            _choices(missing),
        )
        return None if answer == LEAVE_OUT else told

    @staticmethod
    def _code(text: str) -> str:
        try:
            return code(text)
        except Refusal:
            return ""

    def _missing(self, box: str) -> str:
        """The next code after this one, where the sheet skips it: B01, B01, B03 lacks B02."""
        numbered = _NUMBERED.fullmatch(box)
        if not numbered:
            return ""
        stem, digits = numbered.groups()
        following = f"{stem}{int(digits) + 1:0{len(digits)}d}"
        after = f"{stem}{int(digits) + 2:0{len(digits)}d}"
        nearby = self._all[self._number + 1 : self._number + 2]
        return following if following not in self._all and nearby == [after] else ""


def _choices(missing: str) -> tuple[Choice, ...]:
    likely = (
        (Choice(value=missing, words=f"it is {missing}, which is missing", likelihood=0.8),)
        if missing
        else ()
    )
    share = 0.1 if missing else 0.5
    return (
        *likely,
        Choice(value=SAME_BOX, words=SAME_BOX, likelihood=share),
        Choice(value=LEAVE_OUT, words="leave this row out", likelihood=share / 2),
    )
