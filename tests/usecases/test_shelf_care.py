"""One care of a whole shelf: every living box on it, none of the others."""

import pytest

from mancary.book import Book
from mancary.husbandry.facts import Amount, CareGiven, Weighed
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.shelf_care import boxes_on, care_for_shelf
from tests.conftest import NOON


@pytest.fixture
def shelves(book: Book, pen: Pen) -> Book:
    for code, shelf in (("B2", "B"), ("B1", "B"), ("B3", "B"), ("C1", "C"), ("B4", "B")):
        set_up.describe_box(book, code, litres=3.0, shelf=shelf, pen=pen, happened="2026-09-01")
        if code != "B4":  # a spare box
            colony_work.found(
                book, code, "porcellio-scaber", as_bought="x", pen=pen, happened="2026-09-01"
            )
    set_up.quarantine(book, "B3", why="new", until=None, pen=pen)
    return book


def test_all_of_a_shelf_means_its_colonies_out_of_quarantine(shelves: Book, pen: Pen) -> None:
    recorded = care_for_shelf(shelves, "b", "mist", on=None, pen=pen)
    facts = [entry.fact for entry in recorded.entries]
    assert facts == [CareGiven(box="B1", care="mist"), CareGiven(box="B2", care="mist")]


def test_a_day_gone_by_is_written_as_that_day(shelves: Book, pen: Pen) -> None:
    day = NOON.date().replace(month=10, day=20)
    recorded = care_for_shelf(shelves, "C", "leaf litter", on=day, pen=pen)
    assert [entry.happened for entry in recorded.entries] == ["2026-10-20"]


@pytest.mark.parametrize(
    ("shelf", "care", "said"),
    [("Z", "mist", "No box with a colony stands on shelf 'Z'"), ("B", "hoover", "is no care")],
)
def test_a_shelf_or_care_that_is_not_known_writes_nothing(
    shelves: Book, pen: Pen, shelf: str, care: str, said: str
) -> None:
    before = shelves.head()
    with pytest.raises(Refusal, match=said):
        care_for_shelf(shelves, shelf, care, on=None, pen=pen)
    assert shelves.head() == before
    assert boxes_on(shelves, "B", on=NOON.date()) == ["B1", "B2"]


def test_a_weighed_box_is_written_with_what_its_scale_told(shelves: Book, pen: Pen) -> None:
    """Else no later weighing could be compared with an earlier one."""
    told = [
        ("2026-09-01", Weighed(box="B1", gross_g=1462, mark="just_right")),
        ("2026-09-16", Weighed(box="B1", gross_g=1432, mark="too_dry")),
        ("2026-09-16", CareGiven(box="B1", care="mist", amount=Amount(low=30, unit="mL"))),
        ("2026-10-30", Weighed(box="B1", gross_g=1440)),
    ]
    for day, fact in told:
        write(shelves, [fact], pen=pen, happened=day)
    facts = [one.fact for one in care_for_shelf(shelves, "B", "mist", on=None, pen=pen).entries]
    amounts = {fact.box: fact.amount for fact in facts if isinstance(fact, CareGiven)}
    assert amounts["B2"] is None
    assert amounts["B1"] is not None
    assert 15 < amounts["B1"].low < 30  # 22 g under just right, two days' loss of some 2 g a day
