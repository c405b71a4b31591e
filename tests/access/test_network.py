"""The name is told to the network, by a library that speaks RFC 6762, and heard by another ear."""

import socket
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack

import pytest
import zeroconf

from mancary.access.network import SERVICE, announced, home_addresses, is_home
from mancary.access.spoken import let_in_words

OWN = ["127.0.0.1"]


GROUP, PORT = "224.0.0.251", 5353
"""RFC 6762, section 3."""


def carries_group_words() -> bool:
    """Whether this machine hears on loopback what it says to the group: not every one does."""
    try:
        with ExitStack() as kept:
            ear = kept.enter_context(socket.socket(socket.AF_INET, socket.SOCK_DGRAM))
            ear.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            ear.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEPORT, 1)
            ear.bind(("", PORT))
            own = socket.inet_aton(OWN[0])
            joined = socket.inet_aton(GROUP) + own
            ear.setsockopt(socket.IPPROTO_IP, socket.IP_ADD_MEMBERSHIP, joined)
            ear.settimeout(2)
            mouth = kept.enter_context(socket.socket(socket.AF_INET, socket.SOCK_DGRAM))
            mouth.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, own)
            mouth.sendto(bytes(12), (GROUP, PORT))
            return len(ear.recv(64)) == 12
    except OSError:
        return False


def heard(name: str) -> zeroconf.ServiceInfo | None:
    ear = zeroconf.Zeroconf(interfaces=OWN)
    try:
        return ear.get_service_info(SERVICE, f"{name}.{SERVICE}", timeout=3000)
    finally:
        ear.close()


def test_the_name_is_heard_while_it_is_told_and_not_after(
    caplog: pytest.LogCaptureFixture,
) -> None:
    if not carries_group_words():
        pytest.skip("this machine's loopback carries no words to a group, so no name is heard")
    caplog.set_level("INFO", "mancary.access.network")
    # zeroconf would take the loop that a browser test left running in this thread, and wait on it
    with ThreadPoolExecutor(1) as apart:
        apart.submit(_heard_while_told, caplog).result()


def _heard_while_told(caplog: pytest.LogCaptureFixture) -> None:
    with announced("mancary-test.local", 8714, OWN, interfaces=OWN) as told:
        assert told, caplog.text
        found = heard("Mancary at mancary-test")
        assert found is not None
        assert (found.server, found.port) == ("mancary-test.local.", 8714)
        assert found.parsed_addresses() == OWN
    assert heard("Mancary at mancary-test") is None


def test_home_is_private_addresses_alone() -> None:
    """RFC 1918, section 3; 8.8.8.8 is anybody's, 169.254/16 no network of its own (RFC 3927),
    192.0.2.1 stands in examples only (RFC 5737)."""
    assert all(map(is_home, ("192.168.1.5", "10.0.0.7", "172.16.4.4")))
    assert not any(map(is_home, ("8.8.8.8", "127.0.0.1", "169.254.3.3", "172.32.0.1", "192.0.2.1")))
    assert all(map(is_home, home_addresses()))


def test_the_terminal_says_code_and_address() -> None:
    addresses = ("http://mancary.local:8714", "http://192.168.1.5:8714")
    said = let_in_words(addresses, "1234 5678", name_told=True)
    assert "1234 5678" in said
    assert "http://mancary.local:8714 or http://192.168.1.5:8714" in said
    assert "█" in said
    by_number = let_in_words(addresses, "1234 5678", name_told=False)
    assert "In the home network: http://192.168.1.5:8714" in by_number
