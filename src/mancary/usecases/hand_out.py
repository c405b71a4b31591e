"""The hand-out: the whole book as plain files that any program reads."""

import csv
import errno
import hashlib
import io
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

import msgspec
from msgspec import Struct

from mancary.book import Book
from mancary.book.transfer import SealedRow, sealed_rows
from mancary.book.trouble import AlreadyThere, Full, ReadOnly
from mancary.husbandry.facts import KINDS
from mancary.husbandry.order import in_order
from mancary.husbandry.register import read_register
from mancary.usecases.hand_out_tables import tables
from mancary.usecases.standings import zone_of

FACT_COLUMNS: Final = (
    "number",
    "id",
    "kind",
    "version",
    "happened",
    "typed",
    "clock_error_s",
    "written",
    "subjects",
    "body",
    "seal",
)

README: Final = """\
This folder is the whole stock book of {name}, as plain files.{invented}

facts.csv    every fact in the order of writing; lossless. Taking this folder into an empty book
             gives the same book again, seal by seal.
*.csv        the same in everyday tables, for a spreadsheet; made from facts.csv. A cell that would
             start a formula has an apostrophe before it.
schema.json  what each column and each kind of fact holds (JSON Schema 2020-12).
book.json    how many facts there are, the seal of the last, and the SHA-256 of each file.

CSV as in RFC 4180, UTF-8, a heading line first. Times are ISO 8601: an instant ends in Z (UTC);
a bare day, month or year is known no more exactly than that, in the zone {zone}.
The seal of a fact is the SHA-256 of: the seal before it, a line feed, and the JSON array of number,
id, kind, version, happened, typed, clock_error_s, written, body, sorted subjects.
"""


class HandedOut(Struct, frozen=True, kw_only=True):
    """What was written: the folder, its files, how many facts, the seal of the last."""

    folder: str
    files: tuple[str, ...]
    facts: int
    head: str


def hand_out(book: Book, folder: Path) -> HandedOut:
    """Writes the book into an empty or new folder; the same book gives the same bytes.

    Raises:
        BookTrouble: when the folder holds something already or cannot be written.
    """
    rows = list(sealed_rows(book))
    files = _files(book, rows)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.iterdir()):
            raise AlreadyThere(folder)
        for name, body in files.items():
            (folder / name).write_bytes(body)
    except OSError as fault:
        raise (Full if fault.errno == errno.ENOSPC else ReadOnly)(folder) from fault
    last = rows[-1] if rows else None
    return HandedOut(
        folder=str(folder),
        files=tuple(files),
        facts=last.number if last else 0,
        head=last.seal if last else "",
    )


def _files(book: Book, rows: Sequence[SealedRow]) -> dict[str, bytes]:
    zone = zone_of(book)
    entries = in_order(book.entries(), zone)
    register = read_register(entries, zone)
    opened = register.opened
    files = {"facts.csv": _csv(FACT_COLUMNS, _fact_lines(rows))}
    described: dict[str, Any] = {"facts.csv": list(FACT_COLUMNS)}
    for name, columns, lines in tables(register, entries):
        files[name] = _csv(columns, (tuple(_harmless(cell) for cell in line) for line in lines))
        described[name] = list(columns)
    files["schema.json"] = _json({"tables": described, "facts": _schemas()})
    files["README.txt"] = README.format(
        name=opened.name if opened else "an unnamed room",
        zone=opened.zone if opened else "UTC",
        invented=" Its data is invented, for demonstration." if opened and opened.invented else "",
    ).encode()
    head = rows[-1] if rows else None
    files["book.json"] = _json(
        {
            "facts": head.number if head else 0,
            "head": head.seal if head else "",
            "sha256": {name: hashlib.sha256(body).hexdigest() for name, body in files.items()},
        }
    )
    return files


def _schemas() -> dict[str, Any]:
    schemas, parts = msgspec.json.schema_components(
        KINDS.values(), ref_template="#/facts/$defs/{name}"
    )
    kinds = {
        kind: {"version": fact.version, "body": schema}
        for (kind, fact), schema in zip(KINDS.items(), schemas, strict=True)
    }
    return {"kinds": kinds, "$defs": parts}


def _json(value: object) -> bytes:
    return msgspec.json.format(msgspec.json.encode(value, order="sorted"), indent=2) + b"\n"


def _csv(columns: Sequence[str], lines: Iterable[Sequence[object]]) -> bytes:
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(columns)
    writer.writerows(lines)
    return out.getvalue().encode()


def _fact_lines(rows: Iterable[SealedRow]) -> Iterator[tuple[object, ...]]:
    for row in rows:
        subjects = msgspec.json.encode(row.subjects).decode()
        cells = row.cells()
        error = "" if row.clock_error_s is None else repr(row.clock_error_s)
        yield (*cells[:6], error, row.written, subjects, row.body, row.seal)


def _harmless(cell: object) -> object:
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in "=+-@\t\r" and cell else cell
