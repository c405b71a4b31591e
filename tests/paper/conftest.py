"""A room for the sheet, and a reader of finished PDFs."""

import pypdfium2
import pytest

from mancary.book import Book
from mancary.husbandry.facts import CareGiven
from mancary.usecases import colony_work, set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from tests.conftest import NOON

SUNDAY = NOON.date()  # 1 November 2026
SPECIES = ("porcellio-scaber", "armadillidium-vulgare", "cubaris-sp-soil", "porcellio-expansus")


def pages(pdf: bytes) -> list[str]:
    """The text of each page, its line ends told as spaces."""
    with pypdfium2.PdfDocument(pdf) as document:
        found = []
        for page in document:
            read = page.get_textpage()
            found.append(" ".join(read.get_text_range().split()))
            read.close()
            page.close()
    return found


def text_of(pdf: bytes) -> str:
    return " ".join(pages(pdf))


def furnish(book: Book, pen: Pen, boxes: int) -> Book:
    """Boxes four to a shelf, settled a year ago, fed three weeks ago."""
    fed = []
    for number in range(boxes):
        box, species = f"B{number:02}", SPECIES[number % len(SPECIES)]
        set_up.describe_box(
            book, box, litres=3.0, shelf=f"S{number // 4}", pen=pen, happened="2025-10-01"
        )
        colony_work.found(book, box, species, as_bought=species, pen=pen, happened="2025-10-01")
        fed += [CareGiven(box=box, care=care) for care in ("mist", "protein", "vegetable")]
    write(book, fed, pen=pen, happened="2026-10-10")
    return book


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    """Twelve boxes on three shelves."""
    return furnish(book, pen, 12)


@pytest.fixture
def many(book: Book, pen: Pen) -> Book:
    """Ninety-six boxes on twenty-four shelves."""
    return furnish(book, pen, 96)
