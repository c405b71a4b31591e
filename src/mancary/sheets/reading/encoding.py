"""Which encoding the bytes of a text file are in."""

import codecs

from mancary.husbandry.refusal import Refusal

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)
# Letters and signs a keeper's sheet in a western encoding holds; right readings have many of them.
_EXPECTED = frozenset("åäöüéèßÅÄÖÜÉøæØÆñçáíóúà×½¼¾°±²³–—’‘“”„…≈µ\u00a0")
_WESTERN = (("cp1252", "Windows-1252"), ("mac_roman", "Mac Roman"), ("latin-1", "Latin-1"))
_NUL_SHARE = 0.2
_BINARY = frozenset(range(32)) - {9, 10, 12, 13, 27}


def _expected_letters(data: bytes, encoding: str) -> int:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        return -1
    return sum(letter in _EXPECTED for letter in text if ord(letter) > 127)


def _western(data: bytes) -> tuple[str, str]:
    high = bytes(byte for byte in data if byte > 127)
    scores = {name: _expected_letters(high, name) for name, _ in _WESTERN}
    best = max(scores, key=lambda name: scores[name])
    if 2 * scores[best] >= len(high):
        return data.decode(best), dict(_WESTERN)[best]
    return _guessed(data)


def _guessed(data: bytes) -> tuple[str, str]:
    from charset_normalizer import from_bytes

    best = from_bytes(data[:200_000]).best()
    if best is None:
        raise Refusal("This file is neither text nor a workbook; expected CSV or XLSX.")
    try:
        return data.decode(best.encoding), best.encoding
    except UnicodeDecodeError:
        return data.decode(best.encoding, errors="replace"), best.encoding


def _utf16_without_mark(data: bytes) -> str | None:
    start = data[:4000]
    evens, odds = start[0::2].count(0), start[1::2].count(0)
    few, many = sorted((evens, odds))
    if len(data) % 2 or many < _NUL_SHARE * len(start) or few > many / 8:
        return None
    return "utf-16-be" if evens > odds else "utf-16-le"


def _refuse_binary(data: bytes) -> None:
    start = data[:20_000]
    if sum(byte in _BINARY for byte in start) > len(start) // 200:
        raise Refusal("This file is not text; expected a sheet saved as CSV or XLSX.")


def decoded(data: bytes) -> tuple[str, str]:
    """The text of the bytes and the encoding's name in words. UTF-8 wins wherever it fits.

    Raises:
        Refusal: when the bytes are no text.
    """
    for mark, encoding, name in _MARKS:
        if data.startswith(mark):
            return _strictly(data, encoding, name)
    if (wide := _utf16_without_mark(data)) is not None:
        return _strictly(data, wide, "UTF-16")
    _refuse_binary(data)
    try:
        return data.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError:
        return _western(data)


def _strictly(data: bytes, encoding: str, name: str) -> tuple[str, str]:
    try:
        return data.decode(encoding), name
    except UnicodeDecodeError as fault:
        raise Refusal(
            f"This file says it is {name} but is broken at byte {fault.start};"
            " save it again as CSV."
        ) from None
