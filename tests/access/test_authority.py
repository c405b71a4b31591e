"""The book's authority, judged by OpenSSL and by cryptography's own verifier (RFC 5280)."""

import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import load_pem_private_key
from cryptography.x509.oid import ExtendedKeyUsageOID
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from mancary.access.authority import (
    Authority,
    authority_path,
    kept_authority,
    kept_leaf,
    leaf_path,
    make_authority,
    make_leaf,
)
from mancary.access.fingerprints import fingerprint
from mancary.access.tls import Vouching
from mancary.book import BookTrouble

NAMES = ("mancary.local", "localhost")
HOME = ("192.168.1.5", "127.0.0.1")
NOW = datetime.now(UTC).replace(microsecond=0)


@pytest.fixture(scope="module")
def authority() -> Authority:
    return make_authority(NAMES, NOW)


def openssl_takes(authority: Authority, leaf: bytes, asked: str) -> bool:
    """A handshake in memory, as a phone that trusts the authority and nobody else does it."""
    phone = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    phone.load_verify_locations(cadata=authority.der)
    return shakes_hands(phone, leaf, asked)


def shakes_hands(phone: ssl.SSLContext, leaf: bytes, asked: str) -> bool:
    import tempfile

    here = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    with tempfile.NamedTemporaryFile(suffix=".pem") as held:
        held.write(leaf)
        held.flush()
        here.load_cert_chain(held.name)
    up, down = ssl.MemoryBIO(), ssl.MemoryBIO()
    one = phone.wrap_bio(down, up, server_hostname=asked)
    other = here.wrap_bio(up, down, server_side=True)
    for _ in range(4):
        for side in (one, other):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
            except ssl.SSLCertVerificationError:
                return False
    return one.version() is not None


@pytest.mark.parametrize("asked", ["mancary.local", "localhost", "192.168.1.5", "127.0.0.1"])
def test_openssl_takes_this_machine(authority: Authority, asked: str) -> None:
    leaf = make_leaf(authority, NAMES, HOME, NOW)
    assert openssl_takes(authority, leaf, asked)


@pytest.mark.parametrize(
    ("names", "addresses", "asked"),
    [
        (("example.org",), (), "example.org"),
        (("mancary.local", "example.org"), (), "mancary.local"),
        (("mancary.local",), ("8.8.8.8",), "8.8.8.8"),
        (("mancary.local",), (), "other.local"),
    ],
)
def test_openssl_takes_nothing_else_from_the_same_authority(
    authority: Authority, names: tuple[str, ...], addresses: tuple[str, ...], asked: str
) -> None:
    """RFC 5280, 4.2.1.10: each name of the certificate must lie within what is permitted."""
    assert not openssl_takes(authority, make_leaf(authority, names, addresses, NOW), asked)


def test_another_authority_of_the_same_make_is_not_taken(authority: Authority) -> None:
    leaf = make_leaf(make_authority(NAMES, NOW), NAMES, HOME, NOW)
    assert not openssl_takes(authority, leaf, "mancary.local")


def test_an_authority_may_make_no_other_authority(authority: Authority) -> None:
    known = authority.certificate.extensions
    limits = known.get_extension_for_class(x509.BasicConstraints)
    assert limits.critical
    assert limits.value == x509.BasicConstraints(ca=True, path_length=0)
    assert known.get_extension_for_class(x509.NameConstraints).critical


def test_a_second_verifier_agrees_on_the_leaf(authority: Authority) -> None:
    chain = x509.load_pem_x509_certificates(make_leaf(authority, NAMES, HOME, NOW))
    build = PolicyBuilder().store(Store([authority.certificate])).time(NOW)
    build.build_server_verifier(x509.DNSName("mancary.local")).verify(chain[0], [])
    with pytest.raises(VerificationError):
        build.build_server_verifier(x509.DNSName("example.org")).verify(chain[0], [])
    later = PolicyBuilder().store(Store([authority.certificate])).time(NOW + timedelta(days=31))
    with pytest.raises(VerificationError):
        later.build_server_verifier(x509.DNSName("mancary.local")).verify(chain[0], [])


def test_the_leaf_is_as_short_as_systems_ask(authority: Authority) -> None:
    """At most 825 days and made for servers (Apple, requirements for trusted certificates)."""
    leaf = x509.load_pem_x509_certificate(make_leaf(authority, NAMES, HOME, NOW))
    assert leaf.not_valid_after_utc - leaf.not_valid_before_utc <= timedelta(days=32)
    usage = leaf.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert ExtendedKeyUsageOID.SERVER_AUTH in usage


def test_files_are_for_the_owner_alone_and_kept(tmp_path: Path) -> None:
    book = tmp_path / "room.mancary"
    made = kept_authority(book, NAMES, NOW)
    leaf = kept_leaf(book, made, NAMES, HOME, NOW)
    for path in (authority_path(book), leaf_path(book)):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    again = kept_authority(book, NAMES, NOW)
    assert again.der == made.der
    first = leaf.read_bytes()
    assert kept_leaf(book, again, NAMES, HOME, NOW).read_bytes() == first
    load_pem_private_key(authority_path(book).read_bytes(), None)
    assert b"PRIVATE" not in made.der


def test_a_leaf_is_made_anew_in_time_and_for_new_addresses(tmp_path: Path) -> None:
    book = tmp_path / "room.mancary"
    made = kept_authority(book, NAMES, NOW)
    first = kept_leaf(book, made, NAMES, HOME, NOW).read_bytes()
    early = kept_leaf(book, made, NAMES, HOME, NOW + timedelta(days=14)).read_bytes()
    assert early == first
    late = kept_leaf(book, made, NAMES, HOME, NOW + timedelta(days=16)).read_bytes()
    assert late != first
    moved = kept_leaf(book, made, NAMES, (*HOME, "10.0.0.9"), NOW + timedelta(days=16))
    assert moved.read_bytes() != late


def test_an_authority_that_ends_soon_is_made_anew(tmp_path: Path) -> None:
    book = tmp_path / "room.mancary"
    made = kept_authority(book, NAMES, NOW)
    assert kept_authority(book, NAMES, NOW + timedelta(days=3600)).der == made.der
    assert kept_authority(book, NAMES, NOW + timedelta(days=3640)).der != made.der


def test_a_spoilt_file_is_said_and_left_alone(tmp_path: Path) -> None:
    book = tmp_path / "room.mancary"
    authority_path(book).write_text("nothing of the kind")
    with pytest.raises(BookTrouble, match="Move it away"):
        kept_authority(book, NAMES, NOW)
    assert authority_path(book).read_text() == "nothing of the kind"


def test_the_open_door_takes_a_new_certificate(tmp_path: Path) -> None:
    days = [0]
    held = Vouching(
        tmp_path / "room.mancary",
        "mancary.local",
        ["192.168.1.5"],
        lambda: NOW + timedelta(days=days[0]),
    )
    before = leaf_path(tmp_path / "room.mancary").read_bytes()
    days[0] = 20
    held.renew()
    assert leaf_path(tmp_path / "room.mancary").read_bytes() != before


def test_the_fingerprint_is_that_of_the_certificate(authority: Authority) -> None:
    """As x509 counts it: SHA-256 over the whole certificate (cryptography's own fingerprint)."""
    from cryptography.hazmat.primitives.hashes import SHA256

    told = authority.certificate.fingerprint(SHA256()).hex()
    assert fingerprint(authority.der).replace(":", "").lower() == told
