"""What the words and amounts of a journal become, and what is refused or asked instead."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.husbandry.facts import CareGiven, Fact, Noted, SeenInBox
from mancary.usecases.take_in import Reading, read_sheet, take
from tests.usecases.intake import NOW

LOG = "Date;Box;What;Amount;Remarks\n"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        boxes = b"Box;Species;Since\nA02;Oniscus asellus;2024-01-01\n"
        take(book, read_sheet(book, boxes, "boxes.csv", now=NOW), now=NOW)
        yield book


def read(book: Book, what: str, amount: str = "", remark: str = "") -> Reading:
    text = f"{LOG}2026-11-07;A02;{what};{amount};{remark}\n"
    return read_sheet(book, text.encode(), "journal.csv", now=NOW)


@pytest.mark.parametrize(
    ("what", "amount"),
    [
        ("dead", "-2"),
        ("dead", "−2"),
        ("dead", "- 2"),
        ("mould", "-1"),
        ("dead -2", ""),
        ("-2 dead", ""),
        ("count", "-3"),
        ("sold", "-4"),
        ("weighed", "-1455"),
        ("mist", "-20 ml"),
        ("left over", "-10%"),
    ],
)
def test_a_number_below_0_is_refused(room: Book, what: str, amount: str) -> None:
    reading = read(room, what, amount)
    assert (reading.rows_refused, reading.facts) == (1, 0)
    assert "expected" in reading.refused[0].why


@pytest.mark.parametrize(
    ("what", "amount", "animals", "note"),
    [
        ("dead", "2", 2, ""),
        ("dead 2", "", 2, ""),
        ("2 dead", "", 2, ""),
        ("- 2 dead", "", 2, ""),
        ("dead - 2", "", 2, ""),
        ("dead", "2 animals", 2, "2 animals"),
        ("dead", "3-5", None, "3-5"),
        ("3-5 dead", "", None, "3-5"),
        ("dead", "lots", None, "lots"),
        ("dead lots", "", None, "lots"),
        ("mould", "lots", None, "lots"),
        ("mould lots", "", None, "lots"),
        ("dead", "ca. 5", None, "ca. 5"),
    ],
)
def test_no_number_is_made_of_a_range_or_of_words(
    room: Book, what: str, amount: str, animals: int | None, note: str
) -> None:
    word = "mould" if "mould" in what else "dead"
    (entry,) = read(room, what, amount).entries
    assert entry.fact == SeenInBox(box="A02", word=word, animals=animals, note=note)  # type: ignore[arg-type]


@pytest.mark.parametrize("remark", ["-2 dead", "2-3 dead", "- 2 dead"])
def test_a_remark_with_a_dash_before_its_number_stays_words(room: Book, remark: str) -> None:
    facts = [entry.fact for entry in read(room, "mist", "", remark).entries]
    assert facts[1:] == [Noted(what="box", code="A02", text=remark)]


@pytest.mark.parametrize(
    ("what", "amount", "fact"),
    [
        ("fish", "", CareGiven(box="A02", care="protein", what="fish")),
        ("yeast", "", CareGiven(box="A02", care="protein", what="yeast")),
        ("dried shrimp", "", CareGiven(box="A02", care="protein", what="dried shrimp")),
        ("fed yeast", "", CareGiven(box="A02", care="protein", what="yeast")),
        ("protein", "fish", CareGiven(box="A02", care="protein", what="fish")),
        ("fed", "cucumber", CareGiven(box="A02", care="vegetable", what="cucumber")),
        ("fed", "protein", CareGiven(box="A02", care="protein")),
        ("cucumber", "", CareGiven(box="A02", care="vegetable", what="cucumber")),
        ("protein", "", CareGiven(box="A02", care="protein")),
    ],
)
def test_foods_keep_their_word(room: Book, what: str, amount: str, fact: Fact) -> None:
    assert [entry.fact for entry in read(room, what, amount).entries] == [fact]


def test_fed_alone_is_asked_and_moved_is_offered_as_a_note(room: Book) -> None:
    (fed,) = read(room, "fed").asked
    assert [choice.value for choice in fed.choices] == ["vegetable", "protein", "note", "leave out"]
    (moved,) = read(room, "moved").asked
    assert [choice.value for choice in moved.choices] == ["note", "leave out"]
    assert "a command of its own" in moved.why


@pytest.mark.parametrize("what", ["died out", "all dead", "new box", "split", "crashed"])
def test_the_end_of_a_colony_is_never_taken_for_another_word(room: Book, what: str) -> None:
    (asked,) = read(room, what).asked
    assert [choice.value for choice in asked.choices] == ["note", "leave out"]
    assert asked.best.likelihood < 0.9


@pytest.mark.parametrize("amount", ["150%", "3/2", "250"])
def test_more_than_all_cannot_be_left_over(room: Book, amount: str) -> None:
    (fault,) = read(room, "left over", amount).refused
    assert "left over" in fault.why
    assert "floor" not in fault.why


def test_a_share_left_over_is_kept_and_words_stay_words(room: Book) -> None:
    (third,) = read(room, "left over", "1/3").entries
    assert third.fact == SeenInBox(box="A02", word="left_over", share=1 / 3, note="1/3")
    (bit,) = read(room, "left over", "a bit").entries
    assert bit.fact == SeenInBox(box="A02", word="left_over", note="a bit")


def test_none_dead_is_no_sight(room: Book) -> None:
    (fault,) = read(room, "dead", "0").refused
    assert fault.why == "expected how many were dead; 0 is nothing seen"
