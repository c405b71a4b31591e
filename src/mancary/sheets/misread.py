"""What is said of a sheet whose columns are not understood, and how the keeper can mend it."""

from collections.abc import Iterable, Sequence

from mancary.sheets.assigning import Columns
from mancary.sheets.heading_words import ROLES
from mancary.sheets.reading import Table

_SHOWN = 8
_GUESS, _GUESS_LOOK = 0.3, 0.5
_EXPECTED = (
    "Expected a line of headings such as Box, Species, Since, How many, Litres; or Date, Box, What,"
    " Amount; or say what each column means."
)


def no_headings(table: Table, columns: Columns, roles: Sequence[str]) -> str:
    """The sentence for a sheet whose first line is a row of values."""
    first = ", ".join(cell for cell in table.rows[0].cells if cell)[:80]
    guesses = {at: given.role for at, given in columns.assigned(roles, {}).items()}
    if "box" not in guesses.values():
        free = [at for at in range(len(table.headings)) if at not in guesses]
        likely = max(free, key=lambda at: columns.look("box", at), default=None)
        if likely is not None and columns.look("box", likely) >= _GUESS_LOOK:
            guesses[likely] = "box"
    told = _repairs((table.headings[at], role) for at, role in sorted(guesses.items()))
    return (
        f"This sheet has no headings: its first line ({first}) looks like a row. Put a line of"
        f" headings above it, or say what the columns mean by their places{told or '.'}"
    )


def not_understood(table: Table) -> str:
    """The sentence for a sheet that is neither a list of boxes nor a journal."""
    shown = ", ".join(table.headings[:_SHOWN])
    return (
        f"No column of this sheet is understood as the box's code together with what is in it or"
        f" what was done (its headings: {shown}). {_EXPECTED}"
    )


def help_with(
    table: Table, columns: Columns, unknown: Iterable[int], missing: Sequence[str]
) -> str:
    """Which headings were not understood and what they may mean; empty where all were."""
    places = list(unknown)
    if not places:
        return ""
    named = ", ".join(repr(table.headings[at]) for at in places[:_SHOWN])
    guessed = [(at, _guess(columns, at, missing)) for at in places]
    repairs = _repairs((table.headings[at], role) for at, role in guessed if role)
    needed = ", ".join(ROLES[role] for role in missing)
    return f" Not understood: {named}. Missing: {needed}{repairs or '.'}"


def _guess(columns: Columns, at: int, missing: Sequence[str]) -> str:
    scored = [
        (columns.named(role, at) + columns.look(role, at), role)
        for role in missing
        if columns.named(role, at) >= _GUESS or columns.look(role, at) >= _GUESS_LOOK
    ]
    return max(scored)[1] if scored else ""


def _repairs(pairs: Iterable[tuple[str, str]]) -> str:
    """The exact words that mend each heading, as typed on the command line."""
    told = [(heading, role) for heading, role in pairs if role != "note"][:_SHOWN]
    if not told:
        return ""
    likely = "; ".join(f"{heading!r} may be {ROLES[role]}" for heading, role in told)
    typed = " ".join(f'--means "{heading}={role}"' for heading, role in told)
    return f"; {likely}. Say so in the page, or with {typed}."
