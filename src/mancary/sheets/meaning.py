"""What each column means, and whether a sheet lists boxes or is a journal."""

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from mancary.husbandry.refusal import Refusal
from mancary.sheets.heading_words import ROLES, known_headings, split_unit
from mancary.sheets.looks import look
from mancary.sheets.plain import plain
from mancary.sheets.reading import Table
from mancary.sheets.telling.trade_words import tellings

Sort = Literal["boxes", "journal"]

_BOX_ROLES: Final = (
    "box", "species", "morph", "since", "count", "litres", "size", "length", "width", "height",
    "shelf", "position", "damp", "vents", "protein", "source", "locality", "remarks",
)  # fmt: skip
_JOURNAL_ROLES: Final = ("date", "box", "what", "amount", "unit", "remarks")
_BY_LOOK: Final = (
    "box",
    "species",
    "since",
    "date",
    "what",
    "vents",
    "damp",
    "litres",
    "size",
    "amount",
)
_IN_BOX_LIST: Final = ("species", "morph", "shelf", "litres", "since")
_OTHERS: Final = ("note", "ignore")
_EXACT, _PART, _MISSPELT = 1.0, 0.8, 0.7
_LOOK_WEIGHT, _LOOK_ENOUGH = 0.4, 0.7
_NEARLY = 88
_SHORTEST_GUESS = 4
_DATED_HEADINGS = 3


class Column(Struct, frozen=True, kw_only=True):
    """A column, what it means, the unit its heading gives, and how the meaning was found."""

    heading: str
    role: str
    unit: str = ""
    found: Literal["heading", "values", "keeper", "not understood", "not needed"] = "heading"

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
        Refusal: when no box column is found, the sheet is a wide log, or a told role is unknown.
    """
    told = _told(table, meanings or {})
    columns = [tuple(row.cells[i] for row in table.rows[:400]) for i in range(len(table.headings))]
    journal = _assigned(table, columns, _JOURNAL_ROLES, told)
    boxes = _assigned(table, columns, _BOX_ROLES, told)
    if _has(journal, "box", "what", "date"):
        return Meaning(sort="journal", columns=_without_box_list(journal))
    _refuse_wide(table, boxes)
    if _has(boxes, "box") and _says_of_boxes(boxes):
        return Meaning(sort="boxes", columns=boxes)
    if _has(journal, "box", "what"):
        raise Refusal("This looks like a journal, but no column of it holds dates.")
    raise Refusal(_not_understood(table))


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


def _heading_score(words: str, role: str) -> float:
    known = known_headings()
    if words in known:
        return _EXACT if role in known[words] else 0.0
    if any(f" {word} " in f" {words} " for word in known if role in known[word] and len(word) > 2):
        return _PART
    if len(words) < _SHORTEST_GUESS:
        return 0.0
    from rapidfuzz import fuzz, process

    ours = [word for word in known if role in known[word] and len(word) >= _SHORTEST_GUESS]
    near = process.extractOne(words, ours, scorer=fuzz.ratio, score_cutoff=_NEARLY)
    return _MISSPELT if near else 0.0


def _assigned(
    table: Table,
    values: Sequence[Sequence[str]],
    roles: Sequence[str],
    told: Mapping[int, str],
) -> tuple[Column, ...]:
    split = [split_unit(heading) for heading in table.headings]
    scored = []
    for i, (words, _) in enumerate(split):
        for role in roles:
            named, looks = _heading_score(words, role), look(role, values[i])
            if i not in told and (named or (role in _BY_LOOK and looks >= _LOOK_ENOUGH)):
                scored.append((named + _LOOK_WEIGHT * looks, -i, role, named > 0))
    given: dict[int, tuple[str, bool]] = {}
    taken = set(told.values())
    for _, minus, role, by_heading in sorted(scored, key=lambda one: one[:2], reverse=True):
        if -minus not in given and (role not in taken or role == "remarks"):
            given[-minus] = (role, by_heading)
            taken.add(role)
    return tuple(_column(table, i, split[i][1], told, given) for i in range(len(split)))


def _column(
    table: Table,
    at: int,
    unit: str,
    told: Mapping[int, str],
    given: Mapping[int, tuple[str, bool]],
) -> Column:
    heading = table.headings[at]
    if at in told:
        return Column(heading=heading, role=told[at], unit=unit, found="keeper")
    if at in given:
        role, by_heading = given[at]
        found: Literal["heading", "values"] = "heading" if by_heading else "values"
        return Column(heading=heading, role=role, unit=unit, found=found)
    return Column(heading=heading, role="note", unit=unit, found="not understood")


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


def _not_understood(table: Table) -> str:
    shown = ", ".join(table.headings[:8])
    return (
        f"No column of this sheet is understood as the box's code together with what is in it or"
        f" what was done (its headings: {shown}). Expected a line of headings such as Box, Species,"
        " Since, How many, Litres; or Date, Box, What, Amount; or say what each column means."
    )
