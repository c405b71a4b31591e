"""``mancary count`` as a keeper types it."""

import csv
from pathlib import Path

import pytest

from mancary.cli.front import front

from .test_commands import Keyboard


@pytest.fixture
def room(tmp_path: Path) -> Keyboard:
    keyboard = Keyboard(tmp_path / "room.mancary")
    keyboard.done("open", "My room", "--zone", "Europe/Stockholm")
    keyboard.done("describe", "A01", "--litres", "3")
    keyboard.done("found", "A01", "P. scaber", "--animals", "12", "--on", "2026-01-10")
    return keyboard


def test_passes_are_written_with_their_range(room: Keyboard) -> None:
    answer = room.json("count", "A01", "--passes", "25,12,5")
    assert answer["box"] == "A01"
    assert answer["low"] <= answer["estimate"] <= answer["high"]
    assert len(answer["ids"]) == 1
    line = [one["words"] for one in room.json("box", "A01")["time_line"]]
    assert "counted passes of 25, 12 and 5" in line


def test_a_dry_run_writes_nothing(room: Keyboard) -> None:
    before = len(room.json("box", "A01")["time_line"])
    assert "95 %" in room.done("count", "A01", "--marks", "20,25,4", "--dry-run")
    assert len(room.json("box", "A01")["time_line"]) == before


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (("--full", "12", "--hide", "3"), "one way at a time"),
        ((), "none was told"),
        (("--scoops", "5,3"), "what share of the box"),
        (("--scoops", "5,3", "--share", "60%"), "no more than the whole box"),
        (("--passes", "25"), "two or more numbers"),
        (("--marks", "20,25,26"), "can be no more"),
        (("--band", "loads"), "no size band"),
        (("--full", "50-40"), "second number of a range"),
        (("--full", "20000"), "outside 0 to 10,000"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    room: Keyboard, typed: tuple[str, ...], why: str
) -> None:
    before = len(room.json("box", "A01")["time_line"])
    answer = room.type("count", "A01", *typed)
    assert answer.exit_code == 1
    assert why in answer.stderr
    assert len(room.json("box", "A01")["time_line"]) == before


def test_a_word_for_a_number_is_a_slip_of_typing(room: Keyboard) -> None:
    answer = room.type("count", "A01", "--full", "many")
    assert answer.exit_code == 2
    assert "expected 37, 40-50 or 50+" in answer.stderr


def test_counts_go_through_a_hand_out_whole(room: Keyboard, tmp_path: Path) -> None:
    room.done("count", "A01", "--scoops", "5,3,7", "--share", "5%", "--on", "2026-08-01")
    room.done("count", "A01", "--marks", "20,25,4", "--on", "2026-08-02")
    folder = tmp_path / "out"
    room.done("hand-out", str(folder))
    with (folder / "counts.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["how"], row["samples"], row["marked"]) for row in rows] == [
        ("scoop", "5 3 7", ""), ("marks", "", "20"),
    ]  # fmt: skip
    again = Keyboard(tmp_path / "again.mancary")
    again.done("take-in", str(folder))
    assert again.json("box", "A01")["time_line"] == room.json("box", "A01")["time_line"]


def test_the_command_is_in_the_help() -> None:
    assert "count" in front.list_commands(None)  # type: ignore[arg-type]
