"""How boxes, shelves, lines and the rest are named in the book."""

import re
import unicodedata
from typing import Annotated

from msgspec import Meta

from mancary.husbandry.refusal import Refusal

_CODE_PATTERN = r"^[^\W_][\w .\-/#+]{0,39}$"
_SLUG_PATTERN = r"^[a-z0-9][a-z0-9.\-]{0,95}$"
Code = Annotated[str, Meta(pattern=_CODE_PATTERN)]
Slug = Annotated[str, Meta(pattern=_SLUG_PATTERN)]
Words = Annotated[str, Meta(max_length=4000)]
Name = Annotated[str, Meta(min_length=1, max_length=200)]
LONGEST_CODE = 28
"""A label carries no more, and a colony's code is its first box's with a number behind it."""
_CODE = re.compile(_CODE_PATTERN)


def code(text: str, *, what: str = "box") -> str:
    """The code as it is stored: upper case, one space where several were typed.

    Raises:
        Refusal: when it is empty, too long, or holds characters a label cannot carry.
    """
    tidy = " ".join(unicodedata.normalize("NFC", text).split()).upper()
    if len(tidy) > LONGEST_CODE or not _CODE.match(tidy):
        raise Refusal(
            f"{text!r} cannot name a {what}: expected 1 to 28 letters, digits, spaces or . - / # +,"
            " a letter or digit first."
        )
    return tidy


def slug(text: str) -> str:
    """A plain name for addresses and files: "Cubaris sp. 'Soil'" is "cubaris-sp-soil".

    Raises:
        Refusal: when nothing of the text is left.
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    tidy = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:96]
    if not tidy:
        raise Refusal(f"{text!r} has no letters or digits to name it by.")
    return tidy


def natural(code: str) -> tuple[tuple[int, int, str], ...]:
    """A sort key under which A2 stands before A10."""
    return tuple(
        (0, int(part), "") if part.isdigit() else (1, 0, part)
        for part in re.findall(r"\d+|\D+", code)
    )
