"""Who lives in a box is the register's word: no sheet puts a second colony beside a living one."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.book.trouble import MovedOn
from mancary.husbandry.facts import (
    BoxRetired,
    Counted,
    Ended,
    Founded,
    Joined,
    LineRenamed,
    Moved,
    Split,
)
from mancary.husbandry.refusal import Refusal
from mancary.usecases.check import check
from mancary.usecases.standings import register_of
from mancary.usecases.take_in import Reading, read_sheet, take
from mancary.usecases.take_in.colony_questions import ALONE, KEEP, NEW, NEW_ENDED
from tests.usecases.intake import (
    NOW,
    answered_again,
    moved,
    read,
    room_of_three,
    take_in,
    write_facts,
)

HEAD = "Box,Species,Morph,Since,How many\n"
A01 = "A01,Porcellio scaber,,2024-01-01,5\n"
A03 = "A03,Oniscus asellus,,2023-05-01,7\n"


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with room_of_three(tmp_path) as book:
        yield book


def living(book: Book) -> dict[str, list[str]]:
    homes: dict[str, list[str]] = {}
    for colony in register_of(book).colonies.values():
        if colony.ended is None:
            homes.setdefault(colony.box, []).append(colony.code)
    return homes


def kinds(reading: Reading) -> set[str]:
    return {entry.fact.kind for entry in reading.entries}


def test_a_row_that_names_the_colony_moved_there_tells_of_it_and_founds_none(room: Book) -> None:
    moved(room)
    for text in ("A02,Porcellio scaber,,2024-01-01,9\n", "A02,Porcellio scaber,,2026-06-01,9\n"):
        reading = read(room, HEAD + text)
        assert reading.rows_understood == 1
        assert kinds(reading) == {"box_described", "counted"}
    take_in(room, HEAD + "A02,Porcellio scaber,,2024-01-01,9\n")
    assert living(room) == {"A02": ["A01.1"], "A03": ["A03.1"]}
    again = read(room, HEAD + "A02,Porcellio scaber,,2024-01-01,9\n")
    assert again.rows_repeated == 1


def test_a_row_of_another_colony_than_the_one_moved_there_is_asked(room: Book) -> None:
    moved(room)
    (asked,) = read(room, HEAD + "A02,Cubaris murina,,2026-07-01,9\n").asked
    assert "another species in A02: Porcellio scaber, colony A01.1" in asked.why
    (other_day,) = read(room, HEAD + "A02,Porcellio scaber,,2026-07-01,9\n").asked
    assert "come on another day" in other_day.why


def test_the_old_row_of_a_colony_that_moved_out_adds_nothing_or_is_asked(room: Book) -> None:
    moved(room)
    assert read(room, HEAD + A01).rows_repeated == 1
    (asked,) = read(room, HEAD + A01.replace(",5", ",6")).asked
    assert asked.why == "A01 is empty in the book: its colony A01.1 was moved to A02, 2026-06-01"
    assert asked.best.value == "leave out"


@pytest.mark.parametrize(
    ("fact", "box"),
    [
        (Split(colony="A01.1", box="A01", new_colony="A02.1", new_box="A02"), "A02"),
        (Moved(colony="A03.1", from_box="A03", to_box="A02"), "A02"),
        (Founded(colony="A02.1", box="A02", line="oniscus-asellus"), "A02"),
    ],
)
def test_however_a_colony_came_its_box_is_taken(room: Book, fact: Split | Moved, box: str) -> None:
    write_facts(room, ("2026-06-01", fact))
    reading = read(room, HEAD + f"{box},Cubaris murina,,2026-07-01,9\n")
    assert (reading.rows_asked, reading.facts) == (1, 0)


@pytest.mark.parametrize(
    "fact",
    [
        Ended(colony="A03.1", box="A03", cause="heat"),
        Joined(colony="A03.1", box="A03", into_colony="A01.1", into_box="A01"),
    ],
)
def test_a_new_colony_in_a_box_that_was_emptied_is_asked_and_then_founded(
    room: Book, fact: Ended | Joined
) -> None:
    write_facts(room, ("2026-06-01", fact))
    text = HEAD + "A03,Cubaris murina,,2026-07-01,9\n"
    (asked,) = read(room, text).asked
    assert asked.why.startswith("A03 is empty in the book: its colony A03.1 ended, cause ")
    founded = take_in(room, text, {asked.key: NEW})
    assert kinds(founded) >= {"founded", "counted"}
    assert living(room)["A03"] == ["A03.2"]
    assert read(room, text, {asked.key: NEW}).rows_repeated == 1
    assert read(room, text).rows_repeated == 1


def test_a_count_for_a_colony_that_ended_is_asked_and_can_be_left(room: Book) -> None:
    write_facts(room, ("2026-06-01", Ended(colony="A03.1", box="A03", cause="heat")))
    text = HEAD.replace("\n", ",Litres\n") + A03.replace(",7\n", ",8,5\n")
    reading = read(room, text)
    assert (reading.rows_asked, reading.facts) == (1, 0)
    alone = read(room, text, {reading.asked[0].key: ALONE})
    assert kinds(alone) == {"box_described"}


def test_a_new_colony_ends_the_one_before_it_in_the_same_step(room: Book) -> None:
    text = HEAD + "A03,Cubaris murina,,2026-01-01,9\n"
    (asked,) = read(room, text).asked
    assert {choice.value for choice in asked.choices} == {KEEP, NEW_ENDED, "leave out"}
    written = take_in(room, text, {asked.key: NEW_ENDED})
    told = [(e.happened, e.fact) for e in written.entries if isinstance(e.fact, Ended | Founded)]
    assert told == [
        (
            "2026-01-01",
            Ended(
                colony="A03.1",
                box="A03",
                cause="not_known",
                note="a sheet tells of another colony in this box",
            ),
        ),
        ("2026-01-01", Founded(colony="A03.2", box="A03", line="cubaris-murina")),
    ]
    assert living(room)["A03"] == ["A03.2"]
    assert register_of(room).boxes["A03"].colony == "A03.2"
    assert not [f for f in check(room).findings if "more than one colony" in f.sentence]
    assert read(room, text, {asked.key: NEW_ENDED}).rows_repeated == 1


def test_the_books_colony_is_kept_and_counted(room: Book) -> None:
    text = HEAD + "A03,Cubaris murina,,2026-01-01,9\n"
    (asked,) = read(room, text).asked
    assert kinds(read(room, text, {asked.key: KEEP})) == {"counted"}
    answered_again(room, text, {asked.key: KEEP})


def test_an_answer_that_would_leave_two_living_is_not_taken(room: Book) -> None:
    text = HEAD + "A03,Cubaris murina,,2026-01-01,9\n"
    (asked,) = read(room, text).asked
    reading = read(room, text, {asked.key: "a new colony"})
    assert (reading.rows_asked, reading.facts) == (1, 0)
    assert "was not used" in reading.unused[0]


def test_a_colony_that_came_later_cannot_be_ended_by_an_older_row(room: Book) -> None:
    for since in ("2023-05-01", "2020"):
        (asked,) = read(room, HEAD + f"A03,Cubaris murina,,{since},9\n").asked
        assert [choice.value for choice in asked.choices] == [KEEP, "leave out"]
        assert "not after that" in asked.why


def test_the_same_day_with_another_morph_is_likelier_the_colony_that_is_there(room: Book) -> None:
    (asked,) = read(room, HEAD + A01.replace(",,", ",orange,")).asked
    assert asked.best.value == KEEP
    assert asked.best.likelihood < 0.9
    (later,) = read(room, HEAD + A01.replace(",,2024-01-01", ",orange,2025-01-01")).asked
    likely = {choice.value: choice.likelihood for choice in later.choices}
    assert likely[KEEP] >= likely[NEW_ENDED]
    (other,) = read(room, HEAD + "A01,Oniscus asellus,,2025-01-01,5\n").asked
    assert other.best.value == NEW_ENDED


def test_a_line_that_was_renamed_is_known_by_its_old_name(room: Book) -> None:
    renamed = LineRenamed(line="porcellio-scaber", species="porcellio-laevis", by="the keeper")
    write_facts(room, ("2026-06-01", renamed))
    for name in ("Porcellio scaber", "Porcellio laevis"):
        reading = read(room, HEAD + f"A01,{name},,2024-01-01,8\n")
        assert kinds(reading) == {"counted"}, name


def test_a_retired_box_is_said_to_be_out_of_use(room: Book) -> None:
    write_facts(room, ("2026-06-01", BoxRetired(box="A02")))
    (asked,) = read(room, HEAD + "A02,Cubaris murina,,2026-01-01,9\n").asked
    assert asked.why == "box A02 was taken out of use on 2026-06-01"
    assert asked.best.value == "leave out"
    assert NEW not in {choice.value for choice in asked.choices}


def test_a_count_in_a_box_without_a_colony_is_asked(room: Book) -> None:
    reading = read(room, "Box,Litres,How many\nA02,4,9\nA01,4,9\n")
    assert [row.state for row in reading.rows] == ["asked", "understood"]
    text, answers = "Box,Litres,How many\nA02,4,9\n", {reading.asked[0].key: ALONE}
    assert kinds(read(room, text, answers)) == {"box_described"}


def test_figures_of_a_day_ahead_are_refused() -> None:
    with pytest.raises(Refusal, match="2026-11-26 lies ahead"):
        of_day(date(2026, 11, 26))


def of_day(day: date) -> Reading:
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as aside, create_book(Path(aside) / "b.mancary") as book:
        return read_sheet(book, (HEAD + A01).encode(), "sheet.csv", now=NOW, as_of=day)


def test_a_row_since_after_the_day_of_the_figures_is_refused() -> None:
    assert of_day(date(2024, 1, 1)).rows_understood == 1
    reading = of_day(date(2023, 12, 31))
    (fault,) = reading.refused
    assert (fault.column, reading.facts) == ("Since", 0)
    assert "began after 2023-12-31" in fault.why


def test_figures_from_before_a_colony_came_to_its_box_are_refused(room: Book) -> None:
    moved(room)
    text = (HEAD + "A02,Porcellio scaber,,2024-01-01,9\n").encode()
    (fault,) = read_sheet(room, text, "s.csv", now=NOW, as_of=date(2026, 5, 31)).refused
    assert "came to A02 on 2026-06-01, after 2026-05-31" in fault.why
    assert read_sheet(room, text, "s.csv", now=NOW, as_of=date(2026, 6, 1)).rows_understood == 1


def test_a_sheet_read_before_the_book_moved_on_is_not_written(room: Book) -> None:
    reading = read(room, "Box,Species,Since\nA02,Cubaris murina,2026-01-01\n")
    moved(room)
    with pytest.raises(MovedOn):
        take(room, reading, now=NOW)
    assert living(room) == {"A02": ["A01.1"], "A03": ["A03.1"]}


def test_a_code_told_twice_when_the_skipped_one_is_in_the_book(room: Book) -> None:
    text = HEAD + A01 + "A01,Cubaris murina,,2024-01-01,4\nA03,Oniscus asellus,,2023-05-01,8\n"
    (asked,) = read(room, text).asked
    values = [choice.value for choice in asked.choices]
    assert values == ["A02", "A04", "the same box told again", "leave out"]
    assert asked.best.value == "the same box told again"
    assert {row.box for row in read(room, text, {asked.key: "A04"}).rows} == {"A01", "A03", "A04"}


def test_a_withdrawn_founding_is_asked_and_can_be_founded_anew(room: Book) -> None:
    from mancary.husbandry.facts import Withdrawn

    (founded,) = [e for e in room.entries_of(["founded"]) if "box:A03" in e.fact.subjects()]
    gone = Withdrawn(mistaken=founded.id, why="a slip", touches=founded.fact.subjects())
    write_facts(room, ("2026-11-24", gone))
    (asked,) = read(room, HEAD + A03.replace(",7", ",8")).asked
    assert "withdrawn as a mistake" in asked.why
    take_in(room, HEAD + A03.replace(",7", ",8"), {asked.key: NEW})
    assert [len(codes) for codes in living(room).values()] == [1, 1]
    assert [e.fact.low for e in room.entries_of(["counted"]) if isinstance(e.fact, Counted)][
        -1
    ] == 8
