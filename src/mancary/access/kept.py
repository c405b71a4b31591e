"""Paired phones, passes and the password's hash: a file beside the book that travels with nothing.

Neither a backup nor a hand-out holds it. Of a token only its hash is kept, so the file lets nobody
in who reads it.
"""

import os
from collections.abc import Callable
from datetime import date
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import Final

import msgspec
from msgspec import Struct

from mancary.access.private_file import put_private
from mancary.book import BookTrouble
from mancary.book.trouble import system_said_plainly


class Phone(Struct, frozen=True, kw_only=True):
    """A phone that was paired; ``seen`` is the last day it asked for anything."""

    id: str
    name: str
    token: str
    paired: str
    seen: date


class Pass(Struct, frozen=True, kw_only=True):
    """A stand-in's pass for one absence: good until the day of coming back is over."""

    id: str
    name: str
    token: str
    leaving: date
    back: date
    made: str


class Access(Struct, frozen=True, kw_only=True):
    """All that the file holds."""

    password: str = ""
    phones: tuple[Phone, ...] = ()
    passes: tuple[Pass, ...] = ()


class AccessUnreadable(BookTrouble):
    def __init__(self, path: Path) -> None:
        super().__init__(
            f"{path} cannot be read: it should hold the paired phones. Move it away to begin anew;"
            " phones are then paired again."
        )


def hashed(token: str) -> str:
    """What is kept of a token: tokens are random, so a plain hash is enough (256 bits)."""
    return sha256(token.encode()).hexdigest()


def access_path(book: Path) -> Path:
    """The file beside a book."""
    return book.with_name(f"{book.name}.access.json")


_ONE_AT_A_TIME: Final = Lock()


def read_access(book: Path) -> Access:
    """What is kept for a book; empty where there is no such file.

    Raises:
        BookTrouble: where it cannot be read.
    """
    path = access_path(book)
    with system_said_plainly(path):
        try:
            body = path.read_bytes()
        except FileNotFoundError:
            return Access()
    try:
        return msgspec.json.decode(body, type=Access)
    except msgspec.MsgspecError:
        raise AccessUnreadable(path) from None


def change_access(book: Path, change: Callable[[Access], Access]) -> Access:
    """Reads, changes and writes the file whole, for the owner's eyes alone.

    Raises:
        BookTrouble: where it cannot be read or written.
    """
    with _ONE_AT_A_TIME, _locked(book):
        before = read_access(book)
        after = change(before)
        if after != before:
            put_private(access_path(book), msgspec.json.format(msgspec.json.encode(after)))
        return after


class _locked:  # noqa: N801  a context manager, read as a word
    """Other programs with the same book wait their turn, where the system knows such locks."""

    def __init__(self, book: Path) -> None:
        self._path = access_path(book).with_suffix(".lock")

    def __enter__(self) -> None:
        with system_said_plainly(self._path):
            self._held = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            import fcntl
        except ImportError:
            return
        fcntl.flock(self._held, fcntl.LOCK_EX)

    def __exit__(self, *_: object) -> None:
        os.close(self._held)
