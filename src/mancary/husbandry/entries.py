"""A fact as it is entered: with its id and its three times."""

import hashlib
from datetime import UTC, datetime

from msgspec import Struct

from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment

_MILLISECONDS = 48
_RANDOM_BYTES = 10


class Entry(Struct, frozen=True, kw_only=True):
    """One fact on its way into the book, or read from it.

    ``happened`` is known as exactly as its text says, ``typed`` is the instant on the device that
    made the id, ``clock_error_s`` how far that device's clock ran ahead of the book's (seconds,
    where known), ``written`` the instant on the book's own clock and ``number`` the order of
    writing (0 and empty before it is written).
    """

    id: str
    happened: Moment
    typed: Moment
    fact: Fact
    clock_error_s: float | None = None
    number: int = 0
    written: str = ""


def _dashed(number: int) -> str:
    text = f"{number:032x}"
    return f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}"


def new_id(*, now: datetime, chance: bytes) -> str:
    """A UUID of version 7 from an aware instant and ten random bytes.

    Source: RFC 9562 section 5.7 (48 bits of Unix milliseconds, version, 12 + 62 random bits).
    """
    if len(chance) != _RANDOM_BYTES:
        raise ValueError("an id needs ten random bytes")
    milliseconds = int(now.astimezone(UTC).timestamp() * 1000) & ((1 << _MILLISECONDS) - 1)
    random = int.from_bytes(chance, "big")
    rand_a = random >> 68
    rand_b = random & ((1 << 62) - 1)
    return _dashed(milliseconds << 80 | 0x7 << 76 | rand_a << 64 | 0b10 << 62 | rand_b)


def derived_id(text: str) -> str:
    """A UUID of version 8 made from content, so that the same row gives the same id.

    Source: RFC 9562 section 5.8 (custom content; here the first bits of a SHA-256).
    """
    digest = int.from_bytes(hashlib.sha256(text.encode()).digest()[:16], "big")
    digest &= ~(0xF << 76) & ~(0b11 << 62)
    return _dashed(digest | 0x8 << 76 | 0b10 << 62)
