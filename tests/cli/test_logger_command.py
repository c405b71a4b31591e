"""``mancary logger`` as a keeper types it: a file in, the shelf's days told, nothing twice."""

from pathlib import Path

import pytest

from .test_commands import Keyboard

# typed by hand: a day's lowest and highest can be read off
FILE = (
    "Zeit;Temperatur (°C);Feuchte (%)\n"
    "01.08.2026 00:00;20,0;50\n"
    "01.08.2026 12:00;24,0;40\n"
    "01.08.2026 23:00;21,0;45\n"
    "02.08.2026 12:00;31,5;30\n"
)


@pytest.fixture
def room(tmp_path: Path) -> Keyboard:
    keyboard = Keyboard(tmp_path / "room.mancary")
    keyboard.done("open", "My room", "--zone", "Europe/Stockholm")
    keyboard.done("describe", "A01", "--litres", "3", "--shelf", "S1", "--on", "2026-07-01")
    keyboard.done("found", "A01", "P. dilatatus", "--animals", "12", "--on", "2026-07-01")
    return keyboard


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = tmp_path / "log.csv"
    path.write_text(FILE, encoding="utf-8")
    return path


def test_days_are_written_once(room: Keyboard, log: Path) -> None:
    dry = room.json("logger", str(log), "S1", "--day-first", "--dry-run")
    assert (dry["dry_run"], dry["ids"]) == (True, [])
    taken = room.json("logger", str(log), "S1", "--day-first")
    days = [one["day"] for one in taken["days"]]
    assert [(day["lowest_c"], day["highest_c"]) for day in days] == [(20.0, 24.0), (31.5, 31.5)]
    assert len(taken["ids"]) == 2
    again = room.json("logger", str(log), "S1", "--day-first")
    assert [one["state"] for one in again["days"]] == ["same", "same"]
    assert again["ids"] == []


def test_the_hot_day_reaches_the_box(room: Keyboard, log: Path) -> None:
    room.done("logger", str(log), "S1", "--day-first")
    spells = room.json("warmth", "--on", "2026-08-03")["spells"]
    assert [(one["box"], one["spell"]["too"], one["spell"]["worst_c"]) for one in spells] == [
        ("A01", "hot", 31.5)
    ]


def test_a_file_that_is_no_log_is_refused(room: Keyboard, tmp_path: Path) -> None:
    path = tmp_path / "no.csv"
    path.write_text("name;colour\nA01;orange\n", encoding="utf-8")
    told = room.type("logger", str(path), "S1")
    assert told.exit_code == 1
    assert "expected the table of a logger" in told.stderr
