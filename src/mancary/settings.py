"""Where the keeper's book lies, and where the page is served."""

import os
from pathlib import Path

from platformdirs import user_data_path

HOST = "127.0.0.1"
PORT = 8714
NETWORK_NAME = "mancary.local"
"""The name in the home network; RFC 6762 keeps .local for names told by the machines themselves."""


def book_path(named: Path | None = None) -> Path:
    """The book named on the command line, else MANCARY_BOOK, else the platform's data folder."""
    if named is not None:
        return named
    told = os.environ.get("MANCARY_BOOK")
    return Path(told) if told else user_data_path("mancary") / "stock.mancary"


def network_address() -> str:
    """Where a phone in the home network finds the pages, as it stands on labels."""
    return f"http://{NETWORK_NAME}:{PORT}"


def local_zone() -> str:
    """The name of this machine's time zone, UTC where it says none."""
    from tzlocal import get_localzone_name

    return get_localzone_name() or "UTC"


def demo_path() -> Path:
    """Where the demonstration book lies, apart from any real one."""
    return user_data_path("mancary") / "demo" / "fernhollow.mancary"
