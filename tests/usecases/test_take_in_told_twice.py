"""A box that stands twice in a sheet is taken in as it is told, and not a second time."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.husbandry.facts import BoxDescribed, Counted, Shelved
from mancary.usecases.take_in import take
from tests.usecases.intake import NOW, read

SAME = {"twice:A1:2": "the same box told again"}
HEAD = "Box;Species;How many;Vents;Shelf;Position\n"
FIRST = "A1;Porcellio scaber;25;24x3 mm lid;S1;1\n"
OTHER = "A2;Oniscus asellus;4;;S1;9\n"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        yield book


def written(book: Book, text: str, answers: dict[str, str] | None = None) -> int:
    return take(book, read(book, text, answers), now=NOW).facts_written


def told(book: Book, kind: type) -> list[object]:
    return [entry.fact for entry in book.entries_of([kind.kind])]  # type: ignore[attr-defined]


def counts(book: Book) -> list[int | None]:
    return [fact.low for fact in told(book, Counted) if isinstance(fact, Counted)]


def test_the_same_holes_in_another_spelling_are_written_once(room: Book) -> None:
    text = HEAD + FIRST + FIRST.replace("24x3", "24*3")
    assert written(room, text, SAME) > 0
    (box,) = told(room, BoxDescribed)
    assert isinstance(box, BoxDescribed)
    assert box.vents_as_written == "24x3 mm lid"
    assert written(room, text, SAME) == 0


def test_a_place_counted_by_us_makes_no_second_fact(room: Book) -> None:
    text = "Box;Species;How many;Shelf\nA1;Porcellio scaber;25;S1\nA1;Porcellio scaber;30;S1\n"
    assert written(room, text, SAME) > 0
    assert told(room, Shelved) == [Shelved(box="A1", shelf="S1", position=1)]
    assert written(room, text, SAME) == 0


def test_a_position_that_the_sheet_tells_is_a_change(room: Book) -> None:
    text = HEAD + FIRST + FIRST.replace(";1\n", ";2\n")
    assert written(room, text, SAME) > 0
    assert [fact.position for fact in told(room, Shelved) if isinstance(fact, Shelved)] == [1, 2]
    assert written(room, text, SAME) == 0
    assert written(room, HEAD + FIRST.replace(";1\n", ";5\n")) == 1
    assert written(room, HEAD + FIRST.replace(";1\n", ";\n")) == 0


def test_two_counts_are_both_kept_and_not_told_again_by_another_file(room: Book) -> None:
    twice = HEAD + FIRST + FIRST.replace(";25;", ";30;")
    assert written(room, twice, SAME) > 0
    assert counts(room) == [25, 30]
    assert written(room, twice, SAME) == 0
    grown = read(room, twice + OTHER, SAME)
    assert [row.state for row in grown.rows] == ["repeated", "repeated", "understood"]
    take(room, grown, now=NOW)
    assert counts(room) == [25, 30, 4]


def test_two_counts_in_the_other_order_are_new(room: Book) -> None:
    """The sibling: what the book ends with must be the same turn, not the same two counts."""
    written(room, HEAD + FIRST + FIRST.replace(";25;", ";30;"), SAME)
    assert written(room, HEAD + FIRST.replace(";25;", ";30;") + FIRST, SAME) == 1
    assert written(room, HEAD + FIRST + FIRST.replace(";25;", ";31;"), SAME) == 1
    assert counts(room) == [25, 30, 25, 31]
