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
from mancary.book.pictures import carry, folder_of
from mancary.book.rows import entry as entry_of_row
from mancary.book.transfer import SealedRow, append_sealed, checked_row, proven
from mancary.husbandry.facts import BookOpened, Pictured
from mancary.husbandry.refusal import Refusal
from mancary.usecases.hand_out import FACT_COLUMNS
from mancary.usecases.pictures import PICTURES


class HandOutTaken(Struct, frozen=True, kw_only=True):
    """How many facts the folder holds, how many were new, and whether the books are now equal.

    Left out is whose book the other was, where the facts came into another book.
    """

    facts_read: int
    facts_new: int
    facts_repeated: int
    facts_left_out: int
    identical: bool
    pictures_missing: tuple[str, ...] = ()


def is_hand_out(folder: Path) -> bool:
    """True for a folder that a hand-out wrote."""
    return (folder / "facts.csv").is_file() and (folder / "book.json").is_file()


def take_hand_out(
    book: Book, folder: Path, *, now: datetime, dry_run: bool = False
) -> HandOutTaken:
    """Takes in a hand-out after proving all its seals; all or nothing.

    A book that is empty, or a beginning of the same chain, goes on with the very same rows. Another
    book takes the facts it does not have yet, under its own numbers and seals, but not whose book
    the other was.

    Raises:
        Refusal: when the folder is not a whole hand-out.
        BookTrouble: when a seal does not fit or the book cannot be written.
    """
    rows = proven(_rows(folder))
    _unchanged(folder, rows)
    missing = () if dry_run else _pictures(book, folder, rows)
    head = book.head()
    same_chain = head.count <= len(rows) and (
        head.count == 0 or rows[head.count - 1].seal == head.seal
    )
    if same_chain:
        fresh, repeated = rows[head.count :], head.count
        if not dry_run and fresh:
            append_sealed(book, fresh)
    else:
        known = book.has(row.id for row in rows)
        fresh = [
            checked_row(row) for row in rows if row.id not in known and row.kind != BookOpened.kind
        ]
        repeated = len(known)
        _two_rooms(book, fresh)
        if not dry_run and fresh:
            book.append([entry_of_row(row.cells()) for row in fresh], written_at=now)
    return HandOutTaken(
        facts_read=len(rows),
        facts_new=len(fresh),
        facts_repeated=repeated,
        facts_left_out=len(rows) - len(fresh) - repeated,
        identical=same_chain,
        pictures_missing=missing,
    )


def _pictures(book: Book, folder: Path, rows: list[SealedRow]) -> tuple[str, ...]:
    """Carried over first, so that no fact stands in the book before its picture."""
    told = (msgspec.json.decode(row.body) for row in rows if row.kind == Pictured.kind)
    names = dict.fromkeys(str(one["picture"]) for one in told)
    return tuple(carry(names, folder / PICTURES, folder_of(book.path)))


def _two_rooms(book: Book, fresh: list[SealedRow]) -> None:
    """Refuses colonies of the same code that began apart: two rooms cannot be one book."""
    began = {"founded", "split"}
    coming = {
        subject
        for row in fresh
        if row.kind in began
        for subject in row.subjects
        if subject.startswith("colony:")
    }
    here = {f"colony:{code}" for code in book.subjects("colony")}
    if both := sorted(coming & here):
        names = ", ".join(subject.split(":", 1)[1] for subject in both[:5])
        raise Refusal(
            f"Both this book and the hand-out began colonies called {names}: two rooms cannot be"
            " one book. Take the hand-out into an empty one. Nothing was taken in."
        )


def _rows(folder: Path) -> Iterator[SealedRow]:
    try:
        text = (folder / "facts.csv").read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise Refusal(f"{folder / 'facts.csv'} cannot be read ({fault}).") from None
    csv.field_size_limit(max(csv.field_size_limit(), len(text) + 1))
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
