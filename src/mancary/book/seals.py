"""The chain of seals: each row's hash covers the seal before it."""

import hashlib
from collections.abc import Sequence

import msgspec

_ENCODE = msgspec.json.Encoder().encode

FIRST = ""
"""What stands in for the seal before the first row."""


def seal(before: str, cells: Sequence[str | int | float | None], subjects: Sequence[str]) -> str:
    """SHA-256 (FIPS 180-4) in hex, over the seal before, a line feed, and a JSON array.

    ``cells`` are number, id, kind, version, happened, typed, clock_error_s, written and body, in
    that order; ``subjects`` are sorted.
    """
    row = _ENCODE((*cells, sorted(subjects)))
    return hashlib.sha256(before.encode() + b"\n" + row).hexdigest()
