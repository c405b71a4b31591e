"""Taking in again adds only what is new; mends keep their ids; all or nothing is written."""

import sqlite3
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from mancary.book import Book, BookTrouble, create_book
from mancary.husbandry.facts import (
    BoxDescribed,
    CareGiven,
    Counted,
    Founded,
    LineNamed,
    PageOpened,
    SeenInBox,
    SheetTakenIn,
    Shelved,
)
from mancary.usecases.take_in import Reading, SheetReceipt, read_sheet, take

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
HEAD = "Box;Species;Morph;Since;How many;Litres;Shelf;Remarks\n"
A1 = "A1;Porcellio scaber;orange;03.02.2023;25;3,5;S1;slow\n"
A2 = "A2;Oniscus asellus;;26.05.2024;50+;8;S1;\n"
LOG = "Date;Box;What;Amount;Remarks\n"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        yield book


def read(
    book: Book, text: str, answers: dict[str, str] | None = None, *, later: int = 0
) -> Reading:
    now = NOW + timedelta(days=later)
    return read_sheet(book, text.encode(), "sheet.csv", now=now, answers=answers)


def take_in(
    book: Book, text: str, answers: dict[str, str] | None = None, *, later: int = 0
) -> SheetReceipt:
    reading = read(book, text, answers, later=later)
    return take(book, reading, now=NOW + timedelta(days=later))


def counted(book: Book) -> list[tuple[str, int]]:
    return [
        (entry.happened, entry.fact.low)
        for entry in book.entries_of([Counted.kind])
        if isinstance(entry.fact, Counted)
    ]


def test_the_same_file_again_adds_nothing_on_any_day(room: Book) -> None:
    for text in (HEAD + A1 + A2, LOG + "01.02.2026;A1;mist;20 ml;smells\n"):
        assert take_in(room, text).facts_written > 0
        head = room.head()
        again = take_in(room, text, later=40)
        assert again.receipt.written == ()
        assert again.reading.rows_repeated == again.reading.rows_read
        assert room.head() == head


def test_the_same_rows_in_another_encoding_order_or_name_add_nothing(room: Book) -> None:
    take_in(room, HEAD + A1 + A2)
    other = (HEAD + A2 + A1).replace(";", "\t").encode("utf-16")
    reading = read_sheet(room, other, "copy of boxes.txt", now=NOW + timedelta(days=3))
    assert (reading.rows_repeated, reading.facts) == (2, 0)


def test_rows_appended_are_the_only_ones_added(room: Book) -> None:
    take_in(room, HEAD + A1)
    receipt = take_in(room, HEAD + A1 + A2, later=1)
    assert (receipt.reading.rows_repeated, receipt.reading.rows_understood) == (1, 1)
    assert {row.box for row in receipt.reading.rows if row.entries} == {"A2"}
    positions = {
        e.fact.box: e.fact.position
        for e in room.entries_of([Shelved.kind])
        if isinstance(e.fact, Shelved)
    }
    assert positions == {"A1": 1, "A2": 2}


def test_a_changed_cell_adds_the_change_alone_and_a_change_back_is_not_lost(room: Book) -> None:
    take_in(room, HEAD + A1)
    changed = take_in(room, HEAD + A1.replace(";25;", ";30;"), later=1)
    assert [type(entry.fact) for entry in changed.reading.entries] == [Counted]
    back = take_in(room, HEAD + A1.replace(";25;", ";25 ;") + A2, later=2)
    assert Counted in {type(entry.fact) for entry in back.reading.entries}
    assert counted(room)[:3] == [("2026-11-25", 25), ("2026-11-26", 30), ("2026-11-27", 25)]


def test_the_very_file_taken_in_before_adds_nothing_even_after_a_newer_one(room: Book) -> None:
    take_in(room, HEAD + A1)
    take_in(room, HEAD + A1.replace(";25;", ";30;"), later=1)
    again = take_in(room, HEAD + A1, later=2)
    assert again.receipt.written == ()


def test_a_count_of_the_journal_does_not_make_the_list_new(room: Book) -> None:
    take_in(room, HEAD + A1)
    take_in(room, LOG + "01.02.2026;A1;count;99;\n")
    assert take_in(room, HEAD + A1 + "\n", later=1).receipt.written == ()


def test_an_exact_duplicate_is_repeated_but_a_row_that_says_more_is_not(room: Book) -> None:
    take_in(room, HEAD + A1)
    text = LOG + "01.02.2026;A1;veg;1 slice;\n" * 2 + "01.02.2026;A1;veg;1 slice;left half\n"
    reading = read(room, text)
    assert [row.state for row in reading.rows] == ["understood", "repeated", "understood"]
    assert [type(e.fact) for e in reading.entries] == [CareGiven, CareGiven, SeenInBox]
    assert len({e.id for e in reading.entries}) == 3


def test_a_remark_added_to_a_row_later_adds_the_sight_alone(room: Book) -> None:
    take_in(room, HEAD + A1)
    take_in(room, LOG + "01.02.2026;A1;veg;1 slice;\n")
    receipt = take_in(room, LOG + "01.02.2026;A1;veg;1 slice;all gone\n")
    assert [e.fact for e in receipt.reading.entries] == [SeenInBox(box="A1", word="all_gone")]


def test_a_mended_row_keeps_its_ids(room: Book) -> None:
    take_in(room, HEAD + A1)
    text = LOG + "31.02.2026;A1;mist;20 ml;\n01.03.2026;Q7;veg;;\n"
    mends = {"2:Date": "28.02.2026", "3:Box": "A1"}
    first = read(room, text, mends)
    assert first.rows_understood == 2
    assert [e.id for e in read(room, text, mends).entries] == [e.id for e in first.entries]
    assert take_in(room, text, mends).facts_written == 2
    assert take_in(room, text, mends).receipt.written == ()
    mended_sheet = LOG + "28.02.2026;A1;mist;20 ml;\n01.03.2026;A1;veg;;\n"
    assert take_in(room, mended_sheet).receipt.written == ()


def test_one_answer_settles_a_column_of_dates(room: Book) -> None:
    take_in(room, HEAD + A1)
    text = LOG + "03/02/2026;A1;mist;;\n04/02/2026;A1;mist;;\n2026-01-09;A1;mist;;\n"
    reading = read(room, text)
    assert [row.state for row in reading.rows] == ["asked", "asked", "understood"]
    assert {question.key for question in reading.asked} == {"dates:Date"}
    day_first = read(room, text, {"dates:Date": "day first"})
    assert [e.happened for e in day_first.entries] == ["2026-02-03", "2026-02-04", "2026-01-09"]
    month_first = read(room, text, {"dates:Date": "month first"})
    assert [e.happened for e in month_first.entries][:2] == ["2026-03-02", "2026-04-02"]


def test_a_code_typed_without_its_zeros_is_asked_and_likely(room: Book) -> None:
    take_in(room, HEAD + A1.replace("A1;", "A01;"))
    reading = read(room, LOG + "01.02.2026;a-1;mist;;\n")
    (asked,) = reading.asked
    assert (asked.best.value, asked.best.likelihood) == ("A01", 0.95)
    receipt = take(room, reading, now=NOW, accept_best=0.9)
    assert [row.box for row in receipt.reading.rows] == ["A01"]
    assert receipt.facts_written == 1


def test_one_letter_away_is_said_and_many_near_ones_are_not(room: Book) -> None:
    take_in(room, HEAD + A1.replace("A1;", "A01;") + A2.replace("A2;", "B99;"))
    near, far = read(room, LOG + "01.02.2026;A07;mist;;\n01.02.2026;Q55;mist;;\n").refused
    assert near.why == "There is no box A07 in this book. Did you mean A01?"
    assert far.why == "There is no box Q55 in this book."


def test_a_confirmed_name_is_not_asked_again(room: Book) -> None:
    text = HEAD + A1.replace("Porcellio scaber", "P. scaber")
    key = read(room, text).asked[0].key
    take_in(room, text, {key: "species:porcellio-scaber"})
    other = read(room, HEAD + A2.replace("Oniscus asellus", "p. scaber"))
    assert other.rows_understood == 1
    lines = [e.fact for e in other.entries if isinstance(e.fact, LineNamed)]
    assert lines[0].species == "porcellio-scaber"


def test_an_own_page_is_opened_once_and_known_from_then_on(room: Book) -> None:
    text = (
        HEAD
        + A1.replace("Porcellio scaber", "Fernhollow Grey")
        + A2.replace("Oniscus asellus", "Fernhollow Grey")
    )
    asked = read(room, text).asked
    assert [question.key for question in asked] == ["name:fernhollow grey"] * 2
    assert all(choice.likelihood < 0.9 for choice in asked[0].choices)
    receipt = take_in(room, text, {asked[0].key: "page:temperate-woodland"})
    pages = [e.fact for e in receipt.reading.entries if isinstance(e.fact, PageOpened)]
    assert [page.care_group for page in pages] == ["temperate-woodland"]
    third = read(room, HEAD + "A3;fernhollow grey;;2024;;;;\n")
    assert third.rows_understood == 1
    assert [e.happened for e in third.entries if isinstance(e.fact, Founded)] == ["2024"]


def test_a_colony_without_a_day_is_said_to_be_here_by_the_as_of_day(room: Book) -> None:
    reading = read_sheet(
        room,
        (HEAD + "A1;Oniscus asellus;;;;;;\n").encode(),
        "sheet.csv",
        now=NOW,
        as_of=date(2026, 5, 1),
    )
    ((happened, note),) = [
        (e.happened, e.fact.note) for e in reading.entries if isinstance(e.fact, Founded)
    ]
    assert happened == "2026-05-01"
    assert note == "the sheet does not say since when; here by this day"


@pytest.mark.parametrize(
    ("answer", "boxes", "colonies"),
    [
        ("A2", {"A1", "A2", "A3"}, {"A1.1", "A2.1", "A3.1"}),
        ("the same box told again", {"A1", "A3"}, {"A1.1", "A3.1"}),
        ("leave out", {"A1", "A3"}, {"A1.1", "A3.1"}),
        ("Z5", {"A1", "Z5", "A3"}, {"A1.1", "Z5.1", "A3.1"}),
    ],
)
def test_a_code_that_stands_twice(
    room: Book, answer: str, boxes: set[str], colonies: set[str]
) -> None:
    text = HEAD + A1 + A1.replace(";25;", ";7;") + A2.replace("A2", "A3")
    reading = read(room, text)
    assert [question.key for question in reading.asked] == ["twice:A1:2"]
    mended = read(room, text, {"twice:A1:2": answer})
    assert {row.box for row in mended.rows if row.entries} == boxes
    assert {e.fact.colony for e in mended.entries if isinstance(e.fact, Founded)} == colonies
    assert take_in(room, text, {"twice:A1:2": answer}).facts_written == mended.facts
    assert take_in(room, text, {"twice:A1:2": answer}).receipt.written == ()


def test_the_decimal_sign_is_asked_where_it_cannot_be_told(room: Book) -> None:
    text = HEAD + A1.replace("3,5", "1,250")
    (asked,) = read(room, text).asked
    assert asked.key == "numbers:,"
    for answer, litres in (("decimals", 1.25), ("thousands", 1250.0)):
        mended = read(room, text, {"numbers:,": answer})
        assert [e.fact.litres for e in mended.entries if isinstance(e.fact, BoxDescribed)] == [
            litres
        ]


def test_nothing_vanishes_where_a_column_is_not_understood(room: Book) -> None:
    reading = read(room, "Box;Species;Barometer\nA1;Oniscus asellus;1013\n")
    assert any("Barometer: 1013" in str(entry.fact) for entry in reading.entries)
    assert "Not understood and kept as notes: Barometer." in reading.notes
    assert any('--means "Barometer=MEANING"' in note for note in reading.notes)


def test_nothing_is_half_written_when_the_book_cannot_be_written(tmp_path: Path) -> None:
    path = tmp_path / "room.mancary"
    with create_book(path) as book:
        reading = read(book, HEAD + A1 + A2)
        before = book.head()
        with sqlite3.connect(path) as other:
            other.execute("BEGIN IMMEDIATE")
            with pytest.raises(BookTrouble):
                take(book, reading, now=NOW)
            other.rollback()
        other.close()
        assert book.head() == before
        assert take(book, reading, now=NOW).facts_written == reading.facts


def test_reading_alone_writes_nothing_and_nothing_new_leaves_no_trace(room: Book) -> None:
    before = room.head()
    read(room, HEAD + A1)
    assert room.head() == before
    refused = take_in(room, HEAD + A1.replace("3,5", "-3"))
    assert refused.receipt.written == ()
    assert room.entries_of([SheetTakenIn.kind]) == []


def test_a_thousand_rows_are_understood_each(room: Book) -> None:
    take_in(room, HEAD + A1)
    rows = "".join(
        f"{n % 28 + 1:02d}.{n % 12 + 1:02d}.2025;A1;mist;{n} ml;\n" for n in range(1, 1001)
    )
    reading = read(room, LOG + rows)
    assert reading.rows_understood == 1000
