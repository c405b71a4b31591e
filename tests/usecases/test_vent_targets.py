"""Whose word on the air of a box counts: what is said now, the keeper's own figure, the page."""

import pytest

from mancary.book import Book
from mancary.husbandry.vent_choices import Target
from mancary.usecases.figures import choose_figure
from mancary.usecases.pen import Pen
from mancary.usecases.vent_targets import OWN_FIGURE, Wanted, target_of

SPECIES = "porcellio-scaber"
NOTHING = Wanted()


def choose(book: Book, pen: Pen, low: float | None, high: float | None, **scopes: str) -> None:
    choose_figure(book, OWN_FIGURE, low=low, high=high, why="", scopes=scopes, pen=pen)


def target(book: Book, wanted: Wanted = NOTHING, species: str = SPECIES, line: str = "") -> Target:
    return target_of(book, wanted, species, line=line)[0]


def test_the_keepers_own_range_goes_before_the_handbooks_class(book: Book, pen: Pen) -> None:
    assert "ventilation" in target(book).said
    choose(book, pen, 60, 90, species=SPECIES)
    told = target(book)
    assert (told.low, told.high) == (60, 90)
    assert told.said == "60 to 90 air changes a day, yours, for this species"
    assert told.basis == "your own figure"


def test_the_nearest_choice_holds_and_given_back_the_next(book: Book, pen: Pen) -> None:
    choose(book, pen, 20, 30)
    choose(book, pen, 60, 90, species=SPECIES)
    assert target(book).low == 60
    assert target(book, species="").said.endswith("yours, for all boxes")
    choose(book, pen, None, None, species=SPECIES)
    assert target(book).low == 20


def test_one_number_counts_as_met_within_a_fifth(book: Book, pen: Pen) -> None:
    choose(book, pen, 40, None, species=SPECIES)
    told = target(book)
    assert (told.low, told.high) == pytest.approx((32, 50))
    assert "a fifth either way" in told.basis


def test_what_is_said_now_goes_before_the_own_figure(book: Book, pen: Pen) -> None:
    choose(book, pen, 60, 90, species=SPECIES)
    assert "named by you" in target(book, Wanted(ventilation="low")).said
    assert target(book, Wanted(ml_a_week=5)).measure == "ml_a_week"
    assert target(book, species="porcellionides-pruinosus").low != 60
