"""The keeper's two files, and how they are read in the tests about them."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from mancary.book import Book, create_book
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import BoxDescribed, Ended, Fact, Moved
from mancary.husbandry.moments import instant
from mancary.usecases.take_in import Reading, read_sheet, take

DATA = Path(__file__).parents[1] / "sheets" / "data"
NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
BOXES = (DATA / "boxes.csv").read_bytes()
JOURNAL = (DATA / "journal.csv").read_bytes()


def boxes(book: Book, answers: dict[str, str] | None = None) -> Reading:
    return read_sheet(book, BOXES, "boxes.csv", now=NOW, answers=answers)


def journal(book: Book, answers: dict[str, str] | None = None) -> Reading:
    return read_sheet(book, JOURNAL, "journal.csv", now=NOW, answers=answers)


def facts_in(reading: Reading, line: int) -> list[tuple[str, Fact]]:
    (row,) = [row for row in reading.rows if row.line == line]
    return [(entry.happened, entry.fact) for entry in row.entries]


def counts(reading: Reading) -> tuple[int, int, int, int, int]:
    return (
        reading.rows_read,
        reading.rows_understood,
        reading.rows_refused,
        reading.rows_asked,
        reading.rows_repeated,
    )


def write_facts(book: Book, *told: tuple[str, Fact]) -> None:
    """Writes facts as happened on their days."""
    typed = instant(NOW)
    entries = [
        Entry(id=derived_id(f"{happened}{fact}"), happened=happened, typed=typed, fact=fact)
        for happened, fact in told
    ]
    book.append(entries, written_at=NOW)


@contextmanager
def room_of_three(folder: Path) -> Iterator[Book]:
    """A01 with Porcellio scaber, A03 with Oniscus asellus, and a spare A02."""
    text = (
        "Box,Species,Morph,Since,How many\n"
        "A01,Porcellio scaber,,2024-01-01,5\nA03,Oniscus asellus,,2023-05-01,7\n"
    )
    with create_book(folder / "room.mancary") as book:
        take_in(book, text)
        write_facts(book, ("2026-01-01", BoxDescribed(box="A02", litres=3)))
        yield book


def read(book: Book, text: str, answers: dict[str, str] | None = None) -> Reading:
    return read_sheet(book, text.encode(), "sheet.csv", now=NOW, answers=answers)


def take_in(book: Book, text: str, answers: dict[str, str] | None = None) -> Reading:
    return take(book, read(book, text, answers), now=NOW).reading


def answered_again(book: Book, text: str, answers: dict[str, str]) -> None:
    """The same sheet with the same answers is written once, and the answers stay good."""
    take_in(book, text, answers)
    again = read(book, text, answers)
    assert (again.rows_repeated, again.unused) == (again.rows_read, ())


def moved(book: Book) -> None:
    write_facts(book, ("2026-06-01", Moved(colony="A01.1", from_box="A01", to_box="A02")))


def ended(book: Book) -> None:
    write_facts(book, ("2026-06-01", Ended(colony="A03.1", box="A03", cause="heat")))
