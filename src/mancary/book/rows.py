"""Between entries and the cells of a row."""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Any

from msgspec import Struct

from mancary.book.seals import seal
from mancary.husbandry.codec import decode, encode
from mancary.husbandry.entries import Entry

INSERT_FACT = (
    "INSERT INTO fact (number, id, kind, version, happened, typed, clock_error_s, written, body,"
    " seal) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
)
INSERT_SUBJECT = "INSERT INTO fact_subject (subject, number) VALUES (?, ?)"


class Prepared(Struct, frozen=True):
    """An entry checked and encoded, waiting for its number."""

    id: str
    kind: str
    version: int
    happened: str
    typed: str
    clock_error_s: float | None
    body: str
    subjects: tuple[str, ...]


def prepared(entries: Iterable[Entry]) -> list[Prepared]:
    """Entries checked before anything is written."""
    return [
        Prepared(
            entry.id,
            entry.fact.kind,
            entry.fact.version,
            entry.happened,
            entry.typed,
            _milliseconds(entry.clock_error_s),
            encode(entry.fact).decode(),
            tuple(sorted(set(entry.fact.subjects()))),
        )
        for entry in entries
    ]


def _milliseconds(seconds: float | None) -> float | None:
    """SQLite knows no minus zero, and a clock's error is not known closer than this."""
    return None if seconds is None else round(seconds, 3) + 0.0


def sealed(
    ready: Sequence[Prepared], *, first: int, before: str, written: str
) -> tuple[list[tuple[Any, ...]], Iterator[tuple[str, int]]]:
    """The cells of the facts, numbered and sealed, and those of their subjects."""
    facts = []
    for number, row in enumerate(ready, start=first):
        cells = (
            number,
            row.id,
            row.kind,
            row.version,
            row.happened,
            row.typed,
            row.clock_error_s,
            written,
            row.body,
        )
        before = seal(before, cells, row.subjects)
        facts.append((*cells, before))
    subjects = (
        (subject, number)
        for number, row in enumerate(ready, start=first)
        for subject in row.subjects
    )
    return facts, subjects


_fact = lru_cache(maxsize=1 << 15)(decode)
"""The facts of a room are read over and over; they never change."""


def entry(row: Sequence[Any]) -> Entry:
    """The entry of a stored row."""
    number, fact_id, kind, version, happened, typed, clock_error_s, written, body = row
    return Entry(
        id=fact_id,
        happened=happened,
        typed=typed,
        fact=_fact(kind, version, body),
        clock_error_s=clock_error_s,
        number=number,
        written=written,
    )
