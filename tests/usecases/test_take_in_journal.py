"""The keeper's journal goes through with every fault understood or listed, line by line."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.husbandry.facts import (
    CareGiven,
    Counted,
    Fact,
    Noted,
    SeenInBox,
    SheetTakenIn,
    Weighed,
)
from mancary.usecases.take_in import read_sheet, take
from tests.usecases.intake import (
    NOW,
    boxes,
    counts,
    facts_in,
    journal,
)


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        yield book


MENDS = {"twice:B01:2": "B02", "7:Since": "28.02.2025", "43:Litres": "3"}


@pytest.fixture
def filled(room: Book) -> Book:
    reading = boxes(room, MENDS)
    assert counts(reading) == (64, 61, 0, 3, 0)
    take(room, reading, now=NOW, accept_best=0.9)
    assert len(room.subjects("box")) == 64
    return room


def test_the_journal_is_read_to_the_last_row(filled: Book) -> None:
    reading = journal(filled)
    assert counts(reading) == (901, 895, 3, 1, 2)
    assert [row.line for row in reading.rows] == list(range(2, 903))


def test_each_fault_of_the_journal_is_listed_at_its_line(filled: Book) -> None:
    reading = journal(filled)
    assert [(one.row, one.column, one.value) for one in reading.refused] == [
        (102, "Box", "Z99"),
        (103, "Date", "yesterday"),
        (105, "Amount", "12 fathoms"),
    ]
    box, day, unit = reading.refused
    assert box.why == "There is no box Z99 in this book."
    assert day.why.startswith("expected a date")
    assert unit.why.startswith("'fathoms' is no unit known here; expected g, mL, L")
    (asked,) = reading.asked
    assert (asked.row, asked.column, asked.value) == (104, "What", "vacuumed")
    assert "note" in [choice.value for choice in asked.choices]
    assert asked.best.likelihood < 0.9
    repeated = [(row.line, row.said) for row in reading.rows if row.state == "repeated"]
    assert repeated == [
        (464, ("the same as line 463; written once",)),
        (902, ("the same as line 52; written once",)),
    ]


def test_every_word_of_the_journal_became_its_fact(filled: Book) -> None:
    """The numbers are those of the file's own words, less the rows refused, asked or repeated."""
    reading = journal(filled)
    care = Counter(e.fact.care for e in reading.entries if isinstance(e.fact, CareGiven))
    assert care == {
        "mist": 215,  # 216 lines, one dated "yesterday"
        "vegetable": 174,  # 175, one told twice
        "protein": 156,
        "calcium": 48,
        "leaf_litter": 45,  # 47, one in fathoms, one told twice
        "algae": 35,
        "minerals": 20,
        "springtails": 19,
    }
    kinds = Counter(type(e.fact) for e in reading.entries)
    assert kinds[Weighed] == 54
    assert kinds[Counted] == 54
    assert kinds[Noted] == 0
    sights = Counter(e.fact.word for e in reading.entries if isinstance(e.fact, SeenInBox))
    assert sights == {
        "young_seen": 34,
        "dead": 21,  # 22, one in Z99
        "mould": 20,
        "all_gone": 138,  # 140, one with Z99, one told twice
        "smells": 122,  # 123, one beside the fathoms
        "left_over": 119,  # 120, one beside "vacuumed"
    }


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        (2, [CareGiven]),
        (3, [CareGiven, SeenInBox]),
        (8, [SeenInBox]),
        (6, [Weighed, SeenInBox]),
    ],
)
def test_rows_of_the_journal(filled: Book, line: int, wanted: list[type[Fact]]) -> None:
    assert [type(fact) for _, fact in facts_in(journal(filled), line)] == wanted


def test_weights_of_three_kinds_are_grams(filled: Book) -> None:
    reading = journal(filled)
    grams = Counter(e.fact.gross_g for e in reading.entries if isinstance(e.fact, Weighed))
    assert grams == {1455.0: 20, 1462.0: 17, 1480.0: 17}
    (row,) = [row for row in reading.rows if row.line == 6]
    assert row.said == ("1455 without a unit is read as grams",)


def test_boxes_that_were_refused_are_told_of_in_the_journal(room: Book) -> None:
    take(room, boxes(room), now=NOW, accept_best=0.9)
    reading = journal(room)
    unknown = Counter(one.value for one in reading.refused if one.column == "Box")
    assert set(unknown) == {"A06", "B02", "C09", "Z99"}
    assert any("A06, B02, C09, Z99" in note for note in reading.notes)
    assert sum(counts(reading)[1:]) == counts(reading)[0] == 901


def test_without_any_box_the_keeper_is_told_to_take_the_list_in_first(room: Book) -> None:
    reading = journal(room)
    assert reading.rows_refused == 901
    assert "take in the list of boxes first" in reading.refused[0].why


def test_mends_are_taken(filled: Book) -> None:
    mended = journal(
        filled,
        {
            "word:vacuumed": "note",
            "102:Box": "A09",
            "103:Date": "04.01.2026",
            "105:Amount": "leave out",
        },
    )
    assert counts(mended) == (901, 898, 1, 0, 2)
    (left,) = mended.refused
    assert left.why == "left out, as you said"
    assert facts_in(mended, 104)[-1] == (
        "2026-01-05",
        Noted(what="box", code="A11", text="vacuumed pinch"),
    )
    assert facts_in(mended, 102)[0] == ("2026-01-05", SeenInBox(box="A09", word="dead", animals=2))
    assert facts_in(mended, 103)[0][0] == "2026-01-04"


def test_the_sheet_itself_is_remembered(filled: Book) -> None:
    take(filled, journal(filled), now=NOW)
    told = [entry.fact for entry in filled.entries_of([SheetTakenIn.kind])]
    assert [(t.file, t.rows_read) for t in told if isinstance(t, SheetTakenIn)] == [
        ("boxes.csv", 64),
        ("journal.csv", 901),
    ]


def test_words_beside_a_weight_are_its_mark_and_are_written_once(filled: Book) -> None:
    sheet = (
        b"Date,Box,What,Amount,Note\n"
        b"2026-11-02,A01,weighed,1462 g,just right\n"
        b"2026-11-09,A01,weighed,1431 g,not too dry\n"
    )
    reading = read_sheet(filled, sheet, "weights.csv", now=NOW)
    take(filled, reading, now=NOW)
    written = [
        (entry.fact.gross_g, entry.fact.mark)
        for entry in filled.entries_about("box:A01")
        if isinstance(entry.fact, Weighed)
    ]
    assert written == [(1462.0, "just_right"), (1431.0, None)]
    take(filled, read_sheet(filled, sheet, "weights.csv", now=NOW), now=NOW)
    assert sum(isinstance(e.fact, Weighed) for e in filled.entries_about("box:A01")) == 2
