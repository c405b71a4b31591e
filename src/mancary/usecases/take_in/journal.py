"""Rows of a journal, joined to the book: what each adds, in which box, on which day."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from collections.abc import Set as AbstractSet
from functools import cache
from typing import cast

from msgspec.structs import replace

from mancary.husbandry.codec import encode
from mancary.husbandry.codes import code
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import CareGiven, Counted, Fact, Noted, SeenInBox, Taken, Weighed
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.husbandry.words import Care, Seen
from mancary.sheets.cells import Cells
from mancary.sheets.faults import LEAVE_OUT, Choice
from mancary.sheets.ground import Ground
from mancary.sheets.journal_rows import Done, Given, JournalRow, TakenOut, read_journal_row
from mancary.sheets.reading import SheetRow
from mancary.sheets.telling.remarks import Sight
from mancary.sheets.values.counts import Count
from mancary.usecases.take_in.answer import Row
from mancary.usecases.take_in.living import Living
from mancary.usecases.take_in.present import Present
from mancary.usecases.take_in.rows import RowDesk, finished
from mancary.usecases.take_in.withdrawals import Withdrawals, met, stays_withdrawn

_SURE_CODE = 0.95
_MOST_NEAR = 2
_DIGITS = re.compile(r"\d+")


class Journal:
    """Builds the rows of a journal one after the other."""

    def __init__(
        self,
        ground: Ground,
        boxes: AbstractSet[str],
        living: Living,
        desk: RowDesk,
        has: Callable[[Iterable[str]], AbstractSet[str]],
        withdrawals: Withdrawals,
    ) -> None:
        self._ground, self._boxes, self._desk, self._has = ground, boxes, desk, has
        self._withdrawals = withdrawals
        self._present = Present(living)
        self._alike = {_bare(box): box for box in sorted(boxes)}
        self._rows: dict[tuple[object, ...], int] = {}
        self._facts: Counter[str] = Counter()
        self._near = cache(self._near_codes)

    def row(self, row: SheetRow) -> Row:
        """One row with the entries it would add, known to the book or not."""
        cells = Cells(row, self._ground)
        told = read_journal_row(cells)
        box = self._box(cells)
        if told is None or box is None or cells.refused or cells.asked or cells.left_out:
            return finished(row, cells, box or "", ())
        told = replace(told, box=box)
        written = self._is_written(told)
        met = self._present.answered(cells, told) if written else self._present.met(cells, told)
        if met is None:
            return finished(row, cells, box, ())
        told = met
        identity = (told.box, told.day, told.done, told.notes)
        if identity in self._rows:
            return Row(
                line=row.line,
                state="repeated",
                cells=row.cells,
                box=box,
                said=(f"the same as line {self._rows[identity]}; written once",),
                repeats=self._rows[identity],
            )
        self._rows[identity] = row.line
        entries = self._desk.checked(cells, lambda: self._entries(cells, told))
        return finished(row, cells, box, entries)

    def _box(self, cells: Cells) -> str | None:
        """The row's box, if the book has it; asks or refuses where it does not."""
        try:
            wanted = code(cells.text("box"))
        except Refusal:
            return None  # refused by the reader already
        if wanted in self._boxes:
            return wanted
        if alike := self._alike.get(_bare(wanted)):
            why = f"the book has no {wanted}, but {alike}"
            return cells.settle("box", f"box:{wanted}", why, _alike(alike), also=self._known)
        if not self._boxes:
            cells.refuse("box", "this book has no boxes yet; take in the list of boxes first")
        else:
            cells.refuse("box", self._near(wanted))
        return None

    def _known(self, text: str) -> str | None:
        try:
            return code(text) if code(text) in self._boxes else None
        except Refusal:
            return None

    def _near_codes(self, wanted: str) -> str:
        from rapidfuzz.distance import Levenshtein

        near = [
            box for box in self._boxes if Levenshtein.distance(box, wanted, score_cutoff=1) <= 1
        ]
        named = tuple(sorted(near)) if len(near) <= _MOST_NEAR else ()
        return str(UnknownSubject("box", wanted, near=named))

    def _is_written(self, told: JournalRow) -> bool:
        """True where nobody is known to have lived there, and the book has the line all the same.

        What was written before the colony's end was told is not asked about afterwards.
        """
        if self._present.colony(told) or any(isinstance(one, TakenOut) for one in told.done):
            return False
        ids = [fact_id for fact_id, _, _ in self._identified(told)]
        return self._has(ids) >= set(ids)

    def _entries(self, cells: Cells, told: JournalRow) -> list[Entry]:
        entries = []
        for fact_id, fact, key in list(self._identified(told)):
            self._facts[key] += 1
            if not self._stays_withdrawn(cells, fact, f"{key}|{self._facts[key]}", fact_id):
                entries.append(self._desk.entry(fact_id, fact, told.day))
        return entries

    def _stays_withdrawn(self, cells: Cells, fact: Fact, text: str, fact_id: str) -> bool:
        first = derived_id(text)
        if first == fact_id:
            return False
        if self._has([fact_id]):
            met(cells.ground.mends.get, [first])
            return False
        return bool(stays_withdrawn(cells, fact, first))

    def _identified(self, told: JournalRow) -> Iterator[tuple[str, Fact, str]]:
        """Each fact of a row with its id, made from content and how often that was told above."""
        here: Counter[str] = Counter()
        for fact, value in _facts(told, self._present.colony(told)):
            key = f"sheet|{fact.kind}|{told.box}|{told.day}|{value}"
            here[key] += 1
            text = f"{key}|{self._facts[key] + here[key]}"
            yield self._withdrawals.successor(text), fact, key


def _bare(box: str) -> str:
    """A code without signs, spaces and leading zeros: "A-01" and "A1" are alike."""
    bare = "".join(letter for letter in box if letter.isalnum())
    return _DIGITS.sub(lambda found: found.group().lstrip("0") or "0", bare)


def _alike(box: str) -> tuple[Choice, ...]:
    return (
        Choice(value=box, words=f"it is {box}", likelihood=_SURE_CODE),
        Choice(value=LEAVE_OUT, words="leave this row out", likelihood=1 - _SURE_CODE),
    )


def _facts(told: JournalRow, colony: str) -> Iterator[tuple[Fact, str]]:
    """The facts of a row, each with the text of its value, free of how it was typed."""
    for one in told.done:
        fact = _fact(told.box, one, colony)
        yield fact, encode(_as_value(fact)).decode()
    for note in told.notes:
        yield Noted(what="box", code=told.box, text=note[:4000]), note


def _as_value(fact: Fact) -> Fact:
    """The fact without the words it was told in, which may be typed in more than one way."""
    if isinstance(fact, CareGiven) and fact.amount and fact.amount.unit != "not_said":
        return replace(fact, amount=replace(fact.amount, as_written=""))
    if isinstance(fact, Weighed):
        return replace(fact, mark=None)
    return fact


def _fact(box: str, one: Done, colony: str) -> Fact:
    if isinstance(one, Given):
        return CareGiven(
            box=box, care=cast("Care", one.care), amount=one.amount, what=one.what, note=one.words
        )
    if isinstance(one, Sight):
        return SeenInBox(
            box=box,
            word=cast("Seen", one.word),
            animals=one.animals,
            share=one.share,
            note=one.as_written,
        )
    if isinstance(one, Count):
        return Counted(
            box=box,
            how="band" if one.band else "not_said",
            low=one.low,
            high=one.high,
            band=one.band,
            as_written=one.as_written,
            note=one.said,
        )
    if isinstance(one, TakenOut):
        return Taken(colony=colony, box=box, animals=one.animals, to=one.to, note=one.words)
    return Weighed(box=box, gross_g=one.grams, mark=one.mark)
