"""A springtail culture in `grow`: days and shares are those of the handbook's published rates."""

from datetime import date

import pytest

from mancary.book import Book
from mancary.handbook.culture import culture_growth, first_taking_days
from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.culture import culture_in
from mancary.usecases.grow import grow
from mancary.usecases.pen import Pen
from mancary.usecases.record import write


@pytest.fixture
def cultures(book: Book, pen: Pen) -> Book:
    for box, species, begun in (
        ("K1", "folsomia-candida", "2026-01-05"),
        ("K2", "folsomia-candida", "2026-10-20"),
        ("A1", "porcellio-scaber", "2026-01-05"),
    ):
        set_up.describe_box(book, box, litres=1.5, shelf="S1", pen=pen, happened=begun)
        colony_work.found(book, box, species, as_bought=species, pen=pen, happened=begun)
    return book


def warm(book: Book, pen: Pen, temp_c: float) -> None:
    write(
        book,
        [ShelfRead(shelf="S1", lowest_c=temp_c, highest_c=temp_c)],
        pen=pen,
        happened="2026-10-25",
    )


def test_a_culture_tells_its_doubling_and_what_may_go(cultures: Book, pen: Pen) -> None:
    warm(cultures, pen, 20.0)
    found = culture_in(cultures, "K1", on=date(2026, 11, 1))
    assert found is not None
    low, high = culture_growth(20.0).doubling_days
    assert found.doubling_days == (round(low, 1), round(high, 1))
    assert found.weekly_share == pytest.approx(0.3)
    assert not any("take nothing" in one for one in found.said)
    assert culture_in(cultures, "A1", on=date(2026, 11, 1)) is None


def test_a_young_culture_is_left_alone(cultures: Book, pen: Pen) -> None:
    warm(cultures, pen, 20.0)
    young = culture_in(cultures, "K2", on=date(2026, 11, 1))
    assert young is not None
    assert any("Begun 12 days ago" in one and "24 to 32 days" in one for one in young.said)


def test_a_cold_culture_does_not_grow(cultures: Book, pen: Pen) -> None:
    warm(cultures, pen, 2.0)
    cold = culture_in(cultures, "K1", on=date(2026, 11, 1))
    assert cold is not None
    assert cold.weekly_share == 0
    assert cold.doubling_days == (None, None)
    assert "nothing grows" in cold.said[0]


def test_first_eggs_of_a_culture_wait_for_warmth() -> None:
    """9 days to hatching, 16 to 22 more to the first eggs at 20 °C, 15 days to hatching at 15 °C
    (through a database): speed 0.6, so 41 to 53 days; within the 15 % its warmth is known to."""
    soonest, latest = first_taking_days(20.0)
    assert (soonest, latest) == (24, 32)
    cool_soonest, cool_latest = first_taking_days(15.0)
    assert cool_soonest == pytest.approx(24 / 0.6, rel=0.15)
    assert cool_latest == pytest.approx(32 / 0.6, rel=0.15)
    assert cool_soonest != pytest.approx(24, rel=0.15)
    assert first_taking_days(4.0) == (float("inf"), float("inf"))


def test_grow_sends_a_culture_where_it_is_told(cultures: Book) -> None:
    with pytest.raises(Refusal, match="mancary grow K1"):
        grow(cultures, "K1", on=date(2026, 11, 1))
