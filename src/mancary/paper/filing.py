"""Puts a finished file where the keeper wants it, and never over something else."""

import os
import tempfile
from pathlib import Path

from mancary.book.trouble import AlreadyThere, BookTrouble, system_said_plainly


class InTheWay(AlreadyThere):
    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self.args = (f"{self} Name another file, or say --replace.",)


class NotAPdf(BookTrouble):
    exit_code = AlreadyThere.exit_code

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path} is no PDF and is not written over; it was left as it is.")


def may_be_written(path: Path, *, replace: bool) -> None:
    """Refuses early, before the work is done.

    Raises:
        BookTrouble: where something stands that is not to be replaced, or is no PDF.
    """
    with system_said_plainly(path):
        if not path.exists():
            return
        if not replace:
            raise InTheWay(path)
        with path.open("rb") as there:
            if there.read(5) not in (b"%PDF-", b""):
                raise NotAPdf(path)


def put_pdf(path: Path, pdf: bytes, *, replace: bool) -> None:
    """Writes the file whole or not at all.

    Raises:
        BookTrouble: where something stands in the way, or the place cannot be written.
    """
    may_be_written(path, replace=replace)
    with system_said_plainly(path):
        aside, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        part = Path(name)
        try:
            with os.fdopen(aside, "wb") as out:
                out.write(pdf)
            part.chmod(0o666 & ~_umask())
            part.replace(path)
        except BaseException:
            part.unlink(missing_ok=True)
            raise


def _umask() -> int:
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
