"""The door over HTTPS: a context that holds this machine's certificate, renewed in time."""

import ssl
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from mancary.access.authority import Authority, kept_authority, kept_leaf


class Vouching:
    """``authority`` vouches for this machine in ``context``, which new connections are made with.

    Raises:
        BookTrouble: where a file of the authority cannot be read or written.
    """

    def __init__(
        self,
        book: Path,
        name: str,
        home: Sequence[str],
        clock: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        self._book, self._clock = book, clock
        self._names, self._addresses = (name, "localhost"), (*home, "127.0.0.1")
        self.authority: Authority = kept_authority(book, self._names, clock())
        self.context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        self.context.minimum_version = ssl.TLSVersion.TLSv1_2
        self.renew()

    def renew(self) -> None:
        """Takes a new certificate where the held one ends soon; open connections keep theirs."""
        leaf = kept_leaf(self._book, self.authority, self._names, self._addresses, self._clock())
        self.context.load_cert_chain(leaf)
