"""From the facts of a row to its entries and its state."""

from collections.abc import Callable, Sequence
from collections.abc import Set as AbstractSet
from datetime import datetime
from typing import TypeVar

from msgspec.structs import replace

from mancary.husbandry.codec import encode
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment, instant
from mancary.husbandry.refusal import Refusal
from mancary.sheets.cells import Cells
from mancary.sheets.faults import Fault
from mancary.sheets.reading import SheetRow
from mancary.usecases.take_in.answer import LEFT_OUT, Row, State

T = TypeVar("T")
_IN_THE_BOOK = "the book has all of this row already"


class RowDesk:
    """Makes entries, all typed at one instant."""

    def __init__(self, *, now: datetime) -> None:
        self._typed = instant(now)

    def entry(self, fact_id: str, fact: Fact, happened: Moment) -> Entry:
        """An entry of a sheet, with its id made from content."""
        encode(fact)
        return Entry(id=fact_id, happened=happened, typed=self._typed, fact=fact)

    @staticmethod
    def checked(cells: Cells, build: Callable[[], Sequence[T]]) -> Sequence[T]:
        """What is built; a fact that does not fit its declaration refuses the row instead."""
        try:
            return build()
        except Refusal as fault:
            cells.refuse("box", str(fault))
            return ()


def finished(row: SheetRow, cells: Cells, box: str, entries: Sequence[Entry]) -> Row:
    """The row with its state: refused before asked, repeated where it adds nothing."""
    refused = tuple(cells.refused)
    if cells.left_out:
        refused = (
            Fault(row=row.line, column=cells.column("box"), value=cells.text("box"), why=LEFT_OUT),
        )
    state: State = "understood" if entries else "repeated"
    if refused:
        state = "refused"
    elif cells.asked:
        state = "asked"
    said = list(cells.said)
    if state == "repeated":
        said.append(_IN_THE_BOOK)
    if cells.left_out:
        said.append(LEFT_OUT)
    return Row(
        line=row.line,
        state=state,
        cells=row.cells,
        box=box,
        entries=tuple(entries) if state == "understood" else (),
        said=tuple(said),
        refused=refused,
        asked=tuple(cells.asked) if state == "asked" else (),
    )


def without(row: Row, has: AbstractSet[str]) -> Row:
    """The row with only those entries whose ids are not among these."""
    entries = tuple(entry for entry in row.entries if entry.id not in has)
    if len(entries) == len(row.entries):
        return row
    if entries:
        return replace(row, entries=entries)
    return replace(row, state="repeated", entries=(), said=(*row.said, _IN_THE_BOOK))
