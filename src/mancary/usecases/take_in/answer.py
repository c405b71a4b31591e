"""What the keeper is shown of a sheet, before and after it is written."""

from collections.abc import Mapping
from datetime import date
from typing import Any, Literal

from msgspec import Struct

from mancary.book import Head, Receipt
from mancary.husbandry.entries import Entry
from mancary.sheets.faults import Fault, Question
from mancary.sheets.meaning import Column, Sort

LEFT_OUT = "left out, as you said"
"""Why a row that the keeper left out stands among the refused ones."""

State = Literal["understood", "refused", "asked", "repeated"]


class Row(Struct, frozen=True, kw_only=True):
    """One row: what became of it, and why. ``line`` is its line in the file, the first being 1.

    ``entries`` are those it adds to the book; a repeated row adds none, and ``repeats`` is the line
    it says again, where it stands in this sheet. A row that the keeper left out counts as refused.
    """

    line: int
    state: State
    cells: tuple[str, ...]
    box: str = ""
    entries: tuple[Entry, ...] = ()
    said: tuple[str, ...] = ()
    refused: tuple[Fault, ...] = ()
    asked: tuple[Question, ...] = ()
    repeats: int | None = None

    @property
    def left_out(self) -> bool:
        """True where the keeper left the row out."""
        return any(fault.why == LEFT_OUT for fault in self.refused)


class SheetSource(Struct, frozen=True, kw_only=True):
    """The file and all that was told about it: enough to read it again."""

    data: bytes
    file_name: str
    answers: Mapping[str, str]
    meanings: Mapping[str, str]
    as_of: date | None


class Reading(Struct, frozen=True, kw_only=True):
    """A sheet as read against the book. Nothing is written by reading.

    ``unused`` says of each answer that met nothing or cannot be taken why, and ``unused_keys`` are
    their keys; nothing is written while there is one.
    """

    sort: Sort
    headings: tuple[str, ...]
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    notes: tuple[str, ...]
    as_of: date
    source: SheetSource
    head: Head | None = None
    """Where the book ended when the sheet was read against it."""
    unused: tuple[str, ...] = ()
    unused_keys: tuple[str, ...] = ()

    def _count(self, state: State) -> int:
        return sum(row.state == state for row in self.rows)

    @property
    def rows_read(self) -> int:
        return len(self.rows)

    @property
    def rows_understood(self) -> int:
        return self._count("understood")

    @property
    def rows_refused(self) -> int:
        return self._count("refused")

    @property
    def rows_asked(self) -> int:
        return self._count("asked")

    @property
    def rows_repeated(self) -> int:
        return self._count("repeated")

    @property
    def rows_left_out(self) -> int:
        """How many of the refused rows the keeper left out himself."""
        return sum(row.left_out for row in self.rows)

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All that the understood rows would add, in the order of the sheet."""
        return tuple(entry for row in self.rows for entry in row.entries)

    @property
    def facts(self) -> int:
        """How many facts the understood rows would add."""
        return sum(len(row.entries) for row in self.rows)

    @property
    def refused(self) -> tuple[Fault, ...]:
        """Every fault of the refused rows, in the order of the sheet."""
        return tuple(fault for row in self.rows for fault in row.refused)

    @property
    def asked(self) -> tuple[Question, ...]:
        """Every question of the asked rows, in the order of the sheet."""
        return tuple(question for row in self.rows for question in row.asked)

    def summary(self) -> dict[str, Any]:
        """The numbers, faults and questions as plain data, for JSON."""
        return {
            "rows_read": self.rows_read,
            "rows_understood": self.rows_understood,
            "rows_refused": self.rows_refused,
            "rows_asked": self.rows_asked,
            "rows_repeated": self.rows_repeated,
            "rows_left_out": self.rows_left_out,
            "facts": self.facts,
            "columns": [
                {
                    "heading": one.heading,
                    "meaning": one.role,
                    "words": one.words,
                    "found": one.found,
                }
                for one in self.columns
            ],
            "repeated": [
                {"row": row.line, "repeats_row": row.repeats}
                for row in self.rows
                if row.state == "repeated"
            ],
            "unused": list(self.unused),
            "refused": [
                {"row": one.row, "column": one.column, "value": one.value, "why": one.why}
                for one in self.refused
            ],
            "asked": [_asked(one) for one in self.asked],
            "notes": list(self.notes),
        }


def _asked(question: Question) -> dict[str, Any]:
    return {
        "key": question.key,
        "row": question.row,
        "column": question.column,
        "value": question.value,
        "why": question.why,
        "choices": [
            {"value": one.value, "words": one.words, "likelihood": round(one.likelihood, 3)}
            for one in question.choices
        ],
    }


class SheetReceipt(Struct, frozen=True, kw_only=True):
    """What taking in did: the reading that was written, and the book's receipt."""

    reading: Reading
    receipt: Receipt

    @property
    def facts_written(self) -> int:
        """Facts newly in the book, the one about the sheet itself left out."""
        return max(0, len(self.receipt.written) - 1)
