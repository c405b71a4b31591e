"""Sets a template and its words as PDF: the words go in as data and never as markup."""

from datetime import UTC, date, datetime
from pathlib import Path

import msgspec
from msgspec import Struct

from mancary.husbandry.sentences import plain

_HERE = Path(__file__).parent


class Typeset(Struct, frozen=True):
    """``accessible`` tells that the file holds to PDF/UA-1; ``borrowed`` that its letters are not
    all from the fonts that come with the typesetter, so another machine may set it otherwise.
    """

    pdf: bytes
    accessible: bool
    borrowed: bool


def typeset(template: str, words: object, *, day: date) -> Typeset:
    """The PDF of a template of this package with ``words`` as its data; same input, same bytes.

    Letters that the typesetter's own fonts lack are looked for in the machine's. A letter that is
    in neither is printed as an empty frame, and the file then does not claim to be PDF/UA-1.
    """
    import typst  # 30 MB, and few calls print

    data = msgspec.json.encode(words, enc_hook=plain).decode()
    made = datetime(day.year, day.month, day.day, tzinfo=UTC)

    def compiled(*, own_fonts_only: bool, accessible: bool) -> bytes:
        return typst.compile(
            _HERE / template,
            root=_HERE,
            ignore_system_fonts=own_fonts_only,
            format="pdf",
            sys_inputs={"data": data},
            pdf_standards=["ua-1"] if accessible else [],
            timestamp=made,
        )

    for own_fonts_only in (True, False):
        try:
            pdf = compiled(own_fonts_only=own_fonts_only, accessible=True)
        except typst.TypstError as fault:
            if "could not be displayed" not in str(fault):
                raise
        else:
            return Typeset(pdf, accessible=True, borrowed=not own_fonts_only)
    return Typeset(
        compiled(own_fonts_only=False, accessible=False), accessible=False, borrowed=True
    )


def printable(text: str) -> str:
    """The text on one line, without letters that steer a terminal or turn the writing round."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
