"""Backups: whole, verified, the last few kept. And putting one back."""

from datetime import datetime
from glob import escape
from pathlib import Path
from typing import Final

import msgspec
from msgspec import Struct

from mancary.book import Book, BookTrouble, Head
from mancary.book.copies import copy_file, restore_file
from mancary.book.trouble import ReadOnly
from mancary.husbandry.refusal import Refusal

SUFFIX: Final = ".mancary"


class Backup(Struct, frozen=True, kw_only=True):
    """A verified copy: its file, its head, and what was cleared away."""

    file: str
    facts: int
    head: str
    removed: tuple[str, ...]


def back_up(book: Book, folder: Path, *, keep: int, now: datetime) -> Backup:
    """Writes a verified copy of the book into ``folder`` and keeps the last ``keep`` of them.

    Beside each copy stands a small JSON file with its count and head, for ``check --against``.
    Older copies are cleared away only after the new one is proven.

    Raises:
        Refusal: when fewer than one would be kept.
        BookTrouble: when the copy cannot be written or does not verify.
    """
    if keep < 1:
        raise Refusal(f"--keep {keep}: at least one backup is kept.")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise ReadOnly(folder) from fault
    target = _free_name(folder, book.path.stem, now)
    head = copy_file(book, target)
    _note(target, head)
    removed = _clear(folder, book.path.stem, keep)
    return Backup(file=str(target), facts=head.count, head=head.seal, removed=removed)


def _free_name(folder: Path, stem: str, now: datetime) -> Path:
    stamp = now.strftime("%Y%m%dT%H%M%S%fZ")
    return folder / f"{stem}-{stamp}{SUFFIX}"


def _note(target: Path, head: Head) -> None:
    body = msgspec.json.format(msgspec.json.encode({"facts": head.count, "head": head.seal}))
    target.with_suffix(".json").write_bytes(body + b"\n")


def _clear(folder: Path, stem: str, keep: int) -> tuple[str, ...]:
    stamp = "[0-9]" * 8 + "T" + "[0-9]" * 12 + "Z"
    copies = sorted(folder.glob(f"{escape(stem)}-{stamp}{SUFFIX}"))
    old = copies[:-keep]
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
    if not copy.is_file():
        raise BookTrouble(f"There is no backup at {copy}.")
    head = restore_file(copy, target)
    return Backup(file=str(target), facts=head.count, head=head.seal, removed=())
