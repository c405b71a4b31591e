"""The small room that the tests of the round share."""

import pytest

from mancary.book import Book
from mancary.husbandry.facts import CareGiven
from mancary.usecases import colony_work, set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import write

SPECIES = ("porcellio-scaber", "armadillidium-vulgare", "cubaris-sp-soil", "porcellio-expansus")


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    """Twelve boxes on three shelves, settled a year ago, fed three weeks ago."""
    fed = []
    for number in range(12):
        box, species = f"B{number:02}", SPECIES[number % 4]
        set_up.describe_box(
            book, box, litres=3.0, shelf=f"S{number // 4}", pen=pen, happened="2025-10-01"
        )
        colony_work.found(book, box, species, as_bought=species, pen=pen, happened="2025-10-01")
        fed += [CareGiven(box=box, care=care) for care in ("mist", "protein", "vegetable")]
    write(book, fed, pen=pen, happened="2026-10-10")
    return book
