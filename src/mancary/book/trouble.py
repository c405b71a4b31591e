"""What can be wrong with the file, each said in a sentence with the code a program exits with."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class BookTrouble(Exception):
    """The book cannot be opened, read or written. Nothing was half-written."""

    exit_code = 74  # EX_IOERR, sysexits.h


class NoBook(BookTrouble):
    exit_code = 66  # EX_NOINPUT

    def __init__(self, path: Path) -> None:
        super().__init__(
            f"There is no book at {path}. Open one with: mancary --book {path} open 'NAME'"
        )


class AlreadyThere(BookTrouble):
    exit_code = 73  # EX_CANTCREAT

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path} is there already; it was left as it is.")


class NotABook(BookTrouble):
    exit_code = 65  # EX_DATAERR

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"{path} is not a whole Mancary book: {why}. It was left as it is.")


class TooNew(BookTrouble):
    exit_code = 65

    def __init__(self, path: Path, found: int, known: int) -> None:
        super().__init__(
            f"{path} was laid out by a newer Mancary (layout {found}, this one knows {known})."
            " Please use the newer one; the book was left as it is."
        )


class Busy(BookTrouble):
    exit_code = 75  # EX_TEMPFAIL

    def __init__(self, path: Path) -> None:
        super().__init__(
            f"{path} is being written by another program. Nothing was written; try again."
        )


class ReadOnly(BookTrouble):
    exit_code = 77  # EX_NOPERM

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path} (or its folder) may not be written by you. Nothing was written.")


class Full(BookTrouble):
    def __init__(self, path: Path) -> None:
        super().__init__(
            f"The disk that holds {path} is full. Nothing was written; make room and try again."
        )


class MovedOn(BookTrouble):
    exit_code = 75

    def __init__(self, path: Path) -> None:
        super().__init__(
            f"Something else was written into {path} at the same time. Nothing of this was written;"
            " look again, then try again."
        )


class Clash(BookTrouble):
    exit_code = 65

    def __init__(self, fact_id: str) -> None:
        super().__init__(
            f"The id {fact_id} is in the book already with other words. Nothing was written."
        )


_BY_CODE = {
    sqlite3.SQLITE_BUSY: Busy,
    sqlite3.SQLITE_LOCKED: Busy,
    sqlite3.SQLITE_READONLY: ReadOnly,
    sqlite3.SQLITE_PERM: ReadOnly,
    sqlite3.SQLITE_CANTOPEN: ReadOnly,
    sqlite3.SQLITE_FULL: Full,
}


@contextmanager
def said_plainly(path: Path) -> Iterator[None]:
    """Turns SQLite's own errors about the file into ours; a broken rule of ours stays loud."""
    try:
        yield
    except (sqlite3.OperationalError, sqlite3.DatabaseError) as fault:
        code = (getattr(fault, "sqlite_errorcode", 0) or 0) & 0xFF
        if code in _BY_CODE:
            raise _BY_CODE[code](path) from fault
        if code in (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT):
            raise NotABook(path, str(fault)) from fault
        if code == sqlite3.SQLITE_IOERR:
            raise BookTrouble(
                f"The disk that holds {path} answered with an error ({fault}). Nothing was written."
            ) from fault
        raise


def from_system(fault: OSError, path: Path) -> BookTrouble:
    """The system's own error about a file, in our words."""
    if fault.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return Full(path)
    if fault.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return ReadOnly(path)
    return BookTrouble(f"{path} cannot be reached ({fault.strerror}). Nothing was written.")


@contextmanager
def system_said_plainly(path: Path) -> Iterator[None]:
    """Turns the system's errors about files into ours."""
    try:
        yield
    except OSError as fault:
        raise from_system(fault, path) from fault
