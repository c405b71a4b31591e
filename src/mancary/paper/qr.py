"""QR codes (ISO/IEC 18004) of addresses, as SVG with the quiet zone around them."""

from typing import Final
from urllib.parse import quote

from msgspec import Struct

QUIET: Final = 4
"""Light modules around a code; ISO/IEC 18004 asks for four."""


class QrCode(Struct, frozen=True):
    """``modules`` is a side without its quiet zone; ``svg`` with it, one unit a module."""

    text: str
    modules: int
    svg: str


def label_text(address: str, box: str) -> str:
    """The text on a box's label: in capitals, which a code holds in five and a half bits each.

    The server takes such a path in either case. What a code of a box has beyond letters and digits
    is written in hundredths (RFC 3986), which are capitals too.
    """
    return f"{address.rstrip('/')}/B/{quote(box, safe='')}".upper()


def qr_code(text: str) -> QrCode:
    """The smallest code of level M that holds a text, of a higher level where that costs nothing.

    Raises:
        ValueError: for a text too long for any code.
    """
    import segno

    made = segno.make(text, error="m", micro=False, boost_error=True)
    rows = [bytes(row) for row in made.matrix]
    return QrCode(text=text, modules=len(rows), svg=_svg(rows))


def _svg(rows: list[bytes]) -> str:
    side = len(rows) + 2 * QUIET
    runs = "".join(
        f"M{start + QUIET} {y + QUIET}h{length}v1h-{length}z"
        for y, row in enumerate(rows)
        for start, length in _runs(row)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}">'
        f'<path fill="#fff" d="M0 0h{side}v{side}h-{side}z"/><path fill="#000" d="{runs}"/></svg>'
    )


def _runs(row: bytes) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if not dark:
            continue
        if found and sum(found[-1]) == x:
            found[-1] = (found[-1][0], found[-1][1] + 1)
        else:
            found.append((x, 1))
    return found
