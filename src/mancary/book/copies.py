"""Copies of the whole file by SQLite's own online backup, verified after writing."""

import contextlib
import errno
import os
import sqlite3
from pathlib import Path

from mancary.book.audit import audit
from mancary.book.book import Book, Head, open_book
from mancary.book.trouble import AlreadyThere, BookTrouble, Full, ReadOnly, said_plainly


class BadCopy(BookTrouble):
    """A copy that does not hold what the book holds."""


def copy_file(book: Book, target: Path) -> Head:
    """A verified copy of the open book at ``target``, which must not exist; its head.

    The copy is written beside its place and moved there once it is proven, so a copy that stands
    there is whole.

    Raises:
        BookTrouble: when it cannot be written or does not verify.
    """
    if target.exists():
        raise AlreadyThere(target)
    part = target.with_name(f".{target.name}.part")
    try:
        _discard(part)
        _copy(book, part)
        head = _verified(part, book.path)
        _settle(part, target)
    except OSError as fault:
        raise _said(fault, target) from fault
    finally:
        with contextlib.suppress(OSError):
            _discard(part)
    return head


def _said(fault: OSError, target: Path) -> BookTrouble:
    if fault.errno in (errno.ENOSPC, errno.EDQUOT):
        return Full(target)
    return ReadOnly(target)


def _copy(book: Book, part: Path) -> None:
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
    part.replace(target)
    folder = os.open(target.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


def _discard(part: Path) -> None:
    for suffix in ("", "-wal", "-shm", "-journal"):
        Path(f"{part}{suffix}").unlink(missing_ok=True)


def restore_file(copy: Path, target: Path) -> Head:
    """Puts a verified copy at ``target``, which must not exist.

    Raises:
        BookTrouble: when the copy is not whole, or something stands at the target.
    """
    with open_book(copy) as book:
        target.parent.mkdir(parents=True, exist_ok=True)
        head = copy_file(book, target)
    with said_plainly(target):
        db = sqlite3.connect(target, isolation_level=None)
        try:
            db.execute("PRAGMA journal_mode = WAL")
        finally:
            db.close()
    return head
