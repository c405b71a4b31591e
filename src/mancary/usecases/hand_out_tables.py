"""The everyday tables of a hand-out, made from the standing facts."""

from collections.abc import Iterable, Iterator, Sequence

from mancary.husbandry.codes import natural
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    CareGiven,
    Counted,
    Noted,
    Pictured,
    SeenInBox,
    ShelfRead,
    Weighed,
)
from mancary.husbandry.register import Register
from mancary.husbandry.telling import amount_said, told

Table = tuple[str, tuple[str, ...], Iterable[Sequence[object]]]


def tables(register: Register, entries: Sequence[Entry]) -> Iterator[Table]:
    """File name, columns and lines of each table."""
    yield "boxes.csv", _BOX, _boxes(register)
    yield (
        "lines.csv",
        ("line", "species", "morph", "as_bought", "locality", "source"),
        [
            (line.slug, line.species, line.morph, line.as_bought, line.locality, line.source)
            for line in sorted(register.lines.values(), key=lambda line: line.slug)
        ],
    )
    yield "colonies.csv", _COLONY, _colonies(register)
    yield (
        "care.csv",
        ("happened", "box", "care", "what", "amount", "batch", "note"),
        [
            (
                entry.happened,
                fact.box,
                fact.care,
                fact.what,
                amount_said(fact.amount) if fact.amount else "",
                fact.batch or "",
                fact.note,
            )
            for entry in entries
            if isinstance(fact := entry.fact, CareGiven)
        ],
    )
    yield (
        "seen.csv",
        ("happened", "box", "word", "animals", "share", "note"),
        [
            (entry.happened, fact.box, fact.word, _cell(fact.animals), _cell(fact.share), fact.note)
            for entry in entries
            if isinstance(fact := entry.fact, SeenInBox)
        ],
    )
    yield (
        "counts.csv",
        (
            "happened",
            "box",
            "how",
            "low",
            "high",
            "band",
            "share",
            "samples",
            "catches",
            "marked",
            "caught",
            "recaptured",
            "as_written",
        ),
        [
            (
                entry.happened,
                fact.box,
                fact.how,
                fact.low,
                _cell(fact.high),
                fact.band or "",
                _cell(fact.share),
                " ".join(map(str, fact.samples)),
                " ".join(map(str, fact.catches)),
                _cell(fact.marked),
                _cell(fact.caught),
                _cell(fact.recaptured),
                fact.as_written,
            )
            for entry in entries
            if isinstance(fact := entry.fact, Counted)
        ],
    )
    yield (
        "weighings.csv",
        ("happened", "box", "gross_g", "mark"),
        [
            (entry.happened, fact.box, fact.gross_g, fact.mark or "")
            for entry in entries
            if isinstance(fact := entry.fact, Weighed)
        ],
    )
    yield (
        "shelf_temperatures.csv",
        ("happened", "shelf", "lowest_c", "highest_c"),
        [
            (entry.happened, fact.shelf, fact.lowest_c, fact.highest_c)
            for entry in entries
            if isinstance(fact := entry.fact, ShelfRead)
        ],
    )
    yield (
        "pictures.csv",
        ("happened", "box", "picture", "width_px", "height_px", "note"),
        [
            (entry.happened, fact.box, f"pictures/{fact.picture}", fact.width_px, fact.height_px,
             fact.note)
            for entry in entries
            if isinstance(fact := entry.fact, Pictured)
        ],
    )  # fmt: skip
    yield (
        "notes.csv",
        ("happened", "about", "text"),
        [
            (entry.happened, entry.fact.subjects()[0], told(entry.fact).removeprefix("note: "))
            for entry in entries
            if isinstance(entry.fact, Noted)
        ],
    )


_BOX = (
    "box",
    "shelf",
    "position",
    "litres",
    "damp_share",
    "vents_as_written",
    "colony",
    "line",
    "species",
    "quarantine_since",
    "out_of_use_since",
)
_COLONY = (
    "colony",
    "box",
    "line",
    "founded",
    "founders_low",
    "founders_high",
    "came_from",
    "ended",
    "cause",
)


def _cell(value: object) -> object:
    return "" if value is None else value


def _boxes(register: Register) -> Iterator[tuple[object, ...]]:
    for box in sorted(register.boxes.values(), key=lambda box: natural(box.code)):
        line = register.line_in(box.code)
        yield (
            box.code,
            box.shelf,
            _cell(box.position),
            _cell(box.litres),
            _cell(box.damp_share),
            box.vents_as_written,
            box.colony,
            line.slug if line else "",
            line.species if line else "",
            box.quarantine.since if box.quarantine else "",
            _cell(box.retired_on),
        )


def _colonies(register: Register) -> Iterator[tuple[object, ...]]:
    for colony in sorted(register.colonies.values(), key=lambda colony: natural(colony.code)):
        yield (
            colony.code,
            colony.box,
            colony.line,
            colony.founded,
            _cell(colony.founders_low),
            _cell(colony.founders_high),
            colony.came_from,
            _cell(colony.ended),
            colony.cause,
        )
