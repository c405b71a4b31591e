"""What one call of the command line knows: the book it is about, and how to serve pages."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from msgspec import Struct

AS_JSON = "mancary.as_json"
"""Where a call keeps whether it was asked to answer as JSON."""

Serve = Callable[[Path, int, date | None], None]


class Call(Struct, frozen=True):
    """``book`` as named before the command; ``serve`` is handed in by the front door."""

    book: Path | None = None
    serve: Serve | None = None
