"""``mancary water`` as a keeper types it, from the first weighing to the pour."""

import csv
from pathlib import Path

import pytest

from mancary.cli.front import front

from .test_commands import Keyboard


@pytest.fixture
def room(tmp_path: Path) -> Keyboard:
    keyboard = Keyboard(tmp_path / "room.mancary")
    keyboard.done("open", "My room", "--zone", "Europe/Stockholm")
    keyboard.done("describe", "A01", "--litres", "3", "--damp", "1/2")
    return keyboard


def weigh_for_a_month(room: Keyboard) -> None:
    room.done("note", "A01", "weigh", "1462 just right", "--on", "2026-08-01")
    room.done("note", "A01", "weigh", "1432 too dry", "--on", "2026-08-16")
    room.done("note", "A01", "mist", "30 mL", "--on", "2026-08-16")
    room.done("note", "A01", "weigh", "1442", "--on", "2026-08-26")


def test_a_box_never_weighed_says_what_to_do(room: Keyboard) -> None:
    told = room.done("water", "A01")
    assert "Not weighed yet" in told
    assert "just right" in told


def test_loss_reserve_and_pour_in_words_and_json(room: Keyboard) -> None:
    weigh_for_a_month(room)
    told = room.done("water", "A01", "--on", "2026-08-30")
    assert "g a day" in told
    assert "Pour" in told
    assert "above the weight marked too dry" in told
    water = room.json("water", "a01", "--on", "2026-08-30")
    assert water["box"] == "A01"
    low, high = water["pour_ml"]
    assert low < 28 < high
    assert water["just_right_g"] == 1462
    assert water["used"] <= water["used_latest"]


def test_marks_are_on_the_time_line_and_in_the_hand_out(room: Keyboard, tmp_path: Path) -> None:
    weigh_for_a_month(room)
    line = [one["words"] for one in room.json("box", "A01")["time_line"]]
    assert "weighed 1462 g, just right" in line
    folder = tmp_path / "out"
    room.done("hand-out", str(folder))
    with (folder / "weighings.csv").open(encoding="utf-8", newline="") as file:
        marks = {row["gross_g"]: row["mark"] for row in csv.DictReader(file)}
    assert [marks[one] for one in sorted(marks)] == ["too_dry", "", "just_right"]
    again = Keyboard(tmp_path / "again.mancary")
    again.done("take-in", str(folder))
    assert again.json("water", "A01", "--on", "2026-08-30") == room.json(
        "water", "A01", "--on", "2026-08-30"
    )


def test_an_unknown_box_is_refused(room: Keyboard) -> None:
    told = room.type("water", "Z99")
    assert told.exit_code == 1
    assert "no box Z99" in told.output


def test_the_help_says_how_to_mark_a_weight(room: Keyboard) -> None:
    assert "water" in front.list_commands(None)  # type: ignore[arg-type]
    assert "just right" in room.done("water", "--help")
