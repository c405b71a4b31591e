"""The machine in the home network: its addresses there, and its name told to all (RFC 6762)."""

import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from ipaddress import IPv4Network, ip_address
from typing import Final

HOME_NETWORKS: Final = tuple(map(IPv4Network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16")))
"""The networks anybody may have at home (RFC 1918, section 3)."""
_log = logging.getLogger(__name__)

SERVICE: Final = "_http._tcp.local."
"""The registered kind of service of a web page (RFC 6763)."""


def home_addresses() -> tuple[str, ...]:
    """The private IPv4 addresses of this machine (RFC 1918), those of the home network first."""
    import ifaddr

    found = {
        str(one.ip)
        for adapter in ifaddr.get_adapters()
        for one in adapter.ips
        if one.is_IPv4 and is_home(str(one.ip))
    }
    return tuple(sorted(found, key=_likeliest))


def is_home(address: str) -> bool:
    """Whether an address lies in a network of one's own, and is not this machine's to itself."""
    told = ip_address(address)
    return any(told in network for network in HOME_NETWORKS)


def _likeliest(address: str) -> tuple[int, str]:
    """Routers at home mostly give 192.168; 172.16 on are mostly a machine's own inner networks."""
    begins = ("192.168.", "10.", "")
    return next(n for n, start in enumerate(begins) if address.startswith(start)), address


@contextmanager
def announced(
    name: str, port: int, addresses: Sequence[str], *, interfaces: Sequence[str] = ()
) -> Iterator[bool]:
    """Tells the network the name (such as "mancary.local") while the block runs.

    Gives whether that could be done: not every network lets such tellings through, and another
    machine may have the name. Asks nothing of anybody outside the home network.
    """
    from zeroconf import Error, ServiceInfo, Zeroconf

    try:
        told = Zeroconf(interfaces=list(interfaces or addresses))
    except OSError as err:
        _log.info("The name was not told: %r", err)
        yield False
        return
    info = ServiceInfo(
        SERVICE,
        f"Mancary at {name.removesuffix('.local')}.{SERVICE}",
        port=port,
        server=f"{name}.",
        parsed_addresses=list(addresses),
        properties={"path": "/"},
    )
    try:
        try:
            told.register_service(info)
        except (Error, OSError) as err:
            _log.info("The name was not told: %r", err)
            yield False
        else:
            yield True
    finally:
        told.close()
