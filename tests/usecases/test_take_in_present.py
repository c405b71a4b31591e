"""A line of a journal is about the colony that lived in the box on that day, or it is asked about."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from mancary.book import Book
from mancary.husbandry.facts import CareGiven, Noted, Taken
from tests.usecases.intake import answered_again, ended, moved, read, room_of_three, take_in

LOG = "Date,Box,What,Amount\n"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with room_of_three(tmp_path) as book:
        yield book


@pytest.mark.parametrize(
    ("line", "before", "key"),
    [
        ("2026-07-01,A03,count,9\n", ended, "nobody:A03"),
        ("2026-07-01,A03,dead,2\n", ended, "nobody:A03"),
        ("2026-07-01,A03,veg,1 slice\n", ended, "empty:A03"),
        ("2026-07-01,A01,sold,3\n", moved, "nobody:A01"),
        ("2026-05-31,A02,sold,3\n", moved, "nobody:A02"),
        ("2026-07-01,A02,count,9\n", lambda _: None, "nobody:A02"),
        ("2026-07-01,A02,young seen,\n", lambda _: None, "nobody:A02"),
    ],
)
def test_a_journals_line_for_a_box_where_nobody_lived_that_day_is_asked(
    room: Book, line: str, before: Callable[[Book], None], key: str
) -> None:
    before(room)
    reading = read(room, LOG + line)
    assert [question.key for question in reading.asked] == [key]
    noted = read(room, LOG + line, {key: "note"})
    assert [type(entry.fact) for entry in noted.entries] == [Noted]
    answered_again(room, LOG + line, {key: "note"})


@pytest.mark.parametrize(
    "line",
    [
        "2026-06-01,A03,count,9\n",
        "2026-05-01,A03,dead,2\n",
        "2026-07-01,A02,mist,9 ml\n",
        "2022-01-01,A01,mist,9 ml\n",
    ],
)
def test_other_lines_are_taken(room: Book, line: str) -> None:
    ended(room)
    assert read(room, LOG + line).rows_understood == 1


def test_care_of_an_emptied_box_can_be_written_as_it_stands(room: Book) -> None:
    ended(room)
    text = LOG + "2026-07-01,A03,mist,9 ml\n"
    told = read(room, text, {"empty:A03": "as it stands"})
    assert [type(entry.fact) for entry in told.entries] == [CareGiven]
    answered_again(room, text, {"empty:A03": "as it stands"})


def test_what_was_written_before_the_end_was_told_is_not_asked_about(room: Book) -> None:
    text = LOG + "2026-07-01,A03,count,9\n"
    take_in(room, text)
    ended(room)
    assert read(room, text).rows_repeated == 1


def test_animals_that_left_are_taken_from_the_colony_that_lived_there(room: Book) -> None:
    moved(room)
    text = LOG + (
        "2026-05-01,A01,sold,3\n2026-07-01,A02,swapped 5,\n2026-07-02,A02,gave away,\n"
        "2026-07-03,A02,sold,3-5\n"
    )
    assert [entry.fact for entry in read(room, text).entries] == [
        Taken(colony="A01.1", box="A01", animals=3, to="sale"),
        Taken(colony="A01.1", box="A02", animals=5, to="swap"),
        Taken(colony="A01.1", box="A02", to="gift"),
        Taken(colony="A01.1", box="A02", to="sale", note="3-5"),
    ]
