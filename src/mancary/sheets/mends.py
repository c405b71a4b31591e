"""The keeper's answers to a sheet, and which of them met what they were meant for."""

import re
from collections.abc import Iterable, Mapping

from mancary.sheets.faults import LEAVE_OUT
from mancary.sheets.plain import plain
from mancary.sheets.reading import Table

Answers = Mapping[str, str]
"""The keeper's mends: a question's key, or "12:Litres" for one cell, or "12" for a row."""

_PLACE = re.compile(r"(\d{1,9})(?::(.*))?", re.DOTALL)
_SHOWN = 8
_ALIKE = 0.75


class Mends:
    """Answers by key, cell and line; keys match without case. What met nothing is told."""

    def __init__(self, answers: Answers, table: Table) -> None:
        self._table = table
        self._lines = frozenset(row.line for row in table.rows) if answers else frozenset()
        self._typed = {plain(key): key for key in answers}
        self._told = {plain(key): text for key, text in answers.items()}
        self._cells: dict[int, dict[str, str]] = {}
        self._left_out: set[int] = set()
        self._met: set[str] = set()
        self._wrong: dict[str, str] = {}
        for key in self._told:
            if place := _PLACE.fullmatch(key):
                self._placed(key, int(place[1]), place[2])

    def __bool__(self) -> bool:
        return bool(self._told)

    def _placed(self, key: str, line: int, heading: str | None) -> None:
        """Sorts a mend of a line or a cell to where it belongs."""
        if line not in self._lines:
            self._wrong[key] = f"no row of this sheet stands in line {line}"
        elif heading is None and plain(self._told[key]) == LEAVE_OUT:
            self._left_out.add(line)
        elif heading is None:
            self._wrong[key] = (
                f"a whole line can only be left out ({line}={LEAVE_OUT}); for one cell say"
                f" {line}:{self._table.headings[0]}=..."
            )
        elif heading in map(plain, self._table.headings):
            self._cells.setdefault(line, {})[heading] = self._told[key]
        else:
            typed = self._typed[key].partition(":")[2]
            shown = _some(self._table.headings)
            self._wrong[key] = f"this sheet has no column {typed!r} ({shown})"

    def leaves_out(self, line: int) -> bool:
        """True where the keeper left the line out."""
        return line in self._left_out

    def of_line(self, line: int) -> Answers:
        """The mended cells of a line, by plain heading."""
        return self._cells.get(line, {})

    def cell(self, line: int, heading: str) -> str | None:
        """What stands in a cell instead, if it was mended."""
        mended = self._cells.get(line)
        return mended.get(plain(heading)) if mended else None

    def get(self, key: str) -> str | None:
        """The answer to a question that this sheet raises."""
        if not self._told:
            return None
        self._met.add(plain(key))
        return self._told.get(plain(key))

    def wrong(self, key: str, why: str) -> None:
        """Remembers that the answer under a key cannot be taken."""
        self._wrong[plain(key)] = why

    @property
    def unused(self) -> dict[str, str]:
        """A sentence for each answer that met nothing or cannot be taken, by its key."""
        found = {}
        for key, text in self._told.items():
            why = self._wrong.get(key)
            if why is None and key not in self._met and not _PLACE.fullmatch(key):
                why = f"this sheet asks nothing under that key{self._near(key)}"
            if why:
                typed = self._typed[key]
                found[typed] = f"Your answer '{typed}={text}' was not used: {why}."
        return found

    def _near(self, key: str) -> str:
        from difflib import get_close_matches

        near = get_close_matches(key, sorted(self._met), n=1, cutoff=_ALIKE)
        return f"; the nearest it asks is {near[0]!r}" if near else ""


def _some(headings: Iterable[str]) -> str:
    told = list(headings)
    more = f" and {len(told) - _SHOWN} more" if len(told) > _SHOWN else ""
    return f"its columns: {', '.join(told[:_SHOWN])}{more}"
