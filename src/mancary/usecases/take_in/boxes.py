"""Rows of a box list, joined to the book: what each adds, and what is asked of the keeper."""

from collections.abc import Sequence
from datetime import date

from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import Fact, Founded, LineNamed, ShelfPlaced
from mancary.husbandry.moments import Moment, on_day
from mancary.sheets.box_rows import BoxRow, read_box_row
from mancary.sheets.cells import Cells, Ground
from mancary.sheets.faults import LEAVE_OUT, Choice
from mancary.sheets.reading import SheetRow, Table
from mancary.usecases.take_in.answer import Row
from mancary.usecases.take_in.box_facts import described, undated
from mancary.usecases.take_in.known import Known
from mancary.usecases.take_in.names import Doubt, Form, Names
from mancary.usecases.take_in.rows import RowDesk, finished
from mancary.usecases.take_in.twice import Codes

KEEP, NEW = "keep the book's", "a new colony"
_NOT_SAID_SINCE = "the sheet does not say since when; here by this day"


class BoxList:
    """Builds the rows of a box list one after the other; what one row adds, the next one knows."""

    def __init__(
        self,
        table: Table,
        ground: Ground,
        known: Known,
        names: Names,
        desk: RowDesk,
        *,
        as_of: date,
        again: bool,
    ) -> None:
        self._ground, self._known, self._names, self._desk = ground, known, names, desk
        self._as_of = on_day(as_of)
        self._again = again
        self._codes = Codes(table, ground)
        self._turn = max(known.shelves.values(), default=0)
        self._on_shelf: dict[str, int] = {}
        self._first_seen: dict[str, Moment] = {}
        self._lines_at: dict[str, int] = {}

    def rows(self, table: Table) -> list[Row]:
        """All rows of the sheet, in their order."""
        built = [self._row(row) for row in table.rows]
        return [self._lines_dated(row) for row in built]

    def _row(self, row: SheetRow) -> Row:
        same = self._codes.same_as(row)
        if same is not None:
            return Row(
                line=row.line,
                state="repeated",
                cells=row.cells,
                box=self._codes.of(row),
                said=(f"the same row as line {same}",),
            )
        cells = Cells(row, self._ground)
        told = read_box_row(cells)
        told = self._codes.settled(cells, told) if told else None
        coded = not cells.asked or cells.asked[-1].column != cells.column("box")
        form = self._form(cells, told) if told else None
        founding = self._founding(cells, told, form) if told and form and coded else None
        place = self._place(told) if told else 1
        facts: Sequence[Entry] = ()
        if told and not (cells.refused or cells.asked or cells.left_out):
            facts = self._desk.checked(cells, lambda: self._entries(told, form, founding, place))
        if told and not cells.refused and not cells.asked and not cells.left_out:
            self._learn(told, form, founding, place)
        return finished(row, cells, told.box if told else "", facts)

    def _form(self, cells: Cells, told: BoxRow) -> Form | None:
        if not told.name:
            return None
        form = self._names.settle(
            told.name, told.morph, answer=None, source=told.source, locality=told.locality
        )
        if isinstance(form, Doubt):
            answer = cells.answer(form.key)
            form = self._names.settle(
                told.name, told.morph, answer=answer, source=told.source, locality=told.locality
            )
        if isinstance(form, Doubt):
            cells.ask("species", form.key, form.why, form.choices)
            return None
        if form.said:
            cells.said.append(form.said)
        return form

    def _founding(self, cells: Cells, told: BoxRow, form: Form) -> Founded | None:
        """The colony's beginning; None where the book has it, or the keeper keeps the book's."""
        here = self._known.colonies_in(told.box)
        if not here:
            return self._begun(told, form, 1)
        if self._founded_id(told, form) in self._known.founded_ids:
            return None
        same = any(isinstance(one, Founded) and one.line == form.line.line for one in here)
        if same and told.since is None:
            return None
        key = f"colony:{told.box}:{form.line.line}:{told.since or ''}"
        answer = cells.answer(key)
        if answer == NEW:
            return self._begun(told, form, len(here) + 1)
        if answer != KEEP:
            cells.ask("species", key, *_colony_choices(told.box, same=same))
        return None

    def _begun(self, told: BoxRow, form: Form, number: int) -> Founded:
        while f"{told.box}.{number}" in self._known.colonies:
            number += 1
        line = self._known.lines.get(form.line.line, form.line)
        notes = [] if told.since else [_NOT_SAID_SINCE]
        if line.as_bought != told.name:
            notes.append(f"written as '{told.name}'")
        return Founded(
            colony=f"{told.box}.{number}",
            box=told.box,
            line=form.line.line,
            note="; ".join(notes),
        )

    @staticmethod
    def _founded_id(told: BoxRow, form: Form) -> str:
        return derived_id(f"sheet|founded|{told.box}|{form.line.line}|{told.since or ''}")

    def _place(self, told: BoxRow) -> int:
        """The order of the row on its shelf; counted for every row so that mends change nothing."""
        self._on_shelf[told.shelf] = self._on_shelf.get(told.shelf, 0) + 1
        return self._on_shelf[told.shelf]

    def _entries(
        self, told: BoxRow, form: Form | None, founding: Founded | None, place: int
    ) -> list[Entry]:
        entries: list[Entry] = []
        if told.shelf and told.shelf not in self._known.shelves:
            self._once(entries, ShelfPlaced(shelf=told.shelf, turn=self._turn + 1), told.shelf)
        if form and form.page and form.page.species not in self._known.pages:
            self._once(entries, form.page, form.page.species)
        if form and form.line.line not in self._known.lines:
            self._once(entries, form.line, form.line.line)
        if founding and form:
            since = told.since or self._as_of
            entries.append(self._desk.entry(self._founded_id(told, form), founding, since))
        for fact in (described(told), *undated(told, self._known, place)):
            fact_id, has = self._known.told.turn(fact, again=self._again)
            if not has:
                entries.append(self._desk.entry(fact_id, fact, self._as_of))
        return entries

    def _once(self, entries: list[Entry], fact: Fact, code: str) -> None:
        fact_id = derived_id(f"sheet|{fact.kind}|{code}")
        entries.append(self._desk.entry(fact_id, fact, self._as_of))

    def _learn(self, told: BoxRow, form: Form | None, founding: Founded | None, place: int) -> None:
        known = self._known
        known.boxes.add(told.box)
        if told.shelf and told.shelf not in known.shelves:
            self._turn += 1
            known.shelves[told.shelf] = self._turn
        if told.shelf and not known.stands(told.box):
            known.stand(told.box, told.shelf, place)
        if form:
            known.lines.setdefault(form.line.line, form.line)
            if form.page:
                known.pages.setdefault(form.page.species, form.page.name)
            first = self._first_seen.get(form.line.line)
            since = told.since or self._as_of
            self._first_seen[form.line.line] = min(first, since) if first else since
        if founding:
            known.begin(founding)

    def _lines_dated(self, row: Row) -> Row:
        """A line came into the room when its first colony of this sheet was founded."""
        entries = tuple(
            Entry(
                id=entry.id,
                happened=self._first_seen[entry.fact.line],
                typed=entry.typed,
                fact=entry.fact,
            )
            if isinstance(entry.fact, LineNamed)
            else entry
            for entry in row.entries
        )
        return row if entries == row.entries else _with(row, entries)


def _with(row: Row, entries: tuple[Entry, ...]) -> Row:
    from msgspec.structs import replace

    return replace(row, entries=entries)


def _colony_choices(box: str, *, same: bool) -> tuple[str, tuple[Choice, ...]]:
    why = (
        f"the book has a colony of this line in {box}, founded on another day"
        if same
        else f"the book has another line in {box}"
    )
    return why, (
        Choice(
            value=KEEP, words="keep the colony as the book has it", likelihood=0.6 if same else 0.4
        ),
        Choice(value=NEW, words="a new colony began in this box", likelihood=0.3 if same else 0.5),
        Choice(value=LEAVE_OUT, words="leave this row out", likelihood=0.1),
    )
