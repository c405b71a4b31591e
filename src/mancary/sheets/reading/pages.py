"""Which page of a workbook is read: the one that looks most like a table."""

from collections.abc import Sequence

from mancary.sheets.plain import tidy
from mancary.sheets.reading.headings import known_headings_in
from mancary.sheets.reading.workbook import Lines, workbook_pages

_SEARCH = 30
_SHOWN = 6


def chosen_page(data: bytes) -> tuple[Lines, tuple[str, ...]]:
    """The page with most rows under headings, and what is said where there are several.

    Raises:
        Refusal: when the workbook cannot be read or is empty.
    """
    pages = workbook_pages(data)
    name, lines = max(pages, key=lambda page: _likeness(page[1]))
    if len(pages) == 1:
        return lines, ()
    others = [other for other, _ in pages if other != name]
    more = f" and {len(others) - _SHOWN} more" if len(others) > _SHOWN else ""
    said = (
        f"This workbook has {len(pages)} filled pages. Only '{name}' is read, as it has most rows"
        f" under headings; left aside: {', '.join(others[:_SHOWN])}{more}. To take in another, save"
        " it as a file of its own."
    )
    return lines, (said,)


def _likeness(lines: Lines) -> tuple[int, int]:
    """Rows below a line with two known headings, and rows at all with more than one cell."""
    filled = [cells for _, cells in lines if any(tidy(cell) for cell in cells)]
    known = [known_headings_in([tidy(cell) for cell in cells]) for cells in filled[:_SEARCH]]
    under = next((len(filled) - at - 1 for at, count in enumerate(known) if count > 1), 0)
    return under, sum(_is_row(cells) for cells in filled)


def _is_row(cells: Sequence[str]) -> bool:
    return sum(bool(tidy(cell)) for cell in cells) > 1
