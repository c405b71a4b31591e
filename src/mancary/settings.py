"""Where the keeper's book lies, and where the page is served."""

import os
from pathlib import Path

from platformdirs import user_data_path

HOST = "127.0.0.1"
PORT = 8714


def book_path(named: Path | None = None) -> Path:
    """The book named on the command line, else MANCARY_BOOK, else the platform's data folder."""
    if named is not None:
        return named
    told = os.environ.get("MANCARY_BOOK")
    return Path(told) if told else user_data_path("mancary") / "stock.mancary"


def local_zone() -> str:
    """The name of this machine's time zone, UTC where it says none."""
    from tzlocal import get_localzone_name

    return get_localzone_name() or "UTC"


def demo_path() -> Path:
    """Where the demonstration book lies, apart from any real one."""
    return user_data_path("mancary") / "demo" / "fernhollow.mancary"
