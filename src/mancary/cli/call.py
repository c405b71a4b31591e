"""What one call of the command line knows: the book it is about, and how to serve pages."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from msgspec import Struct

AS_JSON = "mancary.as_json"
"""Where a call keeps whether it was asked to answer as JSON."""


class Serving(Struct, frozen=True, kw_only=True):
    """Which book is served how; ``network`` lets the home network in, ``secure`` over HTTPS.

    ``today`` is the day the pages are for, the real one where it is left out.
    """

    path: Path
    port: int
    today: date | None = None
    network: bool = False
    secure: bool = False


Serve = Callable[[Serving], None]


class Call(Struct, frozen=True):
    """``book`` as named before the command; ``serve`` is handed in by the front door."""

    book: Path | None = None
    serve: Serve | None = None
