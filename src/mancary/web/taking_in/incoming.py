"""Sheets on their way in: kept beside the book, for its keeper only, until they are taken in."""

import hashlib
import os
import re
from datetime import datetime, timedelta
from pathlib import Path, PurePath
from typing import Final

from msgspec import Struct

from mancary.husbandry.refusal import UnknownSubject

MOST_BYTES: Final = 20_000_000
KEPT_DAYS: Final = 7
_NAME_LENGTH: Final = 120
_MARK: Final = re.compile(r"[0-9a-f]{64}")
_STRANGE: Final = re.compile(r"[\x00-\x1f\x7f]")


class Sheet(Struct, frozen=True):
    """A file as it came, under the SHA-256 of its bytes."""

    mark: str
    name: str
    data: bytes


class Incoming:
    """The folder ``BOOK.incoming``, made on first use with access for its owner alone."""

    def __init__(self, book: Path) -> None:
        self.folder = book.with_name(f"{book.name}.incoming")

    def keep(self, data: bytes, name: str) -> Sheet:
        """Puts a file down and gives it its mark."""
        mark = hashlib.sha256(data).hexdigest()
        plain = _STRANGE.sub("", PurePath(name.replace("\\", "/")).name)[:_NAME_LENGTH] or "sheet"
        self.folder.mkdir(mode=0o700, exist_ok=True)
        self._write(mark, data)
        self._write(f"{mark}.name", plain.encode())
        return Sheet(mark, plain, data)

    def _write(self, name: str, data: bytes) -> None:
        flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC
        with os.fdopen(os.open(self.folder / name, flags, 0o600), "wb") as file:
            file.write(data)

    def fetch(self, mark: str) -> Sheet:
        """A file that was put down.

        Raises:
            UnknownSubject: when it is there no longer, or never was.
        """
        try:
            if not _MARK.fullmatch(mark):
                raise FileNotFoundError
            data = (self.folder / mark).read_bytes()
            name = (self.folder / f"{mark}.name").read_text(encoding="utf-8")
        except FileNotFoundError:
            raise UnknownSubject("waiting sheet", mark[:12]) from None
        return Sheet(mark, name, data)

    def drop(self, mark: str) -> None:
        """Throws a file away; one that is gone already stays gone."""
        if _MARK.fullmatch(mark):
            (self.folder / mark).unlink(missing_ok=True)
            (self.folder / f"{mark}.name").unlink(missing_ok=True)

    def waiting(self, *, now: datetime) -> list[Sheet]:
        """The files put down in the last week; older ones are thrown away."""
        if not self.folder.is_dir():
            return []
        oldest = (now - timedelta(days=KEPT_DAYS)).timestamp()
        found = []
        for path in sorted(self.folder.glob("*.name")):
            mark = path.name.removesuffix(".name")
            if path.stat().st_mtime < oldest:
                self.drop(mark)
            elif _MARK.fullmatch(mark) and (self.folder / mark).is_file():
                found.append(Sheet(mark, path.read_text(encoding="utf-8"), b""))
        return found
