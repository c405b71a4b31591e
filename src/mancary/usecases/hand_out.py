"""The hand-out: the whole book as plain files that any program reads."""

import csv
import hashlib
import io
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

import msgspec
from msgspec import Struct

from mancary.book import Book
from mancary.book.pictures import carry, folder_of
from mancary.book.transfer import CELLS, SealedRow, sealed_rows
from mancary.book.trouble import AlreadyThere, system_said_plainly
from mancary.husbandry.facts import KINDS
from mancary.husbandry.order import in_order
from mancary.husbandry.register import read_register
from mancary.husbandry.sentences import plain
from mancary.usecases.hand_out_tables import tables
from mancary.usecases.pictures import PICTURES, pictures_in
from mancary.usecases.zone import zone_of

_FORMULA: Final = "=+-@\t\r\n＝＋－＠"

FACT_COLUMNS: Final = (*CELLS[:-1], "subjects", CELLS[-1], "seal")

README: Final = """\
This folder is the whole stock book of {name}, as plain files.{invented}

facts.csv    every fact in the order of writing; lossless. Taking this folder into an empty book
             gives the same book again, seal by seal.
*.csv        the same in everyday tables, for a spreadsheet; made from facts.csv. A cell that would
             start a formula has an apostrophe before it.
pictures/    the pictures of the boxes, each named by the SHA-256 of what it holds; pictures.csv
             says of which box. One that is not there was not to be had when this was written.
schema.json  what each column and each kind of fact holds (JSON Schema 2020-12).
book.json    how many facts there are, the seal of the last, and the SHA-256 of each file.

CSV as in RFC 4180, UTF-8, a heading line first. Times are ISO 8601: an instant ends in Z (UTC);
a bare day, month or year is known no more exactly than that, in the zone {zone}.
It holds all that was written, names and places included: look through it before you give it away.
The seal of a fact is the SHA-256 of: the seal before it, a line feed, and the JSON array of number,
id, kind, version, happened, typed, clock_error_s, written, body, sorted subjects.
"""


class HandedOut(Struct, frozen=True, kw_only=True):
    """What was written: the folder, its files, how many facts, the seal of the last."""

    folder: str
    files: tuple[str, ...]
    pictures: int
    pictures_missing: tuple[str, ...]
    facts: int
    head: str


def hand_out(book: Book, folder: Path) -> HandedOut:
    """Writes the book into an empty or new folder; the same book gives the same bytes.

    Raises:
        BookTrouble: when the folder holds something already or cannot be written.
    """
    with system_said_plainly(folder):
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise AlreadyThere(folder)
    with book.one_moment():
        rows = list(sealed_rows(book))
        files = _files(book, rows)
    names = pictures_in(book)
    with system_said_plainly(folder):
        missing = _written(folder, files, names, folder_of(book.path))
    last = rows[-1] if rows else None
    return HandedOut(
        folder=str(folder),
        files=tuple(files),
        pictures=len(names) - len(missing),
        pictures_missing=missing,
        facts=last.number if last else 0,
        head=last.seal if last else "",
    )


def _written(
    folder: Path, files: dict[str, bytes], pictures: Sequence[str], source: Path
) -> tuple[str, ...]:
    """All files beside their place first, so that a folder that stands there is whole."""
    folder.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=folder.parent, prefix=f".{folder.name}.") as aside:
        part = Path(aside) / "part"
        part.mkdir()
        for name, body in files.items():
            (part / name).write_bytes(body)
        missing = tuple(carry(pictures, source, part / PICTURES))
        if folder.exists():
            folder.rmdir()
        part.rename(folder)
    return missing


def _files(book: Book, rows: Sequence[SealedRow]) -> dict[str, bytes]:
    zone = zone_of(book)
    entries = in_order(book.entries(), zone)
    register = read_register(entries, zone)
    opened = register.opened
    files = {"facts.csv": _csv(FACT_COLUMNS, _fact_lines(rows))}
    described: dict[str, Any] = {"facts.csv": list(FACT_COLUMNS)}
    for name, columns, lines in tables(register, entries):
        files[name] = _csv(columns, (tuple(harmless(cell) for cell in line) for line in lines))
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
    return (
        msgspec.json.format(msgspec.json.encode(value, order="sorted", enc_hook=plain), indent=2)
        + b"\n"
    )


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


def harmless(cell: object) -> object:
    """A cell for a spreadsheet; one that would start a formula has an apostrophe before it."""
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in _FORMULA and cell else cell
