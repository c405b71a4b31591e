"""Files for the owner's eyes alone, written whole or not at all."""

import os
import tempfile
from pathlib import Path

from mancary.book.trouble import system_said_plainly


def put_private(path: Path, body: bytes) -> None:
    """Writes the file with mode 0600; whoever reads it meanwhile sees the old one or the new.

    Raises:
        BookTrouble: where it cannot be written.
    """
    with system_said_plainly(path):
        aside, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")  # 0600
        part = Path(name)
        try:
            with os.fdopen(aside, "wb") as out:
                out.write(body)
                out.flush()
                os.fsync(out.fileno())
            part.replace(path)
        except BaseException:
            part.unlink(missing_ok=True)
            raise
