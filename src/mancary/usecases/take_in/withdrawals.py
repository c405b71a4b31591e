"""What a sheet tells again although the keeper withdrew it: asked about, never taken as known."""

from collections.abc import Callable, Iterable
from collections.abc import Set as AbstractSet
from typing import Final

from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import Fact, Withdrawn
from mancary.husbandry.order import withdrawn_ids
from mancary.husbandry.telling import told
from mancary.sheets.cells import Cells
from mancary.sheets.faults import LEAVE_OUT, Choice

STILL: Final = "still withdrawn"
AGAIN: Final = "write it again"

_CHOICES = (
    Choice(value=STILL, words="it stays withdrawn; the rest of the row is taken", likelihood=0.9),
    Choice(value=AGAIN, words=AGAIN, likelihood=0.05),
    Choice(value=LEAVE_OUT, words="leave this row out", likelihood=0.05),
)
"""Ours, from no count: the keeper called it a mistake, and the sheet may only lag behind."""

_COLUMNS = {
    "counted": "count",
    "shelved": "shelf",
    "figure_chosen": "protein",
    "noted": "remarks",
    "care_given": "what",
    "seen_in_box": "what",
}


class Withdrawals:
    """``gone``: the ids of all withdrawn facts. ``mistaken``: those that nothing replaced."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        found = list(entries)
        self.gone: AbstractSet[str] = withdrawn_ids(found)
        self.mistaken: AbstractSet[str] = self.gone - _corrected(found, self.gone)

    def successor(self, text: str) -> str:
        """The id made from a text, or the first one after it that was not withdrawn."""
        fact_id, number = derived_id(text), 1
        while fact_id in self.mistaken:
            number += 1
            fact_id = derived_id(f"{text}|again {number}")
        return fact_id


def stays_withdrawn(cells: Cells, fact: Fact, withdrawn: str) -> bool | None:
    """Whether a fact that the row tells again stays withdrawn; None where that is asked."""
    role = _COLUMNS.get(fact.kind, "box")
    why = f"you withdrew this as a mistake: {told(fact)}"
    answer = cells.settle(role, _key(withdrawn), why, _CHOICES)
    return answer == STILL if answer else None


def met(get: Callable[[str], object], withdrawn: Iterable[str]) -> None:
    """Marks the answers about withdrawn facts as having done their work."""
    for fact_id in withdrawn:
        get(_key(fact_id))


def _key(fact_id: str) -> str:
    """The end of the id, by which the keeper may look the fact up."""
    return f"withdrawn:{fact_id[-12:]}"


def _corrected(entries: Iterable[Entry], gone: AbstractSet[str]) -> set[str]:
    """The withdrawn facts in whose place another one stands, at once or after more corrections."""
    instead = {
        entry.fact.mistaken: entry.fact.instead
        for entry in entries
        if isinstance(entry.fact, Withdrawn) and entry.fact.instead and entry.id not in gone
    }
    return {fact_id for fact_id in instead if _last(fact_id, instead) not in gone}


def _last(fact_id: str, instead: dict[str, str]) -> str:
    seen = set()
    while fact_id in instead and fact_id not in seen:
        seen.add(fact_id)
        fact_id = instead[fact_id]
    return fact_id
