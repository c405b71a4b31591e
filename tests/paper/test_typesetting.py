"""Letters the typesetter's fonts lack, and letters that steer."""

from mancary.book import Book
from mancary.husbandry.facts import BookOpened
from mancary.paper.round_sheet import round_sheet
from mancary.paper.typesetting import printable
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from tests.paper.conftest import SUNDAY


def test_letters_in_no_font_of_the_typesetter_still_give_a_sheet_that_says_so(
    room: Book, pen: Pen
) -> None:
    plain = round_sheet(room, on=SUNDAY, named=True)
    assert (plain.sheet.accessible, plain.sheet.borrowed) == (True, False)
    write(room, [BookOpened(name="虫の部屋", zone="Asia/Tokyo")], pen=pen)
    made = round_sheet(room, on=SUNDAY, named=True)
    assert made.sheet.borrowed
    assert made.sheet.pdf.startswith(b"%PDF-")
    # whether the machine has such a font is its own affair; the claim must follow it
    assert made.sheet.accessible == (b"pdfuaid:part" in made.sheet.pdf)


def test_letters_that_steer_are_no_longer_there() -> None:
    assert printable("a\x1b[31m\u202eb\nc\td") == "a [31m b c d"
    assert printable("Cubaris ‘Soil’ é") == "Cubaris ‘Soil’ é"
