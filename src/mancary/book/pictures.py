"""The pictures of a book: files beside it, each named by the SHA-256 of what it holds.

A name says what the file must hold, so a picture is never changed in place, is kept once however
often it is sent, and a copy can be proven.
"""

import contextlib
import hashlib
import os
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

from mancary.book.trouble import system_said_plainly

SUFFIX: Final = ".jpg"
NAME: Final = re.compile(r"[0-9a-f]{64}\.jpg", re.ASCII)


def folder_of(book: Path) -> Path:
    """Where the pictures of a book stand: ``room.mancary`` has ``room.pictures`` beside it."""
    return book.with_suffix(".pictures")


def name_of(data: bytes) -> str:
    """The name of a picture with these bytes."""
    return hashlib.sha256(data).hexdigest() + SUFFIX


def keep(folder: Path, data: bytes) -> str:
    """Keeps a picture, whole or not at all, and gives its name.

    Raises:
        BookTrouble: when the folder cannot be written.
    """
    name = name_of(data)
    with system_said_plainly(folder):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if not holds(folder, name):
            part = folder / f".{name}.part"
            with part.open("wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            part.chmod(0o600)
            part.replace(folder / name)
            with contextlib.suppress(OSError):  # some systems cannot sync a folder
                opened = os.open(folder, os.O_RDONLY)
                try:
                    os.fsync(opened)
                finally:
                    os.close(opened)
    return name


def read(folder: Path, name: str) -> bytes | None:
    """A picture, or None where it is not there or is not what its name says."""
    if not NAME.fullmatch(name):
        return None
    try:
        data = (folder / name).read_bytes()
    except OSError:
        return None
    return data if name_of(data) == name else None


def holds(folder: Path, name: str) -> bool:
    """Whether the picture is there and is what its name says."""
    return read(folder, name) is not None


def carry(names: Iterable[str], source: Path, target: Path) -> Iterator[str]:
    """Copies pictures that the target has not yet, and yields the names of those not to be had.

    Raises:
        BookTrouble: when the target cannot be written.
    """
    for name in names:
        if holds(target, name):
            continue
        data = read(source, name)
        if data is None:
            yield name
        else:
            keep(target, data)
