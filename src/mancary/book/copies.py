"""Copies of the whole file by SQLite's own online backup, verified after writing."""

import contextlib
import os
import sqlite3
from pathlib import Path

from mancary.book.audit import audit
from mancary.book.book import Book, Head, open_book
from mancary.book.file import discard, refuse_leftovers
from mancary.book.trouble import AlreadyThere, BookTrouble, said_plainly, system_said_plainly


class BadCopy(BookTrouble):
    """A copy that does not hold what the book holds."""


def copy_file(book: Book, target: Path) -> Head:
    """A verified copy of the open book at ``target``, which must not exist; its head.

    The copy is written beside its place and linked there once it is proven, so a copy that stands
    there is whole, and nothing that came there meanwhile is overwritten.

    Raises:
        BookTrouble: when it cannot be written or does not verify.
    """
    part = target.with_name(f".{target.name}.part")
    with system_said_plainly(target):
        refuse_leftovers(target)
        discard(part)
        try:
            _copy(book, part)
            head = _verified(part, book.path)
            _settle(part, target)
        finally:
            with contextlib.suppress(OSError):
                discard(part)
    return head


def _copy(book: Book, part: Path) -> None:
    part.touch(mode=0o600)
    with said_plainly(part):
        out = sqlite3.connect(part, isolation_level=None)
        try:
            book.connection.backup(out)
            out.execute("PRAGMA journal_mode = DELETE")
        finally:
            out.close()


def _verified(part: Path, source: Path) -> Head:
    with open_book(part) as copy:
        found = audit(copy)
    if found.faults:
        raise BadCopy(f"The copy of {source} does not verify: {found.faults[0]} It was not kept.")
    return found.head


def _settle(part: Path, target: Path) -> None:
    with part.open("rb") as file:
        os.fsync(file.fileno())
    try:
        target.hardlink_to(part)
    except FileExistsError as fault:
        raise AlreadyThere(target) from fault
    part.unlink()
    with contextlib.suppress(OSError):  # some systems cannot sync a folder
        folder = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def restore_file(copy: Path, target: Path) -> Head:
    """Puts a verified copy at ``target``, which must not exist, nor the log of an old book there.

    Raises:
        BookTrouble: when the copy is not whole, or something stands at the target.
    """
    with system_said_plainly(target):
        target.parent.mkdir(parents=True, exist_ok=True)
    with open_book(copy) as book:
        head = copy_file(book, target)
    with said_plainly(target):
        db = sqlite3.connect(target, isolation_level=None)
        try:
            db.execute("PRAGMA journal_mode = WAL")
        finally:
            db.close()
    with open_book(target) as book:
        if book.head() != head:
            raise BadCopy(f"{target} does not hold what the backup holds.")
    return head
