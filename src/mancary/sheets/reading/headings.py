"""Which line of a sheet holds the headings, and whether any does."""

from collections import Counter
from collections.abc import Sequence

from mancary.husbandry.refusal import Refusal
from mancary.sheets.heading_words import is_heading_word
from mancary.sheets.looks import sort_of_value

_SEARCH = 30
_SAMPLE = 40
_MOST_OF = 0.6

Record = tuple[int, list[str]]


def heading_at(records: Sequence[Record]) -> int | None:
    """The index of the headings; None where the first line looks like a row of values.

    A line with two known headings is taken, the first of the best, unless full lines stand above.
    Where there is none, the first line that is more than a title.
    """
    if not records:
        raise Refusal("This file has no rows.")
    start = [cells for _, cells in records[:_SEARCH]]
    known = [known_headings_in(cells) for cells in start]
    best = max(range(len(known)), key=lambda at: (min(known[at], 2), -at))
    if known[best] > 1 and (best == 0 or _below_a_title(start, best, known[best])):
        return best
    first = _first_full(start)
    return None if _is_data(start[first], [cells for _, cells in records[first + 1 :]]) else first


def known_headings_in(cells: Sequence[str]) -> int:
    """How many cells of a line are words that head columns."""
    return sum(is_heading_word(cell) for cell in cells if cell)


def _filled(cells: Sequence[str]) -> int:
    return sum(map(bool, cells))


def _below_a_title(start: Sequence[Sequence[str]], at: int, known: int) -> bool:
    width = _filled(start[at])
    return 2 * known >= width or all(3 * _filled(cells) <= width for cells in start[:at])


def _first_full(start: Sequence[Sequence[str]]) -> int:
    usual = Counter(map(_filled, start)).most_common(1)[0][0]
    return next(at for at, cells in enumerate(start) if 2 * _filled(cells) >= usual)


def _is_data(first: Sequence[str], below: Sequence[Sequence[str]]) -> bool:
    """True where more cells are of the sort that stands below them than are headings over it."""
    like = unlike = 0
    for at, cell in enumerate(first):
        if not cell:
            continue
        sort, usual = sort_of_value(cell), _usual_sort(below, at)
        if is_heading_word(cell) or (usual and sort != usual):
            unlike += 1
        elif sort and (usual or not below):
            like += 1
    return like > 1 and like > unlike


def _usual_sort(rows: Sequence[Sequence[str]], at: int) -> str:
    cells = [row[at] for row in rows[:_SAMPLE] if at < len(row) and row[at]]
    sorts = Counter(map(sort_of_value, cells)).most_common(1)
    return sorts[0][0] if sorts and sorts[0][1] >= _MOST_OF * len(cells) else ""
