"""Facts go in at the end, once, and come back."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mancary.book import Book, create_book, open_book
from mancary.book.audit import audit
from mancary.book.trouble import Clash
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Moved, SeenInBox
from mancary.husbandry.refusal import Refusal
from tests.husbandry.strategies import entries

NOW = datetime(2026, 11, 1, 12, tzinfo=UTC)
REST = "id, kind, version, happened, typed, clock_error_s, written, body, seal"


def seen(number: int, *, happened: str = "2026-10-01") -> Entry:
    return Entry(
        id=f"00000000-0000-7000-8000-{number:012x}",
        happened=happened,
        typed="2026-11-01T12:00:00.000Z",
        fact=SeenInBox(box="A01", word="mould"),
    )


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(told=st.lists(entries(), max_size=12, unique_by=lambda e: e.id), again=st.integers(0, 12))
def test_what_is_written_comes_back_in_order_and_once(
    told: list[Entry], again: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("book") / "b.mancary"
    with create_book(path) as book:
        first = book.append(told, written_at=NOW)
        second = book.append(told[:again], written_at=NOW)
        assert first.written == tuple(e.id for e in told)
        assert second.written == ()
        assert second.repeated == tuple(e.id for e in told[:again])
    with open_book(path) as book:
        back = list(book.entries())
        assert [(e.id, e.happened, e.typed, e.fact) for e in back] == [
            (e.id, e.happened, e.typed, e.fact) for e in told
        ]
        for kept, typed in zip(back, told, strict=True):
            if typed.clock_error_s is None:
                assert kept.clock_error_s is None
            else:  # kept to the millisecond
                assert kept.clock_error_s == pytest.approx(typed.clock_error_s, abs=0.0005001)
        assert [e.number for e in back] == list(range(1, len(told) + 1))
        assert audit(book).faults == ()
        assert book.head().count == len(told)


def test_an_id_with_other_words_is_refused_and_nothing_is_written(book: Book) -> None:
    book.append([seen(1)], written_at=NOW)
    before = book.head()
    with pytest.raises(Clash):
        book.append([seen(2), seen(1, happened="2026-10-02")], written_at=NOW)
    assert book.head() == before


def test_one_bad_fact_keeps_all_others_out(book: Book) -> None:
    before = book.head()
    bad = SeenInBox(box="A01", word="sparkles")  # type: ignore[arg-type]
    wrong = Entry(id=seen(9).id, happened="2026-10-01", typed=seen(9).typed, fact=bad)
    with pytest.raises(Refusal):
        book.append([seen(1), wrong], written_at=NOW)
    assert book.head() == before


def test_a_fact_is_found_by_all_its_subjects(book: Book) -> None:
    moved = Moved(colony="A01.1", from_box="A01", to_box="B02")
    entry = Entry(id=seen(1).id, happened="2026-10-01", typed=seen(1).typed, fact=moved)
    book.append([entry], written_at=NOW)
    for subject in ("box:A01", "box:B02", "colony:A01.1"):
        assert [e.fact for e in book.entries_about(subject)] == [moved]
    assert sorted(book.subjects("box")) == ["A01", "B02"]
    assert not book.is_known("box:C03")


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE fact SET body = '{}' WHERE number = 2",
        "DELETE FROM fact WHERE number = 2",
        f"INSERT OR REPLACE INTO fact SELECT number, {REST} FROM fact WHERE number = 2",
        f"REPLACE INTO fact SELECT 99, {REST} FROM fact WHERE number = 2",
        "UPDATE fact_subject SET subject = 'box:Z'",
        "DELETE FROM fact_subject",
    ],
)
def test_the_file_itself_refuses_to_forget(book: Book, path: Path, statement: str) -> None:
    """The triggers hold against any program, not only against ours."""
    book.append([seen(1)], written_at=NOW)
    with sqlite3.connect(path) as db, pytest.raises(sqlite3.IntegrityError, match="append-only"):
        db.execute(statement)
    db.close()
    assert audit(book).faults == ()


def test_replacing_a_subject_changes_nothing(book: Book, path: Path) -> None:
    book.append([seen(1)], written_at=NOW)
    before = list(book.connection.execute("SELECT * FROM fact_subject"))
    with sqlite3.connect(path) as db:
        db.execute("REPLACE INTO fact_subject SELECT subject, number FROM fact_subject")
    db.close()
    assert list(book.connection.execute("SELECT * FROM fact_subject")) == before
    assert audit(book).faults == ()


def test_it_keeps_to_full_sync_and_the_write_ahead_log(book: Book) -> None:
    assert book.connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert book.connection.execute("PRAGMA synchronous").fetchone() == (2,)
