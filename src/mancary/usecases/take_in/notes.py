"""What is said of a sheet as a whole: how it was read, and on what grounds."""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from mancary.sheets.ground import Ground
from mancary.sheets.heading_words import ROLES
from mancary.sheets.reading import Table
from mancary.usecases.take_in.answer import Row

_SORTS = {"boxes": "a list of boxes", "journal": "a journal of what was done and seen"}
_SHOWN = 12
_MEANINGS = [role for role in ROLES if role != "note"]


def notes_of(table: Table, ground: Ground, rows: Sequence[Row], *, as_of: date) -> tuple[str, ...]:
    """Sentences for the keeper, the file first, then dates, numbers, columns and boxes."""
    return tuple(_notes(table, ground, rows, as_of))


def _notes(table: Table, ground: Ground, rows: Sequence[Row], as_of: date) -> Iterator[str]:
    sort = ground.meaning.sort
    where = f"headings in line {table.heading_line}" if table.heading_line else "no headings"
    yield f"This is {_SORTS[sort]}: {table.how}, {where}."
    yield from table.notes
    yield from _of_dates(ground)
    if ground.decimal:
        yield f"Numbers are read with a decimal {'comma' if ground.decimal == ',' else 'point'}."
    yield from _of_columns(ground)
    if sort == "boxes":
        yield (
            "The sheet does not say when it was counted or measured; these figures are written as"
            f" of {as_of.isoformat()}."
        )
        yield from _of_words(ground, rows)
    else:
        yield from _of_boxes(rows)
    yield from _of_repeats(rows)
    yield from _of_left_out(rows)


def _of_dates(ground: Ground) -> Iterator[str]:
    order = ground.calendar.order
    if order.order:
        yield f"Dates are read {order.order}: {order.why}."


def _of_columns(ground: Ground) -> Iterator[str]:
    columns = ground.meaning.columns
    known = [f"{c.heading} ({c.words})" for c in columns if c.found in ("heading", "keeper")]
    if known:
        yield f"Columns: {', '.join(known)}."
    looked = [f"{c.heading} ({c.words})" for c in columns if c.found == "values"]
    if looked:
        yield f"Understood by the look of the values: {', '.join(looked)}."
    unknown = [c.heading for c in columns if c.found == "not understood"]
    if unknown:
        yield f"Not understood and kept as notes: {', '.join(unknown)}."
        yield (
            "Where such a column means something, say so in the page or with"
            f' --means "{unknown[0]}=MEANING", one of {", ".join(_MEANINGS)}.'
        )
    aside = [c.heading for c in columns if c.found == "not needed"]
    if aside:
        yield f"Left aside, since the list of boxes holds it: {', '.join(aside)}."


def _of_words(ground: Ground, rows: Sequence[Row]) -> Iterator[str]:
    if ground.meaning.at("species") is None:
        yield (
            "No column says what lives in the boxes, so no colony is founded; if one does, say"
            ' which, with --means "HEADING=species" or in the page.'
        )
    if any("holes of" in said or "hole of" in said for row in rows for said in row.said):
        yield "Holes are read as how many, then millimetres across: 12 x 4 is 12 holes of 4 mm."
    ours = Counter(_our_reading(said) for row in rows for said in row.said)
    for reading, count in ours.items():
        if reading:
            yield f"{count} of the counts in words: {reading}; the words are kept beside it."


def _our_reading(said: str) -> str:
    """What a row says of a count in words that was read our way, else nothing."""
    words, sign, reading = said.partition(" animals: ")
    if not sign or "our reading" not in reading:
        return ""
    return reading if "of about" in reading else f"words like {words}, {reading}"


def _of_repeats(rows: Sequence[Row]) -> Iterator[str]:
    pairs = [f"line {row.line} says what line {row.repeats} says" for row in rows if row.repeats]
    if pairs:
        more = f", and {len(pairs) - _SHOWN} more" if len(pairs) > _SHOWN else ""
        yield f"Written once: {', '.join(pairs[:_SHOWN])}{more}."
    in_book = sum(row.state == "repeated" and not row.repeats for row in rows)
    if in_book:
        named = "1 row adds" if in_book == 1 else f"{in_book} rows add"
        yield f"{named} nothing, as the book has all of it already."


def _of_left_out(rows: Sequence[Row]) -> Iterator[str]:
    lines = [str(row.line) for row in rows if row.left_out]
    if lines:
        named = f"Line {lines[0]} is" if len(lines) == 1 else f"Lines {', '.join(lines)} are"
        yield f"{named} left out, as you said, and counted among the refused."


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
