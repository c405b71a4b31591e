"""The keeper's two files, and how they are read in the tests about them."""

from datetime import UTC, datetime
from pathlib import Path

from mancary.book import Book
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import instant
from mancary.usecases.take_in import Reading, read_sheet

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
