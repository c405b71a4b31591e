"""The book's own small authority (RFC 5280): it vouches for this machine at home, and no other.

A phone that trusts it trusts it for nothing else: name constraints hold it to this machine's name
and to the networks one has at home, so a stolen key opens no other site.
"""

import datetime as dt
from collections.abc import Sequence
from ipaddress import IPv4Network, ip_address
from pathlib import Path
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from msgspec import Struct

from mancary.access.network import HOME_NETWORKS
from mancary.access.private_file import put_private
from mancary.book import BookTrouble
from mancary.book.trouble import system_said_plainly

TEN_YEARS: Final = dt.timedelta(days=3650)
LEAF_DAYS: Final = dt.timedelta(days=30)
"""Far below the 825 days that systems take from an authority of one's own (Apple 103769)."""
RENEWED_BEFORE: Final = dt.timedelta(days=15)
_CLOCKS_DIFFER: Final = dt.timedelta(days=1)
_OWN: Final = IPv4Network("127.0.0.0/8")


class AuthorityUnreadable(BookTrouble):
    def __init__(self, path: Path) -> None:
        super().__init__(
            f"{path} cannot be read: it should hold this book's own authority. Move it away to make"
            " a new one; phones then have to be given the new certificate."
        )


class Authority(Struct, frozen=True):
    """The authority's certificate and its key, which leaves this machine never."""

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey

    @property
    def der(self) -> bytes:
        """The certificate as phones take it, without the key."""
        return self.certificate.public_bytes(Encoding.DER)


def authority_path(book: Path) -> Path:
    """The file beside a book; neither a backup nor a hand-out holds it."""
    return book.with_name(f"{book.name}.authority.pem")


def leaf_path(book: Path) -> Path:
    """Where this machine's own certificate lies, with its key, as long as it is good."""
    return book.with_name(f"{book.name}.leaf.pem")


def kept_authority(book: Path, names: Sequence[str], now: dt.datetime) -> Authority:
    """The authority of a book, made where there is none or where it is over.

    Raises:
        BookTrouble: where its file cannot be read or written.
    """
    path = authority_path(book)
    with system_said_plainly(path):
        pem = path.read_bytes() if path.exists() else b""
    if pem:
        held = _read(path, pem)
        if held.certificate.not_valid_after_utc > now + LEAF_DAYS:
            return held
    made = make_authority(names, now)
    put_private(path, made.certificate.public_bytes(Encoding.PEM) + _key_pem(made.key))
    return made


def _read(path: Path, pem: bytes) -> Authority:
    try:
        key = load_pem_private_key(pem, None)
        certificate = x509.load_pem_x509_certificate(pem)
    except (ValueError, TypeError):
        raise AuthorityUnreadable(path) from None
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        raise AuthorityUnreadable(path)
    return Authority(certificate, key)


def make_authority(names: Sequence[str], now: dt.datetime) -> Authority:
    """A new authority that may vouch for ``names`` and for addresses at home alone."""
    key = ec.generate_private_key(ec.SECP256R1())
    mark = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    called = _name(f"Mancary home authority {mark.digest.hex()[:8]}")
    may = [x509.DNSName(one) for one in names]
    nets = [x509.IPAddress(one) for one in (*HOME_NETWORKS, _OWN)]
    built = (
        _begun(key, subject=called, issuer=called, starts=now, ends=now + TEN_YEARS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints([*may, *nets], None), critical=True)
    )
    return Authority(built.sign(key, SHA256()), key)


def make_leaf(
    authority: Authority, names: Sequence[str], addresses: Sequence[str], now: dt.datetime
) -> bytes:
    """The certificate of this machine, the authority's behind it, and the key: one text in PEM."""
    key = ec.generate_private_key(ec.SECP256R1())
    alternatives: list[x509.GeneralName] = [x509.DNSName(one) for one in names]
    alternatives += [x509.IPAddress(ip_address(one)) for one in addresses]
    issuer = authority.certificate
    built = (
        _begun(
            key, subject=_name(names[0]), issuer=issuer.subject, starts=now, ends=now + LEAF_DAYS
        )
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()),
            critical=False,
        )
    )
    signed = built.sign(authority.key, SHA256())
    chain = signed.public_bytes(Encoding.PEM) + issuer.public_bytes(Encoding.PEM)
    return chain + _key_pem(key)


def kept_leaf(
    book: Path,
    authority: Authority,
    names: Sequence[str],
    addresses: Sequence[str],
    now: dt.datetime,
) -> Path:
    """The file of this machine's certificate; made anew where it ends soon or names are missing.

    Raises:
        BookTrouble: where it cannot be written.
    """
    path = leaf_path(book)
    if not _still_good(path, authority, (*names, *addresses), now):
        put_private(path, make_leaf(authority, names, addresses, now))
    return path


def _still_good(path: Path, authority: Authority, told: Sequence[str], now: dt.datetime) -> bool:
    try:
        held = x509.load_pem_x509_certificate(path.read_bytes())
        held.verify_directly_issued_by(authority.certificate)
        names = held.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except Exception:  # noqa: BLE001  whatever is wrong with it, a new one is made
        return False
    known = {str(one.value) for one in names}
    starts, ends = held.not_valid_before_utc, held.not_valid_after_utc
    return set(told) <= known and starts <= now and ends > now + RENEWED_BEFORE


def _begun(
    key: ec.EllipticCurvePrivateKey,
    *,
    subject: x509.Name,
    issuer: x509.Name,
    starts: dt.datetime,
    ends: dt.datetime,
) -> x509.CertificateBuilder:
    """What both certificates have; clocks that differ by a day take them all the same."""
    mark = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(starts - _CLOCKS_DIFFER)
        .not_valid_after(ends)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(mark, critical=False)
    )


def _name(common: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, common)])


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        encipher_only=False,
        decipher_only=False,
    )


def _key_pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
