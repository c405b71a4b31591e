"""A label's QR code read back from a picture of it."""

import re
from io import BytesIO
from typing import Final
from urllib.parse import unquote

from PIL import Image, ImageOps, UnidentifiedImageError

from mancary.husbandry.refusal import Refusal

MOST_BYTES: Final = 25_000_000
_LONGEST_PX: Final = 2400
"""Ours: a label at arm's length fills enough of this, and reading takes a tenth of a second."""
_MOST_PX: Final = 80_000_000
_LABEL: Final = re.compile(r"https?://[^/?#]+/b/([^/?#]+)", re.IGNORECASE)


def texts_in(sent: bytes) -> list[str]:
    """The texts of all QR codes (ISO/IEC 18004) in a picture, the largest one first.

    Raises:
        Refusal: when it is no picture that is read here.
    """
    import zxingcpp

    if len(sent) > MOST_BYTES:
        raise Refusal(f"The picture has more than {MOST_BYTES / 1e6:.0f} MB. Take a smaller one.")
    try:
        with Image.open(BytesIO(sent), formats=("JPEG", "PNG", "WEBP")) as opened:
            if opened.width * opened.height > _MOST_PX:
                raise Refusal("The picture has more points than are read (80 million).")
            opened.draft("L", (_LONGEST_PX, _LONGEST_PX))
            grey = ImageOps.exif_transpose(opened).convert("L")
    except UnidentifiedImageError:
        raise Refusal("This is not a picture that is read here: JPEG, PNG or WebP.") from None
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as fault:
        raise Refusal(f"The picture cannot be read ({fault}). Take another one.") from None
    grey.thumbnail((_LONGEST_PX, _LONGEST_PX), Image.Resampling.BOX)
    found = zxingcpp.read_barcodes(
        grey, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    )
    return [one.text for one in sorted(found, key=lambda one: -_side(one.position))]


def _side(position: object) -> float:
    corners = [getattr(position, name) for name in ("top_left", "bottom_right")]
    return float(abs(corners[0].x - corners[1].x) + abs(corners[0].y - corners[1].y))


def box_on(text: str) -> str | None:
    """The code of the box a label's text leads to, whatever address the book had then."""
    found = _LABEL.fullmatch(text.strip())
    return unquote(found[1]) if found else None
