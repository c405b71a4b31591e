"""Rows of a box list, joined to the book: what each adds, and what is asked of the keeper."""

from collections.abc import Iterator, Sequence
from datetime import date

from msgspec.structs import replace

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Counted, Fact, LineNamed, ShelfPlaced, Shelved
from mancary.husbandry.moments import Moment, on_day
from mancary.sheets.box_rows import BoxRow, read_box_row
from mancary.sheets.cells import Cells
from mancary.sheets.ground import Ground
from mancary.sheets.reading import SheetRow, Table
from mancary.usecases.take_in.answer import Row
from mancary.usecases.take_in.box_facts import described, undated
from mancary.usecases.take_in.colonies import Colonies, Plan
from mancary.usecases.take_in.known import Known
from mancary.usecases.take_in.names import Doubt, Form, Names
from mancary.usecases.take_in.rows import RowDesk, finished, without
from mancary.usecases.take_in.told import Turn
from mancary.usecases.take_in.twice import Codes
from mancary.usecases.take_in.withdrawals import met, stays_withdrawn


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
        self._codes = Codes(table, ground, known.boxes)
        self._colonies = Colonies(
            known,
            as_of=as_of,
            zone=ground.calendar.zone,
            names_lives=ground.meaning.at("species") is not None,
        )
        self._turn = max(known.shelves.values(), default=0)
        self._on_shelf: dict[str, int] = {}
        self._first_seen: dict[str, Moment] = {}

    def rows(self, table: Table) -> list[Row]:
        """All rows of the sheet, in their order."""
        built = [self._row(row) for row in table.rows]
        before = self._known.told.told_before()
        return [self._lines_dated(without(row, before)) for row in built]

    def _row(self, row: SheetRow) -> Row:
        same = self._codes.same_as(row)
        if same is not None:
            return Row(
                line=row.line,
                state="repeated",
                cells=row.cells,
                box=self._codes.of(row),
                said=(f"the same row as line {same}",),
                repeats=same,
            )
        cells = Cells(row, self._ground)
        told = read_box_row(cells)
        told = self._codes.settled(cells, told) if told else None
        coded = not cells.asked or cells.asked[-1].column != cells.column("box")
        form = self._form(cells, told) if told else None
        place = self._place(told) if told else 1
        facts = self._desk.checked(cells, lambda: list(self._told(told, place)) if told else [])
        facts = [self._as_answered(cells, turn) for turn in facts]
        plan = self._plan(cells, told, form, facts) if told and coded else None
        entries: Sequence[Entry] = ()
        if told and plan and not (cells.refused or cells.asked or cells.left_out):
            entries = self._desk.checked(cells, lambda: self._entries(told, form, plan, facts))
        if told and plan and not (cells.refused or cells.asked or cells.left_out):
            self._learn(told, form, plan, facts)
            if told.count and not plan.counted:
                cells.said.append("its count is left out, as you said")
        return finished(row, cells, told.box if told else "", entries)

    def _plan(
        self, cells: Cells, told: BoxRow, form: Form | None, facts: Sequence[Turn]
    ) -> Plan | None:
        if told.name and form is None:
            return None  # the name is asked about first
        news = any(not turn.has for turn in facts)
        return self._colonies.plan(cells, told, form, news=news)

    def _told(self, told: BoxRow, place: int) -> Iterator[Turn]:
        """The undated facts of a row, each with its id and whether the book has it."""
        ours = told.position is None
        for fact in (described(told), *undated(told, self._known, place)):
            yield self._known.told.turn(fact, ours=ours, again=self._again)

    @staticmethod
    def _as_answered(cells: Cells, turn: Turn) -> Turn:
        """What the row tells again although it was withdrawn stays so, or is written again."""
        met(cells.ground.mends.get, turn.withdrawn)
        if not turn.repeats:
            return turn
        still = stays_withdrawn(cells, turn.fact, turn.repeats)
        return replace(turn, has=True) if still else turn

    def _form(self, cells: Cells, told: BoxRow) -> Form | None:
        if not told.name:
            return None
        found = self._settle(told, None)
        if isinstance(found, Form) and found.asked_before:
            self._names.hold_to(cells.ground.mends, found)
        if isinstance(found, Doubt):
            answer = cells.settle(
                "species", found.key, found.why, found.choices, also=self._names.typed
            )
            found = self._settle(told, answer) if answer else found
        if isinstance(found, Doubt):
            return None
        if found.said:
            cells.said.append(found.said)
        return found

    def _settle(self, told: BoxRow, answer: str | None) -> Form | Doubt:
        return self._names.settle(
            told.name, told.morph, answer=answer, source=told.source, locality=told.locality
        )

    def _place(self, told: BoxRow) -> int:
        """The order of the row on its shelf; counted for every row so that mends change nothing."""
        self._on_shelf[told.shelf] = self._on_shelf.get(told.shelf, 0) + 1
        return self._on_shelf[told.shelf]

    def _entries(
        self, told: BoxRow, form: Form | None, plan: Plan, facts: Sequence[Turn]
    ) -> list[Entry]:
        entries: list[Entry] = []
        if _put(facts) and told.shelf not in self._known.shelves:
            self._once(entries, ShelfPlaced(shelf=told.shelf, turn=self._turn + 1), told.shelf)
        if form and form.page and form.page.species not in self._known.pages:
            self._once(entries, form.page, form.page.species)
        if form and plan.founded and form.line.line not in self._known.lines:
            self._once(entries, form.line, form.line.line)
        entries += [self._desk.entry(fact_id, fact, day) for fact_id, fact, day in plan.facts]
        for turn in facts:
            if not turn.has and _is_told(turn, plan):
                entries.append(self._desk.entry(turn.id, turn.fact, self._as_of))
        return entries

    def _once(self, entries: list[Entry], fact: Fact, code: str) -> None:
        fact_id = self._known.withdrawals.successor(f"sheet|{fact.kind}|{code}")
        entries.append(self._desk.entry(fact_id, fact, self._as_of))

    def _learn(self, told: BoxRow, form: Form | None, plan: Plan, facts: Sequence[Turn]) -> None:
        known = self._known
        for turn in facts:
            if _is_told(turn, plan) and not (turn.repeats and turn.has):
                known.told.learn(turn)
        known.boxes.add(told.box)
        if put := _put(facts):
            if put.shelf not in known.shelves:
                self._turn += 1
                known.shelves[put.shelf] = self._turn
            known.stand(put.box, put.shelf, put.position)
        if form and form.page:
            known.pages.setdefault(form.page.species, form.page.name)
        if form and plan.founded:
            known.lines.setdefault(form.line.line, form.line)
            first = self._first_seen.get(form.line.line)
            self._first_seen[form.line.line] = min(first, plan.since) if first else plan.since
        self._colonies.learn(plan)

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
        return row if entries == row.entries else replace(row, entries=entries)


def _is_told(turn: Turn, plan: Plan) -> bool:
    return plan.counted or not isinstance(turn.fact, Counted)


def _put(facts: Sequence[Turn]) -> Shelved | None:
    """Where a row newly says that its box stands."""
    for turn in facts:
        if isinstance(turn.fact, Shelved) and not turn.has:
            return turn.fact
    return None
