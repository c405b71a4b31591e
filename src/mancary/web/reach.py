"""From where the pages can be reached: this machine alone, or the home network too."""

from ipaddress import ip_address
from typing import Final

from msgspec import Struct

OWN_NAMES: Final = frozenset({"127.0.0.1", "localhost", "[::1]"})
"""The names under which this machine speaks to itself."""


class Reach(Struct, frozen=True, kw_only=True):
    """``names`` are those of this machine in the home network, ``addresses`` as a phone types them.

    Empty where the pages are for this machine alone. ``secure`` where this door speaks HTTPS;
    ``authority`` is the certificate (DER) of the one that vouches for that door, if there is one.
    """

    names: frozenset[str] = frozenset()
    addresses: tuple[str, ...] = ()
    secure: bool = False
    authority: bytes = b""

    @property
    def is_open(self) -> bool:
        """Whether the home network was let in."""
        return bool(self.names)

    def knows(self, host: str, client: str) -> bool:
        """Whether somebody asks under a name of this machine that is open to him.

        A page of another site that has its name pointed at this machine (DNS rebinding) still
        sends its own name, and is turned away; so is one in the network who says he is the desk.
        """
        if host in OWN_NAMES:
            return not self.is_open or is_own(client)
        return host in self.names

    def is_desk(self, host: str, client: str) -> bool:
        """Whether it is this machine itself that asks."""
        return host in OWN_NAMES and (not self.is_open or is_own(client))


def is_own(client: str) -> bool:
    """Whether an IP address is this machine's own, whatever the network."""
    try:
        return ip_address(client).is_loopback
    except ValueError:
        return False
