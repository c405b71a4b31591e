"""No answer of the keeper's is passed over in silence, and nothing is written while one is."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.husbandry.facts import LineNamed
from mancary.husbandry.refusal import Refusal
from mancary.usecases.take_in import Reading, read_sheet, take

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
HEAD = "Box,Species,Since,How many,Litres\n"
SHORT = "A01,P. dilatatus,2024-01-01,5,3\n"
PLAIN = "A02,Oniscus asellus,2024-01-01,5,3\n"
SHEET = HEAD + SHORT + PLAIN
NAME = "name:p dilatatus"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        yield book


def read(book: Book, answers: dict[str, str], text: str = SHEET) -> Reading:
    return read_sheet(book, text.encode(), "sheet.csv", now=NOW, answers=answers)


@pytest.mark.parametrize(
    ("key", "answer", "why"),
    [
        ("991", "leave out", "no row of this sheet stands in line 991"),
        ("99:Since", "2024", "no row of this sheet stands in line 99"),
        ("1:Since", "2024", "no row of this sheet stands in line 1"),
        ("2:Nonesuch", "x", "this sheet has no column 'Nonesuch' (its columns: Box, Species"),
        ("3", "drop", "a whole line can only be left out (3=leave out)"),
        ("name:p dilatatos", "x", "the nearest it asks is 'name:p dilatatus'"),
        ("name:oniscus asellus", "species:oniscus-asellus", "asks nothing under that key"),
        ("colour", "blue", "asks nothing under that key"),
        ("twice:A01:2", "A03", "asks nothing under that key"),
        ("dates:When", "day first", "asks nothing under that key"),
        ("dates:Since", "year first", "expected day first or month first"),
        ("numbers:,", "neither", "expected decimals or thousands"),
        (NAME, "species:porcellio-dilatatis", "it is none of the choices"),
        (NAME, "page:no-such-group", "it is none of the choices"),
        (NAME, "slow and pale", "it is none of the choices"),
    ],
)
def test_an_answer_that_meets_nothing_is_told_and_nothing_is_written(
    room: Book, key: str, answer: str, why: str
) -> None:
    reading = read(room, {key: answer})
    assert reading.unused_keys == (key,)
    (sentence,) = reading.unused
    assert sentence.startswith(f"Your answer '{key}={answer}' was not used: ")
    assert why in sentence
    assert reading.notes[0] == sentence
    assert reading.summary()["unused"] == [sentence]
    before = room.head()
    with pytest.raises(Refusal, match="Nothing was written"):
        take(room, reading, now=NOW, accept_best=0.9)
    assert room.head() == before


@pytest.mark.parametrize(
    "answer",
    [
        "species:porcellio-dilatatus",
        "porcellio-dilatatus",
        "Porcellio dilatatus",
        "porcellio DILATATUS",
    ],
)
def test_a_species_may_be_answered_as_the_keeper_types_it(room: Book, answer: str) -> None:
    reading = read(room, {NAME: answer})
    assert (reading.rows_understood, reading.unused) == (2, ())
    told = {e.fact.species for e in reading.entries if isinstance(e.fact, LineNamed)}
    assert told == {"porcellio-dilatatus", "oniscus-asellus"}


def test_every_choice_can_be_answered_by_its_value_or_its_words(room: Book) -> None:
    (asked,) = read(room, {}).asked
    for choice in asked.choices:
        for answer in (choice.value, choice.words, choice.words.upper()):
            reading = read(room, {NAME: answer})
            assert (reading.unused, reading.rows_asked) == ((), 0), answer


def test_another_species_than_those_offered_may_be_named(room: Book) -> None:
    reading = read(room, {NAME: "Cubaris murina"})
    assert any(
        entry.fact.species == "cubaris-murina"
        for entry in reading.entries
        if isinstance(entry.fact, LineNamed)
    )


def test_a_wrong_answer_leaves_the_question_with_its_sentence(room: Book) -> None:
    (asked,) = read(room, {NAME: "species:porcellio-dilatatis"}).asked
    assert asked.why.startswith("your answer 'species:porcellio-dilatatis' is none of the choices")
    assert asked.choices


def test_keys_and_headings_match_without_case(room: Book) -> None:
    reading = read(room, {"NAME:P Dilatatus": "Porcellio dilatatus", "3:litres": "4"})
    assert (reading.rows_understood, reading.unused) == (2, ())


def test_a_row_left_out_is_told_apart_from_a_refused_one(room: Book) -> None:
    reading = read(room, {"2": "leave out"}, HEAD + SHORT + PLAIN.replace(",3\n", ",-3\n"))
    assert [row.left_out for row in reading.rows] == [True, False]
    assert [fault.why.split(",")[0] for fault in reading.refused] == [
        "left out",
        "expected one volume above 0 litres",
    ]
    assert reading.rows[0].said == ("left out, as you said",)
    assert (reading.rows_refused, reading.rows_left_out) == (2, 1)
    assert any(note.startswith("Line 2 is left out") for note in reading.notes)
    for answer in ("leave out", "Leave this row out"):
        assert read(room, {NAME: answer}).rows_left_out == 1


def test_the_same_mends_again_are_still_used_when_the_book_knows_the_answers(room: Book) -> None:
    text = SHEET + "A02,Cubaris murina,2024-01-01,4,3\n"
    mends = {NAME: "species:porcellio-dilatatus", "twice:A02:2": "A05", "2:Litres": "4"}
    assert take(room, read(room, mends, text), now=NOW).facts_written
    again = read(room, mends, text)
    assert (again.unused, again.facts) == ((), 0)
    assert take(room, again, now=NOW).receipt.written == ()


def test_an_answer_against_what_the_book_has_is_told(room: Book) -> None:
    take(room, read(room, {NAME: "species:porcellio-dilatatus"}), now=NOW)
    (sentence,) = read(room, {NAME: "species:oniscus-asellus"}).unused
    assert "the book has this name as porcellio-dilatatus already" in sentence


def test_without_unused_answers_it_is_written(room: Book) -> None:
    reading = read(room, {NAME: "species:porcellio-dilatatus", "3": "leave out"})
    assert reading.unused == ()
    assert take(room, reading, now=NOW).facts_written == reading.facts > 0
