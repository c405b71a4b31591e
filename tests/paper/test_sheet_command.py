"""The command as a keeper types it, and files that stand in the way."""

import errno
import json
import re
import shlex
from pathlib import Path
from secrets import token_bytes

import pytest
from click.testing import CliRunner, Result

from mancary.book import Book, open_book
from mancary.cli.front import front
from mancary.paper.filing import put_pdf
from mancary.paper.round_sheet import round_sheet
from mancary.paper.typing_in import steps
from mancary.usecases import set_up
from mancary.usecases.pen import Pen
from mancary.usecases.round_kept import accepted_round
from tests.conftest import HandClock
from tests.paper.conftest import SUNDAY, text_of

PDF = b"%PDF-1.7 an older sheet"


@pytest.fixture
def closed(room: Book, path: Path) -> Path:
    room.close()
    return path


def sheet(book: Path, *words: str) -> Result:
    return CliRunner().invoke(front, ["--book", str(book), "sheet", *words])


def test_the_sheet_is_written_and_named(closed: Path, tmp_path: Path) -> None:
    out = tmp_path / "round.pdf"
    told = sheet(closed, str(out), "--on", "2026-11-01", "--json")
    assert told.exit_code == 0, told.output
    answered = json.loads(told.stdout)
    assert (answered["date"], answered["boxes"]) == ("2026-11-01", 12)
    assert answered["accepted"]
    assert answered["kept_now"]
    assert "Round of Sunday 1 November 2026" in text_of(out.read_bytes())
    assert sorted(one.name for one in tmp_path.iterdir() if one.suffix != ".mancary") == [
        "round.pdf"
    ]


def facts(book: Path) -> int:
    with open_book(book) as opened:
        return opened.head().count


def test_the_plan_on_it_is_kept_once(closed: Path, tmp_path: Path) -> None:
    told = sheet(closed, str(tmp_path / "a.pdf"), "--on", "2026-11-01", "--minutes", "7,5")
    assert "This plan is kept" in told.output
    with open_book(closed) as book:
        kept = accepted_round(book, SUNDAY)
    assert kept
    assert kept.evenings[0].minutes == 7.5
    text = text_of((tmp_path / "a.pdf").read_bytes())
    assert all(stop.box in text for stop in kept.evenings[0].stops)
    assert "was not yet accepted" not in text
    before = facts(closed)
    again = sheet(closed, str(tmp_path / "b.pdf"), "--on", "2026-11-01")
    assert "kept for that evening already" in again.output
    assert (tmp_path / "b.pdf").read_bytes() == (tmp_path / "a.pdf").read_bytes()
    assert facts(closed) == before


def test_only_print_leaves_the_book_alone_and_says_how_to_keep_the_plan(
    closed: Path, tmp_path: Path
) -> None:
    before = facts(closed)
    told = sheet(
        closed, str(tmp_path / "a.pdf"), "--on", "2026-11-01", "--minutes", "7,5", "--only-print"
    )
    assert told.exit_code == 0, told.output
    assert "mancary round --on 2026-11-01 --minutes 7.5 --accept" in told.output
    assert facts(closed) == before


def test_other_minutes_do_not_change_a_kept_plan_and_that_is_said(
    closed: Path, tmp_path: Path
) -> None:
    sheet(closed, str(tmp_path / "a.pdf"), "--on", "2026-11-01")
    before = facts(closed)
    told = sheet(closed, str(tmp_path / "b.pdf"), "--on", "2026-11-01", "--minutes", "5")
    assert "Another plan was kept for that evening already" in told.output
    assert "mancary round --on 2026-11-01 --minutes 5 --accept" in told.output
    assert facts(closed) == before


def test_what_stands_there_is_left_unless_told(closed: Path, tmp_path: Path) -> None:
    out = tmp_path / "round.pdf"
    out.write_bytes(PDF)
    told = sheet(closed, str(out), "--on", "2026-11-01")
    assert told.exit_code == 73
    assert "is there already; it was left as it is" in told.stderr
    assert "--replace" in told.stderr
    assert out.read_bytes() == PDF
    assert sheet(closed, str(out), "--on", "2026-11-01", "--replace").exit_code == 0
    assert "Round of Sunday" in text_of(out.read_bytes())


def test_nothing_but_a_pdf_is_ever_written_over(closed: Path) -> None:
    before = closed.read_bytes()
    told = sheet(closed, str(closed), "--on", "2026-11-01", "--replace")
    assert told.exit_code == 73
    assert "is no PDF" in told.stderr
    assert closed.read_bytes() == before


def test_a_place_that_is_not_is_said_in_a_sentence(closed: Path, tmp_path: Path) -> None:
    for place in (tmp_path / "none" / "round.pdf", closed / "round.pdf"):
        told = sheet(closed, str(place), "--on", "2026-11-01")
        assert told.exit_code == 74
        assert f"{place} cannot be reached" in told.stderr
        assert "Traceback" not in told.output


@pytest.mark.parametrize(
    ("number", "code", "words"), [(errno.ENOSPC, 74, "is full"), (errno.EACCES, 77, "may not be")]
)
def test_a_file_is_whole_or_not_there(
    closed: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    number: int,
    code: int,
    words: str,
) -> None:
    def fails(self: Path, target: Path) -> Path:
        raise OSError(number, "no")

    folder = tmp_path / "out"
    folder.mkdir()
    monkeypatch.setattr(Path, "replace", fails)
    told = sheet(closed, str(folder / "round.pdf"), "--on", "2026-11-01")
    assert (told.exit_code, words in told.stderr) == (code, True)
    assert list(folder.iterdir()) == []


def test_a_replaced_file_keeps_to_the_folders_usual_rights(tmp_path: Path) -> None:
    usual = tmp_path / "usual"
    usual.touch()
    put_pdf(tmp_path / "a.pdf", PDF, replace=False)
    assert (tmp_path / "a.pdf").stat().st_mode == usual.stat().st_mode


def test_what_the_sheet_says_to_type_can_be_typed_as_it_stands(
    room: Book, path: Path, pen: Pen, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    set_up.quarantine(room, "B03", why="new", until=None, pen=pen, happened="2026-10-20")
    made = round_sheet(room, on=SUNDAY, named=True, minutes=20)
    room.close()
    told = made.told
    typed = [line for step in steps(told, accepted=False, minutes=20) for line in step.commands]
    assert [line.split()[1] for line in typed] == ["round", *["done"] * 2, *["note"] * 3]
    on_sheet = unbroken(text_of(made.sheet.pdf))
    monkeypatch.setattr(Pen.__init__, "__kwdefaults__", {"clock": clock, "chance": token_bytes})
    for line in typed:  # what the first "done" wrote, the second tells as written already
        assert unbroken(line) in on_sheet
        answered = CliRunner().invoke(front, ["--book", str(path), *shlex.split(line)[1:]])
        assert answered.exit_code == 0, (line, answered.output)


def unbroken(text: str) -> str:
    """Without blanks and hyphens: a line may be broken at either."""
    return re.sub(r"[\s-]", "", text)
