"""A picture of a box: scaled down, without where it was taken, kept beside the book."""

from collections.abc import Sequence
from io import BytesIO
from typing import Final

from msgspec import Struct
from PIL import Image, ImageOps, UnidentifiedImageError

from mancary.book import Book
from mancary.book.pictures import folder_of, keep, name_of
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Pictured
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.usecases.pen import Pen
from mancary.usecases.record import known_box, write

PICTURES: Final = "pictures"
"""The folder of pictures within a hand-out or beside the backups."""
LONGEST_PX: Final = 1600
SMALL_PX: Final = 480
MOST_BYTES: Final = 25_000_000
_MOST_PX: Final = 80_000_000
"""Ours, below the limit of the library: a small file may claim to be far larger than it is."""
_FORMATS: Final = ("JPEG", "PNG", "WEBP")
_QUALITY: Final = 82


class Scaled(Struct, frozen=True, kw_only=True):
    """A JPEG as it is kept, and its size."""

    data: bytes
    width_px: int
    height_px: int


def scaled(sent: bytes, longest_px: int = LONGEST_PX) -> Scaled:
    """The picture turned upright, its longer side at most ``longest_px``, as a bare JPEG.

    Only the points of the picture and its colour profile are carried over: where and when it was
    taken and with what stays out (EXIF, CIPA DC-008; also XMP and comments).

    Raises:
        Refusal: when it is too large, is no picture, or of a kind that is not read.
    """
    if len(sent) > MOST_BYTES:
        raise Refusal(
            tell(
                "The picture has more than %(most_bytes).0f MB. Choose a smaller one.",
                most_bytes=MOST_BYTES / 1e6,
            )
        )
    try:
        with Image.open(BytesIO(sent), formats=_FORMATS) as opened:
            if opened.width * opened.height > _MOST_PX:
                raise Refusal(tell("The picture has more points than are read (80 million)."))
            profile = opened.info.get("icc_profile")
            opened.draft("RGB", (longest_px, longest_px))
            upright = ImageOps.exif_transpose(opened)
            upright.thumbnail((longest_px, longest_px), Image.Resampling.LANCZOS)
            bare = _on_white(upright)
    except UnidentifiedImageError:
        raise Refusal(
            tell(
                "This is not a picture that is read here: JPEG, PNG or WebP. A phone that"
                " takes HEIC can be set to take the most compatible kind, or a picture of the"
                " screen will do."
            )
        ) from None
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as fault:
        raise Refusal(
            tell("The picture cannot be read (%(fault)s). Choose another one.", fault=fault)
        ) from None
    out = BytesIO()
    bare.info.clear()  # what is left there, such as a comment, would be written again
    more = {"icc_profile": profile} if profile else {}
    bare.save(out, "JPEG", quality=_QUALITY, optimize=True, progressive=True, **more)
    return Scaled(data=out.getvalue(), width_px=bare.width, height_px=bare.height)


def _on_white(image: Image.Image) -> Image.Image:
    if "A" not in image.getbands() and "transparency" not in image.info:
        return image.convert("RGB")
    white = Image.new("RGBA", image.size, "white")
    white.alpha_composite(image.convert("RGBA"))
    return white.convert("RGB")


def attach(book: Book, typed: str, sent: bytes, *, pen: Pen, note: str = "") -> list[Entry]:
    """Keeps a picture of a box and writes it down; the file is on disk before the fact is.

    Raises:
        Refusal: when it is no picture; nothing is kept then.
        UnknownSubject: when there is no such box.
    """
    box = known_box(book, typed)
    small = scaled(sent)
    fact = Pictured(
        box=box, picture=name_of(small.data), width_px=small.width_px, height_px=small.height_px,
        note=note.strip(),
    )  # fmt: skip
    keep(folder_of(book.path), small.data)
    return list(write(book, [fact], pen=pen).entries)


def pictures_in(book: Book) -> tuple[str, ...]:
    """The names of all pictures the book speaks of, withdrawn ones too, each once."""
    facts = (entry.fact for entry in book.entries_of((Pictured.kind,)))
    return tuple(dict.fromkeys(fact.picture for fact in facts if isinstance(fact, Pictured)))


def pictures_said(carried: int, missing: Sequence[str]) -> str:
    """A sentence on the pictures that went along, begun with a space; none where there are none."""
    words = (
        (
            tell(" %(carried)s pictures went along.", carried=carried)
            if carried != 1
            else tell(" %(carried)s picture went along.", carried=carried)
        )
        if carried
        else ""
    )
    if missing:
        words += tell(
            " Not beside the book as they were, so left out: %(all)s.", all=in_a_row(", ", missing)
        )
    return words
