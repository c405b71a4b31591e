"""What is said of a sheet as a whole: how it was read, and on what grounds."""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from mancary.sheets.cells import Ground
from mancary.sheets.reading import Table
from mancary.usecases.take_in.answer import Row

_SORTS = {"boxes": "a list of boxes", "journal": "a journal of what was done and seen"}


def notes_of(table: Table, ground: Ground, rows: Sequence[Row], *, as_of: date) -> tuple[str, ...]:
    """Sentences for the keeper, the file first, then dates, numbers, columns and boxes."""
    return tuple(_notes(table, ground, rows, as_of))


def _notes(table: Table, ground: Ground, rows: Sequence[Row], as_of: date) -> Iterator[str]:
    sort = ground.meaning.sort
    yield (f"This is {_SORTS[sort]}: {table.how}, headings in line {table.heading_line}.")
    yield from _of_dates(ground)
    if ground.decimal:
        yield f"Numbers are read with a decimal {'comma' if ground.decimal == ',' else 'point'}."
    yield from _of_columns(ground)
    if sort == "boxes":
        yield (
            "The sheet does not say when it was counted or measured; these figures are written as"
            f" of {as_of.isoformat()}."
        )
        yield from _of_words(rows)
    else:
        yield from _of_boxes(rows)


def _of_dates(ground: Ground) -> Iterator[str]:
    order = ground.calendar.order
    if order.order:
        yield f"Dates are read {order.order}: {order.why}."


def _of_columns(ground: Ground) -> Iterator[str]:
    unknown = [c.heading for c in ground.meaning.columns if c.found == "not understood"]
    if unknown:
        yield f"Not understood and kept as notes: {', '.join(unknown)}."
    aside = [c.heading for c in ground.meaning.columns if c.found == "not needed"]
    if aside:
        yield f"Left aside, since the list of boxes holds it: {', '.join(aside)}."
    looked = [f"{c.heading} ({c.words})" for c in ground.meaning.columns if c.found == "values"]
    if looked:
        yield f"Understood by the look of the values: {', '.join(looked)}."


def _of_words(rows: Sequence[Row]) -> Iterator[str]:
    if any("holes of" in said or "hole of" in said for row in rows for said in row.said):
        yield "Holes are read as how many, then millimetres across: 12 x 4 is 12 holes of 4 mm."


def _of_boxes(rows: Sequence[Row]) -> Iterator[str]:
    unknown = Counter(
        fault.value
        for row in rows
        for fault in row.refused
        if fault.why.startswith("There is no box")
    )
    if unknown:
        count = unknown.total()
        rows_name = "1 row names a box" if count == 1 else f"{count} rows name boxes"
        yield (
            f"{rows_name} this book does not have ({', '.join(sorted(unknown))}):"
            " take in the list of boxes first, or mend the code."
        )
