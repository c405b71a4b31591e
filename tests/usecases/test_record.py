"""Withdrawing and correcting: one step, and nothing disappears."""

import pytest

from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, CareGiven, SeenInBox
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.usecases.box_card import box_card
from mancary.usecases.pen import Pen
from mancary.usecases.record import correct, known_box, withdraw, withdraw_many, write
from mancary.usecases.standings import standing_of
from tests.conftest import NOON

ON = NOON.date()


@pytest.fixture
def a01(book: Book, pen: Pen) -> Book:
    write(book, [BoxDescribed(box="A01", litres=3.0)], pen=pen, happened="2026-01-01")
    return book


def test_a_withdrawn_fact_stays_readable_and_counts_no_more(a01: Book, pen: Pen) -> None:
    told = write(a01, [SeenInBox(box="A01", word="mites")], pen=pen).entries[0]
    assert "mites" in standing_of(a01, "A01").seen
    withdraw(a01, told.id, why="springtails, not mites", pen=pen)
    assert "mites" not in standing_of(a01, "A01").seen
    line = [one for one in box_card(a01, "A01", on=ON).time_line if one.id == told.id]
    assert line[0].withdrawn
    assert line[0].why_withdrawn == "springtails, not mites"
    assert a01.entry(told.id) is not None


def test_a_correction_withdraws_and_writes_anew_in_one_step(a01: Book, pen: Pen) -> None:
    wrong = CareGiven(box="A01", care="protein")
    told = write(a01, [wrong], pen=pen, happened="2026-10-01").entries[0]
    before = a01.head().count
    better = CareGiven(box="A01", care="vegetable")
    correct(a01, told.id, better, why="wrong button", pen=pen)
    assert a01.head().count == before + 2
    assert standing_of(a01, "A01").given == {"vegetable": "2026-10-01"}


def test_a_correction_that_does_not_fit_withdraws_nothing(a01: Book, pen: Pen) -> None:
    told = write(a01, [CareGiven(box="A01", care="protein")], pen=pen).entries[0]
    before = a01.head()
    bad = CareGiven(box="A01", care="champagne")  # type: ignore[arg-type]
    with pytest.raises(Refusal, match="care"):
        correct(a01, told.id, bad, why="", pen=pen)
    assert a01.head() == before
    assert "protein" in standing_of(a01, "A01").given


def test_withdrawing_twice_is_refused(a01: Book, pen: Pen) -> None:
    told = write(a01, [SeenInBox(box="A01", word="mites")], pen=pen).entries[0]
    first = withdraw(a01, told.id, why="", pen=pen).entries[0]
    with pytest.raises(Refusal, match="already"):
        withdraw(a01, told.id, why="", pen=pen)
    # taking the withdrawal back makes the fact count again, and it may be withdrawn once more
    withdraw(a01, first.id, why="it was mites after all", pen=pen)
    assert "mites" in standing_of(a01, "A01").seen
    withdraw(a01, told.id, why="no", pen=pen)


def test_an_unknown_box_is_refused_with_near_codes(a01: Book) -> None:
    assert known_box(a01, " a01 ") == "A01"
    with pytest.raises(UnknownSubject, match=r"no box A1 .*A01"):
        known_box(a01, "a1")


def test_an_unknown_fact_is_refused(a01: Book, pen: Pen) -> None:
    with pytest.raises(Refusal, match="no fact"):
        withdraw(a01, "017f22e2-79b0-7cc3-98c4-dc0c0c07398f", why="", pen=pen)


def test_whose_book_it_is_is_never_withdrawn_by_any_way(a01: Book, pen: Pen) -> None:
    (opened,) = a01.entries_of(("book_opened",))
    with pytest.raises(Refusal, match="written anew"):
        withdraw(a01, opened.id, why="", pen=pen, even_so=True)
    with pytest.raises(Refusal, match="written anew"):
        withdraw_many(a01, [opened.id], why="", pen=pen)
