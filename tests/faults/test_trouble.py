"""A full disk, a read-only file, a locked, a truncated, a foreign file: a sentence, an exit code,
the book untouched."""

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from mancary.book import Book, create_book, open_book
from mancary.book import file as book_file
from mancary.book.audit import audit
from mancary.book.trouble import AlreadyThere, Busy, Full, NoBook, NotABook, TooNew
from mancary.husbandry.facts import SeenInBox
from mancary.usecases.pen import Pen
from mancary.usecases.record import write

MOULD = SeenInBox(box="A01", word="mould")


def mancary(path: Path, *words: str, **limits: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "mancary", "--book", str(path), *words]
    environment = {**os.environ, **limits}
    return subprocess.run(command, capture_output=True, text=True, env=environment, timeout=60)


def test_a_missing_book_says_how_to_open_one(tmp_path: Path) -> None:
    told = mancary(tmp_path / "none.mancary", "check")
    assert told.returncode == NoBook.exit_code
    assert "There is no book" in told.stderr
    assert "open 'NAME'" in told.stderr
    assert not (tmp_path / "none.mancary").exists()


def test_an_existing_file_is_never_opened_over(path: Path, book: Book) -> None:
    book.close()
    before = path.read_bytes()
    with pytest.raises(AlreadyThere):
        create_book(path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("content", [b"", b"Box;Species\nA01;scaber\n", os.urandom(4096)])
def test_a_foreign_file_is_left_as_it_is(tmp_path: Path, content: bytes) -> None:
    foreign = tmp_path / "foreign.mancary"
    foreign.write_bytes(content)
    told = mancary(foreign, "check")
    assert told.returncode == NotABook.exit_code
    assert "not a whole Mancary book" in told.stderr
    assert foreign.read_bytes() == content


def test_another_programs_database_is_left_as_it_is(tmp_path: Path) -> None:
    foreign = tmp_path / "foreign.mancary"
    with sqlite3.connect(foreign) as db:
        db.execute("CREATE TABLE fact (a)")
    db.close()
    content = foreign.read_bytes()
    with pytest.raises(NotABook, match="another program"):
        open_book(foreign)
    assert foreign.read_bytes() == content


def test_a_truncated_book_is_named_and_left(book: Book, path: Path) -> None:
    pen = Pen()
    for _ in range(60):
        write(book, [MOULD], pen=pen)
    book.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    book.close()
    content = path.read_bytes()[: path.stat().st_size // 2]
    path.write_bytes(content)
    told = mancary(path, "check")
    assert told.returncode == NotABook.exit_code
    assert "not a whole Mancary book" in told.stderr
    assert path.read_bytes() == content


def test_a_book_of_a_newer_layout_is_said_so(book: Book, path: Path) -> None:
    book.connection.execute("PRAGMA user_version = 99")
    book.close()
    with pytest.raises(TooNew, match="newer Mancary"):
        open_book(path)


def test_a_locked_book_is_said_so_and_nothing_is_written(
    book: Book, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    monkeypatch.setattr(book_file, "BUSY_MS", 50)
    with open_book(path) as second:
        before = second.head()
        with pytest.raises(Busy, match="Nothing was written"):
            write(second, [MOULD], pen=Pen())
        other.execute("ROLLBACK")
        other.close()
        assert second.head() == before
        write(second, [MOULD], pen=Pen())
        assert second.head().count == before.count + 1


def test_a_full_book_file_is_said_so_and_nothing_is_half_written(book: Book) -> None:
    """SQLite's own page limit answers with the very error that a full disk gives."""
    pages = book.connection.execute("PRAGMA page_count").fetchone()[0]
    book.connection.execute(f"PRAGMA max_page_count = {pages}")
    before = book.head()
    with pytest.raises(Full, match="disk"):
        write(book, [MOULD] * 10_000, pen=Pen())
    assert book.head() == before
    book.connection.execute("PRAGMA max_page_count = 1000000")
    assert audit(book).faults == ()
    write(book, [MOULD], pen=Pen())


def test_a_disk_that_takes_no_more_is_said_so(book: Book, path: Path) -> None:
    """A real write error from the kernel: no file of the process may grow past a limit."""
    write(book, [SeenInBox(box="A01", word="mould")], pen=Pen())
    before = book.head()
    book.close()
    size = path.stat().st_size
    script = (
        "import resource, signal, sys; signal.signal(signal.SIGXFSZ, signal.SIG_IGN);"
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({size // 4}, {size // 4}));"
        "from mancary.cli.front import front; front()"
    )
    command = [sys.executable, "-c", script, "--book", str(path), "note", "A01", "note", "x" * 3900]
    results = [
        subprocess.run(command, capture_output=True, text=True, timeout=60) for _ in range(8)
    ]
    failed = [told for told in results if told.returncode != 0]
    assert failed, "no write ever met the limit: the test shows nothing"
    for told in failed:
        assert told.returncode == 74
        assert "Nothing was written" in told.stderr
        assert "Traceback" not in told.stderr
    with open_book(path) as opened:
        assert audit(opened).faults == ()
        assert opened.head().count == before.count + len(results) - len(failed)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anything; see the test below")
def test_a_read_only_book_is_said_so(book: Book, path: Path) -> None:
    book.close()
    path.chmod(0o400)
    path.parent.chmod(0o500)
    try:
        told = mancary(path, "note", "A01", "mould")
    finally:
        path.parent.chmod(0o700)
    assert told.returncode == 77
    assert "may not be written" in told.stderr


def test_a_book_that_sqlite_calls_read_only_is_said_so(book: Book) -> None:
    from mancary.book.trouble import ReadOnly

    book.connection.execute("PRAGMA query_only = ON")
    before = book.head()
    with pytest.raises(ReadOnly, match="Nothing was written"):
        write(book, [MOULD], pen=Pen())
    assert book.head() == before
