"""Taking a hand-out folder back in: an identical book, or the facts that are not there yet."""

import csv
import hashlib
import io
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import msgspec
from msgspec import Struct

from mancary.book import Book
from mancary.book.rows import entry as entry_of_row
from mancary.book.transfer import SealedRow, append_sealed, proven
from mancary.husbandry.refusal import Refusal
from mancary.usecases.hand_out import FACT_COLUMNS


class HandOutTaken(Struct, frozen=True, kw_only=True):
    """How many facts the folder holds, how many were new, and whether the books are now equal."""

    facts_read: int
    facts_new: int
    facts_repeated: int
    identical: bool


def is_hand_out(folder: Path) -> bool:
    """True for a folder that a hand-out wrote."""
    return (folder / "facts.csv").is_file() and (folder / "book.json").is_file()


def take_hand_out(
    book: Book, folder: Path, *, now: datetime, dry_run: bool = False
) -> HandOutTaken:
    """Takes in a hand-out after proving all its seals; all or nothing.

    A book that is empty, or a beginning of the same chain, goes on with the very same rows. Another
    book takes the facts it does not have yet, under its own numbers and seals.

    Raises:
        Refusal: when the folder is not a whole hand-out.
        BookTrouble: when a seal does not fit or the book cannot be written.
    """
    rows = proven(_rows(folder))
    _unchanged(folder, rows)
    head = book.head()
    same_chain = head.count <= len(rows) and (
        head.count == 0 or rows[head.count - 1].seal == head.seal
    )
    if same_chain:
        fresh = rows[head.count :]
        if not dry_run and fresh:
            append_sealed(book, fresh)
    else:
        known = book.has(row.id for row in rows)
        fresh = [row for row in rows if row.id not in known]
        if not dry_run and fresh:
            book.append([entry_of_row(row.cells()) for row in fresh], written_at=now)
    return HandOutTaken(
        facts_read=len(rows),
        facts_new=len(fresh),
        facts_repeated=len(rows) - len(fresh),
        identical=same_chain,
    )


def _rows(folder: Path) -> Iterator[SealedRow]:
    try:
        text = (folder / "facts.csv").read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise Refusal(f"{folder / 'facts.csv'} cannot be read ({fault}).") from None
    reader = csv.DictReader(io.StringIO(text, newline=""))
    if tuple(reader.fieldnames or ()) != FACT_COLUMNS:
        raise Refusal(f"{folder / 'facts.csv'} is not a hand-out's: its headings are others.")
    for cells in reader:
        try:
            yield SealedRow(
                number=int(cells["number"]),
                version=int(cells["version"]),
                clock_error_s=float(cells["clock_error_s"]) if cells["clock_error_s"] else None,
                subjects=tuple(msgspec.json.decode(cells["subjects"], type=list[str])),
                **{
                    name: cells[name]
                    for name in ("id", "kind", "happened", "typed", "written", "body", "seal")
                },
            )
        except (ValueError, TypeError, KeyError, msgspec.DecodeError) as fault:
            raise Refusal(
                f"{folder / 'facts.csv'}, line {reader.line_num}: {fault}. Nothing was taken in."
            ) from None


def _unchanged(folder: Path, rows: list[SealedRow]) -> None:
    try:
        told = msgspec.json.decode((folder / "book.json").read_bytes(), type=dict[str, object])
    except (OSError, msgspec.DecodeError) as fault:
        raise Refusal(f"{folder / 'book.json'} cannot be read ({fault}).") from None
    if told.get("facts") != len(rows) or (rows and told.get("head") != rows[-1].seal):
        raise Refusal(
            f"The hand-out in {folder} is not whole: book.json speaks of {told.get('facts')} facts,"
            f" facts.csv holds {len(rows)}. Nothing was taken in."
        )
    sums = told.get("sha256")
    expected = sums.get("facts.csv") if isinstance(sums, dict) else None
    found = hashlib.sha256((folder / "facts.csv").read_bytes()).hexdigest()
    if expected != found:
        raise Refusal(f"{folder / 'facts.csv'} was changed since it was handed out.")
