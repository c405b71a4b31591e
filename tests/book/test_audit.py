"""Edits and cut-off tails show."""

import hashlib
import json
import sqlite3
from pathlib import Path

import pytest

from mancary.book import Book, Head, open_book
from mancary.book.audit import audit
from tests.book.test_append import NOW, seen


def tamper(path: Path, *statements: str) -> None:
    """Edits the file behind the triggers, as a stray program might."""
    with sqlite3.connect(path) as db:
        for trigger in db.execute("SELECT name FROM sqlite_master WHERE type='trigger'").fetchall():
            db.execute(f"DROP TRIGGER {trigger[0]}")
        for statement in statements:
            db.execute(statement)
    db.close()


@pytest.fixture
def filled(book: Book, path: Path) -> Path:
    book.append([seen(n) for n in range(1, 9)], written_at=NOW)
    book.close()
    return path


def faults(path: Path, earlier: Head | None = None) -> tuple[str, ...]:
    with open_book(path) as book:
        return audit(book, earlier=earlier).faults


def test_a_whole_book_has_no_faults(filled: Path) -> None:
    assert faults(filled) == ()


@pytest.mark.parametrize(
    ("statement", "expected"),
    [
        (
            "UPDATE fact SET body = replace(body, 'mould', 'mites') WHERE number = 4",
            "seal of fact 4",
        ),
        ("UPDATE fact SET happened = '2020-01-01' WHERE number = 5", "seal of fact 5"),
        ("UPDATE fact SET clock_error_s = 1.0 WHERE number = 5", "seal of fact 5"),
        ("UPDATE fact_subject SET subject = 'box:B01' WHERE number = 3", "seal of fact 3"),
        ("DELETE FROM fact_subject WHERE number = 3", "seal of fact 3"),
        ("DELETE FROM fact WHERE number = 6", "missing"),
        ("DELETE FROM fact WHERE number >= 8", "cut off"),
    ],
)
def test_every_edit_shows(filled: Path, statement: str, expected: str) -> None:
    tamper(filled, statement)
    assert any(expected in fault for fault in faults(filled)), faults(filled)


def test_a_chain_rewritten_whole_shows_against_a_head_noted_elsewhere(filled: Path) -> None:
    with open_book(filled) as book:
        head = book.head()
    assert faults(filled, head) == ()
    assert any("noted earlier" in fault for fault in faults(filled, Head(head.count, "0" * 64)))
    assert any(
        "noted earlier" in fault for fault in faults(filled, Head(head.count + 1, head.seal))
    )


def test_a_seal_can_be_recomputed_from_its_description_alone(filled: Path) -> None:
    """The chain as the hand-out's README describes it, with the standard library only."""
    with sqlite3.connect(filled) as db:
        before = ""
        for row in db.execute(
            "SELECT number,id,kind,version,happened,typed,clock_error_s,written,body,seal FROM fact"
        ).fetchall():
            subjects = sorted(
                s for (s,) in db.execute("SELECT subject FROM fact_subject WHERE number=?", row[:1])
            )
            text = json.dumps([*row[:9], subjects], separators=(",", ":"), ensure_ascii=False)
            before = hashlib.sha256(f"{before}\n{text}".encode()).hexdigest()
            assert before == row[9]
    db.close()
