"""A row that a sheet told before, for a box whose colony is gone since: asked, never passed over."""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.husbandry import codec
from mancary.husbandry.entries import Entry, new_id
from mancary.husbandry.facts import BoxDescribed, Counted, Ended, Fact, Founded, Joined
from mancary.husbandry.moments import instant
from mancary.usecases.check import check
from mancary.usecases.standings import register_of
from mancary.usecases.take_in import Reading, read_sheet, take, told
from mancary.usecases.take_in.colony_questions import ALONE, NEW
from tests.usecases.intake import (
    NOW,
    answered_again,
    ended,
    moved,
    read,
    room_of_three,
    take_in,
    write_facts,
)

HEAD = "Box,Species,Since,How many\n"
DATED = HEAD + "A03,Oniscus asellus,2023-05-01,7\n"
UNDATED = HEAD + "A03,Oniscus asellus,,7\n"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with room_of_three(tmp_path) as book:
        yield book


def foundings(reading: Reading) -> list[tuple[str, Founded]]:
    return [(e.happened, e.fact) for e in reading.entries if isinstance(e.fact, Founded)]


@pytest.mark.parametrize("text", [DATED, UNDATED])
@pytest.mark.parametrize(
    "fact",
    [
        Ended(colony="A03.1", box="A03", cause="heat"),
        Joined(colony="A03.1", box="A03", into_colony="A01.1", into_box="A01"),
    ],
)
def test_the_same_line_again_after_its_colony_ended_is_asked(
    room: Book, text: str, fact: Ended | Joined
) -> None:
    take_in(room, text)
    write_facts(room, ("2026-06-01", fact))
    (asked,) = read(room, text).asked
    assert "A03 is empty in the book: its colony A03.1 ended, cause " in asked.why
    assert [choice.value for choice in asked.choices] == [NEW, ALONE, "leave out"]
    assert asked.best.words.startswith("still A03.1, which ended, cause ")
    assert asked.best.likelihood < 0.9
    for answer in ("leave out", asked.best.words, "leave this row out"):
        assert read(room, text, {asked.key: answer}).rows_left_out == 1
    answered_again(room, text, {asked.key: ALONE})


@pytest.mark.parametrize("text", [DATED, UNDATED])
def test_a_new_colony_of_the_line_begins_by_the_day_of_the_figures(room: Book, text: str) -> None:
    take_in(room, text)
    ended(room)
    (asked,) = read(room, text).asked
    ((day, founded),) = foundings(take_in(room, text, {asked.key: NEW}))
    assert (day, founded.colony) == ("2026-11-25", "A03.2")
    assert "here by this day" in founded.note
    assert read(room, text).rows_repeated == 1
    grown = take_in(room, text.replace(",7", ",9"))
    assert [entry.fact for entry in grown.entries] == [Counted(box="A03", low=9, high=9)]
    assert not [one for one in check(room).findings if "more than one colony" in one.sentence]


def test_a_day_after_the_end_is_kept_as_the_new_beginning(room: Book) -> None:
    ended(room)
    text = HEAD + "A03,Oniscus asellus,2026-07-01,7\n"
    (asked,) = read(room, text).asked
    ((day, founded),) = foundings(read(room, text, {asked.key: NEW}))
    assert (day, founded.note) == ("2026-07-01", "")


def test_it_may_end_and_begin_again_more_than_once(room: Book) -> None:
    for number in (1, 2, 3):
        gone = Ended(colony=f"A03.{number}", box="A03", cause="heat")
        write_facts(room, ("2026-11-25", gone))
        (asked,) = read(room, DATED).asked
        take_in(room, DATED, {asked.key: NEW})
        assert register_of(room).boxes["A03"].colony == f"A03.{number + 1}"


def of_day(book: Book, text: str, day: date) -> Reading:
    return read_sheet(book, text.encode(), "sheet.csv", now=NOW, as_of=day)


def test_figures_of_a_day_when_it_still_lived_there_tell_of_it(room: Book) -> None:
    ended(room)
    reading = of_day(room, DATED.replace(",7", ",8"), date(2026, 5, 31))
    assert [entry.fact for entry in reading.entries] == [Counted(box="A03", low=8, high=8)]
    told = "this tells of colony A03.1, which ended, cause heat, 2026-06-01"
    assert told in reading.rows[0].said
    assert of_day(room, DATED, date(2026, 6, 1)).rows_asked == 1


def test_no_new_colony_is_offered_from_before_the_end(room: Book) -> None:
    ended(room)
    (asked,) = of_day(room, HEAD + "A03,Cubaris murina,,7\n", date(2026, 5, 31)).asked
    assert [choice.value for choice in asked.choices] == [ALONE, "leave out"]
    assert "after the day of these figures" in asked.why


def test_a_colony_that_only_moved_is_said_where_the_day_tells_it(room: Book) -> None:
    moved(room)
    (row,) = read(room, HEAD + "A01,Porcellio scaber,2024-01-01,5\n").rows
    assert (row.state, row.said[0]) == ("repeated", "its colony A01.1 lives in A02 now")


def test_an_undated_row_of_a_colony_that_moved_out_is_asked(tmp_path: Path) -> None:
    text = HEAD + "A01,Porcellio scaber,,5\n"
    with create_book(tmp_path / "undated.mancary") as book:
        take(book, of_day(book, text, date(2026, 1, 1)), now=NOW)
        write_facts(book, ("2026-01-01", BoxDescribed(box="A02", litres=3)))
        moved(book)
        (asked,) = read(book, text).asked
        assert asked.best.words.startswith("still A01.1, which was moved to A02")


def test_what_the_keeper_noted_himself_is_not_turned_into_text_again(
    room: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each count by hand must not cost when a sheet is read: no sheet told it."""
    texts: list[Fact] = []

    def encode(fact: Fact) -> bytes:
        texts.append(fact)
        return codec.encode(fact)

    monkeypatch.setattr(told, "encode", encode)
    read(room, DATED)
    before, by_hand = len(texts), datetime(2026, 11, 1, tzinfo=UTC)
    entries = [
        Entry(
            id=new_id(now=by_hand, chance=number.to_bytes(10)),
            happened="2026-11-01",
            typed=instant(by_hand),
            fact=Counted(box="A03", low=number, high=number),
        )
        for number in range(50)
    ]
    room.append(entries, written_at=NOW)
    texts.clear()
    assert take(room, read(room, DATED), now=NOW).receipt.written == ()
    assert len(texts) == before > 0
