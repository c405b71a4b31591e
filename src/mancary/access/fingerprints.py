"""What a keeper compares to know that a certificate came whole."""

from hashlib import sha256


def fingerprint(der: bytes) -> str:
    """SHA-256 of a certificate, in pairs, as systems show it."""
    return sha256(der).digest().hex(":").upper()
