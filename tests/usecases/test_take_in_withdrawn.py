"""What was withdrawn is not known: a sheet that tells it again is asked about, not passed over."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    CareGiven,
    Counted,
    Fact,
    Founded,
    LineNamed,
    ShelfPlaced,
    Withdrawn,
)
from mancary.usecases.standings import register_of
from mancary.usecases.take_in import take
from mancary.usecases.take_in.colony_questions import NEW
from mancary.usecases.take_in.withdrawals import AGAIN, STILL
from tests.usecases.intake import NOW, read, take_in, write_facts

BOXES = "Box,Species,Since,How many,Shelf\nA1,Porcellio scaber,2024-01-01,25,S1\n"
LOG = "Date,Box,What,Amount\n2026-01-05,A1,mist,20 ml\n"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        take_in(book, BOXES)
        yield book


def last(book: Book, kind: type[Fact]) -> Entry:
    return book.entries_of([kind.kind])[-1]


def withdraw(book: Book, kind: type[Fact], *, instead: str | None = None) -> str:
    mistaken = last(book, kind)
    gone = Withdrawn(mistaken=mistaken.id, touches=mistaken.fact.subjects(), instead=instead)
    write_facts(book, ("2026-11-24", gone))
    return f"withdrawn:{mistaken.id[-12:]}"


def test_a_withdrawn_founding_is_asked_each_time_and_founded_anew(room: Book) -> None:
    ids = [last(room, Founded).id]
    for _ in range(2):
        withdraw(room, Founded)
        (asked,) = read(room, BOXES).asked
        assert "withdrawn as a mistake" in asked.why
        take_in(room, BOXES, {asked.key: NEW})
        ids.append(last(room, Founded).id)
        assert [one.ended for one in register_of(room).colonies.values()] == [None]
        assert read(room, BOXES).rows_repeated == 1
        assert read(room, BOXES, {asked.key: NEW}).unused == ()
    assert len(set(ids)) == 3


@pytest.mark.parametrize(("text", "kind"), [(BOXES, Counted), (LOG, CareGiven)])
def test_a_withdrawn_figure_is_asked_and_written_again_once(
    room: Book, text: str, kind: type[Fact]
) -> None:
    take_in(room, text)
    key = withdraw(room, kind)
    (asked,) = read(room, text).asked
    assert (asked.key, asked.best.value) == (key, STILL)
    still = read(room, text, {key: STILL})
    assert (still.rows_repeated, still.facts, still.unused) == (1, 0, ())
    again = take_in(room, text, {key: AGAIN})
    assert [type(entry.fact) for entry in again.entries] == [kind]
    assert read(room, text).rows_repeated == 1
    assert read(room, text, {key: AGAIN}).unused == ()


def test_other_figures_of_the_row_are_taken_beside_one_that_stays_withdrawn(room: Book) -> None:
    withdraw(room, Counted)
    text = BOXES.replace(",S1", ",S2")
    assert read(room, text).rows_asked == 1
    receipt = take(room, read(room, text), now=NOW, accept_best=0.9)
    assert {entry.fact.kind for entry in receipt.reading.entries} == {"shelf_placed", "shelved"}


def test_a_figure_other_than_the_withdrawn_one_is_new(room: Book) -> None:
    withdraw(room, Counted)
    reading = take_in(room, BOXES.replace(",25,", ",30,"))
    assert [entry.fact for entry in reading.entries] == [Counted(box="A1", low=30, high=30)]


def test_the_count_before_a_withdrawn_one_stands(room: Book) -> None:
    take_in(room, BOXES.replace(",25,", ",30,"))
    withdraw(room, Counted)
    assert read(room, BOXES + "\n").rows_repeated == 1


@pytest.mark.parametrize(("text", "kind"), [(BOXES, Counted), (LOG, CareGiven)])
def test_a_corrected_figure_is_not_told_back_by_the_sheet(
    room: Book, text: str, kind: type[Fact]
) -> None:
    take_in(room, text)
    mistaken = last(room, kind).id
    better = Counted(box="A1", low=26, high=26) if kind is Counted else CareGiven(
        box="A1", care="mist", note="more"
    )  # fmt: skip
    write_facts(room, ("2026-11-24", better))
    gone = Withdrawn(mistaken=mistaken, touches=("box:A1",), instead=last(room, kind).id)
    write_facts(room, ("2026-11-24", gone))
    assert read(room, text).rows_repeated == 1
    withdraw(room, kind)  # the better one is a mistake too
    assert read(room, text).rows_asked == 1


def test_a_withdrawn_line_and_shelf_are_named_anew_for_the_next_box(room: Book) -> None:
    withdraw(room, LineNamed)
    withdraw(room, ShelfPlaced)
    text = "Box,Species,Since,Shelf\nA2,Porcellio scaber,2025-01-01,S1\n"
    kinds = [entry.fact.kind for entry in take_in(room, text).entries]
    assert kinds[:3] == ["shelf_placed", "line_named", "founded"]
    assert set(register_of(room).lines) == {"porcellio-scaber"}
    assert read(room, text).rows_repeated == 1
