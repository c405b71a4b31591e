"""Backups: whole, verified, the last few kept. And putting one back."""

from datetime import datetime
from glob import escape
from pathlib import Path
from typing import Final

import msgspec
from msgspec import Struct

from mancary.book import Book, BookTrouble, Head, open_book
from mancary.book.copies import copy_file, restore_file
from mancary.book.pictures import carry, folder_of
from mancary.book.trouble import system_said_plainly
from mancary.husbandry.refusal import Refusal
from mancary.usecases.pictures import PICTURES, pictures_in

SUFFIX: Final = ".mancary"


class NoBackup(BookTrouble):
    """The file to be put back is not there."""

    exit_code = 66

    def __init__(self, path: Path) -> None:
        super().__init__(f"There is no backup at {path}.")


class Backup(Struct, frozen=True, kw_only=True):
    """A verified copy: its file, its head, and what was cleared away.

    ``pictures_missing`` are pictures the book speaks of that were not to be had.
    """

    file: str
    facts: int
    head: str
    removed: tuple[str, ...]
    pictures: int = 0
    pictures_missing: tuple[str, ...] = ()


def back_up(book: Book, folder: Path, *, keep: int, now: datetime) -> Backup:
    """Writes a verified copy of the book into ``folder`` and keeps the last ``keep`` of them.

    Beside each copy stands a small JSON file with its count and head, for ``check --against``. The
    pictures of all copies stand in one folder, each once; they are not cleared away.
    Older copies are cleared away only after the new one is proven.

    Raises:
        Refusal: when fewer than one would be kept.
        BookTrouble: when the copy cannot be written or does not verify.
    """
    if keep < 1:
        raise Refusal(f"--keep {keep}: at least one backup is kept.")
    with system_said_plainly(folder):
        folder.mkdir(parents=True, exist_ok=True)
    stem = f"{book.path.stem}-{_mark(book)}"
    target = folder / f"{stem}-{now.strftime('%Y%m%dT%H%M%S%fZ')}{SUFFIX}"
    head = copy_file(book, target)
    names = pictures_in(book)
    missing = tuple(carry(names, folder_of(book.path), folder / PICTURES))
    with system_said_plainly(target):
        _note(target, head)
        removed = _clear(folder, stem, keep, target)
    return Backup(
        file=str(target),
        facts=head.count,
        head=head.seal,
        removed=removed,
        pictures=len(names) - len(missing),
        pictures_missing=missing,
    )


def _mark(book: Book) -> str:
    """Eight letters that tell this book from another of the same file name."""
    first = next(book.entries(), None)
    return first.id[-8:] if first else "empty"


def _note(target: Path, head: Head) -> None:
    body = msgspec.json.format(msgspec.json.encode({"facts": head.count, "head": head.seal}))
    target.with_suffix(".json").write_bytes(body + b"\n")


def _clear(folder: Path, stem: str, keep: int, newest: Path) -> tuple[str, ...]:
    """Removes the oldest copies of this book beyond ``keep``, never the one just written."""
    stamp = "[0-9]" * 8 + "T" + "[0-9]" * 12 + "Z"
    copies = sorted(folder.glob(f"{escape(stem)}-{stamp}{SUFFIX}"))
    others = [copy for copy in copies if copy != newest]
    old = others[: max(0, len(others) - (keep - 1))]
    for copy in old:
        copy.unlink()
        copy.with_suffix(".json").unlink(missing_ok=True)
    return tuple(str(copy) for copy in old)


def noted_head(note: Path) -> Head:
    """The head in a JSON file that a backup or a hand-out wrote.

    Raises:
        Refusal: when it is not such a file.
    """
    try:
        told = msgspec.json.decode(note.read_bytes(), type=dict[str, object])
        count, seal = told["facts"], told["head"]
    except (OSError, msgspec.DecodeError, KeyError) as fault:
        raise Refusal(f"{note} does not hold the count and head of a book ({fault}).") from None
    if not isinstance(count, int) or not isinstance(seal, str):
        raise Refusal(f"{note} does not hold the count and head of a book.")
    return Head(count, seal)


def restore(copy: Path, target: Path) -> Backup:
    """Puts a backup back in place; nothing is overwritten.

    Raises:
        BookTrouble: when the copy is not whole or a book stands at the target.
    """
    with system_said_plainly(copy):
        if not copy.is_file():
            raise NoBackup(copy)
    head = restore_file(copy, target)
    with open_book(target) as book:
        names = pictures_in(book)
    missing = tuple(carry(names, copy.parent / PICTURES, folder_of(target)))
    return Backup(
        file=str(target),
        facts=head.count,
        head=head.seal,
        removed=(),
        pictures=len(names) - len(missing),
        pictures_missing=missing,
    )
