"""Backups are whole, the last few are kept, and one can be put back."""

from pathlib import Path

import pytest

from mancary.book import Book, BookTrouble, open_book
from mancary.book.trouble import AlreadyThere, NotABook
from mancary.husbandry.facts import SeenInBox
from mancary.husbandry.refusal import Refusal
from mancary.usecases.backup import back_up, noted_head, restore
from mancary.usecases.check import check
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from tests.conftest import HandClock


def fill(book: Book, pen: Pen) -> None:
    write(book, [SeenInBox(box="A01", word="mould")] * 5, pen=pen)


def test_a_backup_put_back_is_the_same_book(
    book: Book, pen: Pen, tmp_path: Path, clock: HandClock
) -> None:
    fill(book, pen)
    backup = back_up(book, tmp_path / "safe", keep=3, now=clock.now)
    assert (backup.facts, backup.head) == (book.head().count, book.head().seal)
    target = tmp_path / "again" / "room.mancary"
    restore(Path(backup.file), target)
    with open_book(target) as again:
        assert list(again.entries()) == list(book.entries())
        assert check(again).faults == ()
        fill(again, pen)


def test_the_last_n_are_kept_and_other_files_left_alone(
    book: Book, pen: Pen, tmp_path: Path, clock: HandClock
) -> None:
    safe = tmp_path / "safe"
    safe.mkdir()
    (safe / "holiday.txt").write_text("mine")
    (safe / "room-old.mancary").write_text("mine too")
    names = []
    for _ in range(5):
        clock.forward(hours=1)
        fill(book, pen)
        names.append(back_up(book, safe, keep=2, now=clock.now).file)
    left = sorted(str(path) for path in safe.glob("room-*Z.mancary"))
    assert left == sorted(names[-2:])
    assert (safe / "holiday.txt").exists()
    assert (safe / "room-old.mancary").exists()
    assert noted_head(Path(names[-1]).with_suffix(".json")) == book.head()


def test_a_backup_of_zero_copies_is_refused(book: Book, tmp_path: Path, clock: HandClock) -> None:
    with pytest.raises(Refusal, match="at least one"):
        back_up(book, tmp_path / "safe", keep=0, now=clock.now)


def test_a_damaged_backup_is_not_put_back(
    book: Book, pen: Pen, tmp_path: Path, clock: HandClock
) -> None:
    for _ in range(30):
        fill(book, pen)
    backup = Path(back_up(book, tmp_path / "safe", keep=3, now=clock.now).file)
    content = bytearray(backup.read_bytes())
    spot = content.index(b"mould")
    content[spot : spot + 5] = b"mites"
    backup.write_bytes(content)
    target = tmp_path / "again.mancary"
    with pytest.raises(BookTrouble, match="does not verify"):
        restore(backup, target)
    assert not target.exists()
    backup.write_bytes(content[: len(content) // 2])
    with pytest.raises(NotABook):
        restore(backup, target)


def test_a_clock_that_went_back_does_not_cost_the_new_copy(
    book: Book, pen: Pen, tmp_path: Path, clock: HandClock
) -> None:
    safe = tmp_path / "safe"
    back_up(book, safe, keep=1, now=clock.now)
    clock.forward(days=-400)
    newest = back_up(book, safe, keep=1, now=clock.now)
    assert Path(newest.file).exists()
    assert newest.file not in newest.removed


def test_two_books_of_one_name_do_not_clear_each_others_copies(
    book: Book, pen: Pen, tmp_path: Path, clock: HandClock
) -> None:
    safe = tmp_path / "safe"
    first = back_up(book, safe, keep=1, now=clock.now)
    elsewhere = tmp_path / "other" / "room.mancary"
    with open_new(elsewhere, name="Other", zone="UTC", pen=pen) as other:
        clock.forward(hours=1)
        back_up(other, safe, keep=1, now=clock.now)
    assert Path(first.file).exists()


@pytest.mark.parametrize("suffix", ["-wal", "-shm", "-journal"])
def test_restoring_beside_the_log_of_an_old_book_is_refused(
    book: Book, tmp_path: Path, clock: HandClock, suffix: str
) -> None:
    """SQLite would play the old log into the restored book and ruin it."""
    backup = back_up(book, tmp_path / "safe", keep=3, now=clock.now)
    target = tmp_path / "again.mancary"
    Path(f"{target}{suffix}").write_bytes(b"old")
    with pytest.raises(AlreadyThere, match=suffix):
        restore(Path(backup.file), target)
    assert not target.exists()


def test_restoring_never_overwrites(
    book: Book, path: Path, tmp_path: Path, clock: HandClock
) -> None:
    backup = back_up(book, tmp_path / "safe", keep=3, now=clock.now)
    before = book.head()
    with pytest.raises(AlreadyThere):
        restore(Path(backup.file), path)
    assert book.head() == before


def test_a_backup_is_taken_while_another_reads_and_writes(
    book: Book, path: Path, pen: Pen, tmp_path: Path, clock: HandClock
) -> None:
    with open_book(path) as other:
        reading = other.entries()
        next(reading)
        fill(book, pen)
        backup = back_up(book, tmp_path / "safe", keep=3, now=clock.now)
        assert backup.facts == book.head().count
