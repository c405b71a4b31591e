"""What each column means, and whether a sheet lists boxes or is a journal."""

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from mancary.husbandry.refusal import Refusal
from mancary.sheets.assigning import Columns, Found, Given
from mancary.sheets.heading_words import ROLES, known_headings, split_unit
from mancary.sheets.looks import distinct, look
from mancary.sheets.misread import help_with, no_headings, not_understood
from mancary.sheets.plain import plain
from mancary.sheets.reading import Table
from mancary.sheets.telling.trade_words import tellings

Sort = Literal["boxes", "journal"]

_BOX_ROLES: Final = (
    "box", "species", "morph", "since", "count", "litres", "size", "length", "width", "height",
    "shelf", "position", "damp", "vents", "protein", "source", "locality", "remarks",
)  # fmt: skip
_JOURNAL_ROLES: Final = ("date", "box", "what", "amount", "unit", "remarks")
_IN_BOX_LIST: Final = ("species", "morph", "shelf", "litres", "since")
_OF_A_BOX: Final = (
    "count", "litres", "size", "length", "width", "height", "morph", "shelf", "position", "damp",
    "vents", "protein", "source", "locality",
)  # fmt: skip
_ALL_DIFFER, _SURELY = 0.9, 0.8
_OTHERS: Final = ("note", "ignore")
_DATED_HEADINGS = 3


class Column(Struct, frozen=True, kw_only=True):
    """A column, what it means, the unit its heading gives, and how the meaning was found."""

    heading: str
    role: str
    unit: str = ""
    found: Found = "heading"

    @property
    def words(self) -> str:
        """The meaning in words."""
        return ROLES[self.role]


class Meaning(Struct, frozen=True, kw_only=True):
    """What a sheet is, and what its columns mean, in their order."""

    sort: Sort
    columns: tuple[Column, ...]

    def at(self, role: str) -> int | None:
        """The index of the first column of a role."""
        return next((i for i, column in enumerate(self.columns) if column.role == role), None)


def find_meaning(table: Table, meanings: Mapping[str, str] | None = None) -> Meaning:
    """The meaning of a table's columns; the keeper's ``meanings`` (heading to role) stand first.

    Raises:
        Refusal: when a needed column or the headings are missing, the sheet is a wide log, or a
            told role is unknown.
    """
    told = _told(table, meanings or {})
    columns = Columns(table)
    if not table.heading_line and not told:
        told_work = {given.role for given in columns.assigned(_JOURNAL_ROLES, {}).values()}
        roles = _JOURNAL_ROLES if {"what", "date"} <= told_work else _BOX_ROLES
        raise Refusal(no_headings(table, columns, roles))
    journal = _columns(table, columns, _JOURNAL_ROLES, told)
    boxes = _columns(table, columns, _BOX_ROLES, told)
    if _has(journal, "box", "what", "date") and not _lists_boxes(columns, boxes, journal):
        return Meaning(sort="journal", columns=_without_box_list(journal))
    _refuse_wide(table, boxes)
    if _has(boxes, "box") and _says_of_boxes(boxes):
        return Meaning(sort="boxes", columns=boxes)
    if _has(journal, "box", "what"):
        raise Refusal(
            "This looks like a journal, but no column of it holds dates."
            + help_with(table, columns, _unknown(journal), ["date"])
        )
    missing = ["species"] if _has(boxes, "box") else ["box", "species"]
    raise Refusal(not_understood(table) + help_with(table, columns, _unknown(boxes), missing))


def _unknown(columns: Sequence[Column]) -> list[int]:
    return [at for at, column in enumerate(columns) if column.found == "not understood"]


def _lists_boxes(columns: Columns, boxes: Sequence[Column], journal: Sequence[Column]) -> bool:
    """True where each row names a box of its own and what lives in it.

    A round written down with the species beside each box is still a journal: its words are work
    and its days are dates, and hardly a column says what a box is.
    """
    at = {column.role: number for number, column in reversed(list(enumerate(boxes)))}
    if "box" not in at or "species" not in at:
        return False
    named = boxes[at["species"]].found == "keeper" or columns.look("species", at["species"]) >= 0.5
    if not named or distinct(columns.values[at["box"]]) < _ALL_DIFFER:
        return False
    work = {column.role: number for number, column in reversed(list(enumerate(journal)))}
    sure = min(columns.look(role, work[role]) for role in ("what", "date"))
    return sure < _SURELY or sum(role in at for role in _OF_A_BOX) > 1


def _told(table: Table, meanings: Mapping[str, str]) -> dict[int, str]:
    by_name = {plain(heading): i for i, heading in enumerate(table.headings)}
    told = {}
    for heading, role in meanings.items():
        if role not in ROLES:
            raise Refusal(
                f"{role!r} is no meaning of a column; expected one of {', '.join(ROLES)}."
            )
        if plain(heading) not in by_name:
            raise Refusal(f"This sheet has no column {heading!r}.")
        told[by_name[plain(heading)]] = role
    return told


def _without_box_list(columns: Sequence[Column]) -> tuple[Column, ...]:
    """A journal may repeat what the list of boxes holds; that is not noted again on every line."""
    known = known_headings()
    return tuple(
        replace(column, role="ignore", found="not needed")
        if column.found == "not understood"
        and not set(known.get(split_unit(column.heading)[0], ())).isdisjoint(_IN_BOX_LIST)
        else column
        for column in columns
    )


def _has(columns: Sequence[Column], *roles: str) -> bool:
    return set(roles) <= {column.role for column in columns}


def _says_of_boxes(columns: Sequence[Column]) -> bool:
    return any(column.role not in ("box", "remarks", *_OTHERS) for column in columns)


def _columns(
    table: Table, columns: Columns, roles: Sequence[str], told: Mapping[int, str]
) -> tuple[Column, ...]:
    given = {at: Given(role, "keeper") for at, role in told.items()}
    given |= columns.assigned(roles, told)
    unknown = Given("note", "not understood")
    return tuple(
        Column(
            heading=heading,
            role=given.get(at, unknown).role,
            unit=columns.split[at][1],
            found=given.get(at, unknown).found,
        )
        for at, heading in enumerate(table.headings)
    )


def _refuse_wide(table: Table, columns: Sequence[Column]) -> None:
    """A log with a column for each day, box or kind of work is told apart and refused."""
    words = [split_unit(heading)[0] for heading in table.headings]
    works = [word for word in words if word in tellings()]
    days = max(look(role, table.headings) for role in ("date", "shelf")) * len(table.headings)
    dated = any(column.role == "since" for column in columns)
    listed = _has(columns, "species") or _has(columns, "litres")
    if not listed and (days >= _DATED_HEADINGS or (dated and len(works) > 1)):
        raise Refusal(
            "This looks like a wide log, with a column for each day, box or kind of work. Taking"
            " in needs one line for each thing done: day, box, what, how much."
        )
