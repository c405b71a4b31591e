"""The commands as a keeper types them: words, JSON, exit codes."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from mancary.book import open_book
from mancary.cli.front import COMMANDS, front
from mancary.usecases.standings import register_of

DATA = Path(__file__).parents[1] / "sheets" / "data"


class Keyboard:
    """Types commands about one book."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def type(self, *words: str) -> Result:
        return CliRunner().invoke(front, ["--book", str(self.path), *words])

    def done(self, *words: str) -> str:
        told = self.type(*words)
        assert told.exit_code == 0, told.output
        return told.stdout

    def json(self, *words: str) -> Any:
        return json.loads(self.done(*words, "--json"))


@pytest.fixture
def keyboard(tmp_path: Path) -> Keyboard:
    return Keyboard(tmp_path / "room.mancary")


@pytest.fixture
def room(keyboard: Keyboard) -> Keyboard:
    keyboard.done("open", "My room", "--zone", "Europe/Stockholm")
    keyboard.done("describe", "A01", "--litres", "3", "--vents", "24x3 mm lid", "--damp", "1/3")
    keyboard.done("describe", "A02", "--shelf", "S1")
    keyboard.done("found", "A01", "P. dilatatus", "--animals", "12")
    return keyboard


def test_every_command_helps_without_a_book(keyboard: Keyboard) -> None:
    for name in COMMANDS:
        assert "Usage" in keyboard.done(name, "--help")
    assert not keyboard.path.exists()


def test_a_note_is_on_disk_when_the_command_returns(room: Keyboard) -> None:
    told = room.json("note", "a01", "protein", "pinch")
    fact_id = told["facts"][0]["id"]
    card = room.json("box", "A01")
    assert fact_id in [one["id"] for one in card["time_line"]]
    protein = next(w for w in card["wants"]["wants"] if w["care"] == "protein")
    assert protein["state"] == "later"


def test_a_care_of_a_whole_shelf_is_written_for_each_of_its_colonies(room: Keyboard) -> None:
    room.done("describe", "A01", "--shelf", "S1")
    told = room.done("note", "s1", "mist", "30 mL", "--shelf")
    assert [line.partition(":")[0] for line in told.splitlines()] == ["A01"]  # A02 is spare
    refused = room.type("note", "S1", "mould", "--shelf")
    assert (refused.exit_code, "whole shelf" in refused.stderr) == (1, True)


def test_a_note_of_an_earlier_day_keeps_the_day(room: Keyboard) -> None:
    assert (
        room.json("note", "A01", "mould", "--on", "2026-03-01")["facts"][0]["happened"]
        == "2026-03-01"
    )


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("note", "A1", "mould"), 1, "no box A1"),
        (("note", "A01", "sparkle"), 1, "no word"),
        (("note", "A01", "mould", "--on", "someday"), 2, "expected a date"),
        (("note", "A01", "mould", "--on", "2999-01-01"), 1, "future"),
        (("found", "A02", "Porcellio blahblah"), 1, "in no page"),
        (("found", "A01", "Porcellio scaber"), 1, "holds colony"),
        (("withdraw", "nothing"), 1, "no fact"),
        (("species", "qqqqqq"), 1, "not certain"),
        (("open", "Again"), 73, "already"),
        (("backup", "OUT", "--keep", "0"), 1, "at least one"),
        (("nonsense",), 2, "No such command"),
    ],
)
def test_what_is_refused_says_why_and_writes_nothing(
    room: Keyboard, tmp_path: Path, words: tuple[str, ...], code: int, said: str
) -> None:
    before = room.json("check")["facts"]
    told = room.type(*(str(tmp_path / "out") if word == "OUT" else word for word in words))
    assert told.exit_code == code
    assert said in told.output
    assert room.json("check")["facts"] == before


def test_correcting_and_withdrawing_by_id(room: Keyboard) -> None:
    fact = room.json("note", "A01", "protein")["facts"][0]["id"]
    told = room.json("correct", fact, "vegetable", "1 slice", "--why", "wrong word")
    assert told["withdrawn"] == fact
    room.done("withdraw", told["instead"], "--why", "not fed at all")
    line = {one["id"]: one for one in room.json("box", "A01")["time_line"]}
    assert line[fact]["withdrawn"]
    assert line[told["instead"]]["why_withdrawn"] == "not fed at all"


def test_a_year_of_commands_leaves_a_sound_book(room: Keyboard, tmp_path: Path) -> None:
    room.done("shelf", "S1", "18.5", "26")
    room.done("batch", "L1", "leaves", "--place", "lower wood", "--treatment", "aged")
    room.done("rename", "porcellio-dilatatus", "Porcellio laevis", "--by", "me, with a lens")
    room.done("move", "A01", "A02", "--why", "step-up")
    room.done("split", "A02", "A01", "--animals", "15")
    room.done("take", "A02", "20", "--to", "swap")
    room.done("quarantine", "A01", "--why", "new", "--until", "2030-01-01")
    room.done("quarantine", "A01", "--over")
    room.done("figure", "vegetable_days", "8", "10", "--box", "A01")
    room.done("join", "A01", "A02")
    room.done("end", "A02", "--cause", "heat")
    room.done("page", "Cubaris sp. Fog", "asian-cave-armadillidae")
    room.done("found", "A02", "Cubaris sp. Fog")
    room.done("batch", "L1", "--over")
    room.done("retire", "A01")
    checked = room.json("check")
    assert (checked["faults"], checked["findings"]) == ([], [])
    backup = room.json("backup", str(tmp_path / "safe"))
    again = Keyboard(tmp_path / "again.mancary")
    assert again.json("restore", backup["file"])["head"] == checked["head"]
    note = str(Path(backup["file"]).with_suffix(".json"))
    room.done("note", "A02", "look")
    assert "none is missing" in room.done("check", "--against", note)
    room.done("hand-out", str(tmp_path / "out"))
    copy = Keyboard(tmp_path / "copy.mancary")
    assert copy.json("take-in", str(tmp_path / "out"))["identical"]
    assert copy.json("check")["head"] == room.json("check")["head"]


def test_a_sheet_is_taken_in_from_nothing(keyboard: Keyboard) -> None:
    dry = keyboard.json("take-in", str(DATA / "boxes.csv"), "--dry-run")
    assert not keyboard.path.exists()
    names = ("rows_understood", "rows_refused", "rows_asked", "rows_repeated")
    assert dry["rows_read"] == sum(dry[name] for name in names) == 64
    assert [(one["row"], one["column"], one["value"]) for one in dry["refused"]] == [
        (7, "Since", "31.02.2025"),
        (43, "Litres", "-3"),
    ]
    for one in (*dry["refused"], *dry["asked"]):
        assert one["why"]
    assert all(one["choices"] for one in dry["asked"])
    keyboard.done("take-in", str(DATA / "boxes.csv"), "--yes", "--answer", "7:Since=28.02.2025",
                  "--answer", "43:Litres=3", "--answer", "twice:B01:2=B02")  # fmt: skip
    keyboard.done("take-in", str(DATA / "journal.csv"), "--yes")
    before = keyboard.json("check")["facts"]
    for name in ("boxes.csv", "journal.csv"):
        keyboard.done("take-in", str(DATA / name), "--yes")
    assert keyboard.json("check")["facts"] == before
    wanted = keyboard.json("wants", "--on", "2026-05-01")
    assert len(wanted["boxes"]) == 64
    assert {box["box"] for box in wanted["boxes"]} >= {"A06", "B02", "C09"}


def test_the_demonstration_is_the_same_each_time_and_says_that_it_is_invented(
    keyboard: Keyboard,
) -> None:
    first = keyboard.json("demo", "--no-serve", "--on", "2026-11-01")
    head = keyboard.json("check")["head"]
    assert first["boxes"] == 96
    assert keyboard.json("demo", "--no-serve", "--on", "2026-11-01")["facts"] == first["facts"]
    assert keyboard.json("check")["faults"] == []
    assert len(head) == 64
    wanted = keyboard.json("wants", "--on", "2026-11-01")
    assert wanted["invented"]
    assert len(wanted["boxes"]) >= 90
    assert "invented" in keyboard.done("wants", "--on", "2026-11-01")


def test_a_real_book_is_never_made_into_a_demonstration(room: Keyboard) -> None:
    before = room.json("check")
    told = room.type("demo", "--no-serve")
    assert told.exit_code == 1
    assert "real book" in told.output
    assert room.json("check") == before


def test_without_a_named_book_the_environments_is_used(
    room: Keyboard, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MANCARY_BOOK", str(room.path))
    told = CliRunner().invoke(front, ["wants", "--json", "--on", date.max.isoformat()])
    assert json.loads(told.output)["boxes"][0]["box"] == "A01"


def test_a_shelfs_humidity_its_air_and_more_of_a_box(room: Keyboard) -> None:
    room.done("shelf", "S1", "--air", "cupboard")
    said = room.done("shelf", "S1", "18", "22", "--humidity", "40-55 %", "--instrument", "h1")
    assert "lowest 18, highest 22 °C, 40-55 % humidity, by H1" in said
    for words, said in (
        (("S1", "18", "22", "--humidity", "wet"), "expected the humidity in percent"),
        (("S1", "18", "22", "--humidity", "0.5"), "expected the humidity in percent"),
        (("S1", "18", "22", "--humidity", "60-50"), "above highest"),
        (("S1", "--humidity", "50"), "beside the humidity"),
        (("S1", "18", "22", "--air", "room"), "one after the other"),
    ):
        refused = room.type("shelf", *words)
        assert (refused.exit_code, said in refused.stderr) == (1, True), refused.stderr
    room.done(
        "describe", "A01", "--substrate-cm", "4", "--litter-cm", "2,5", "--moss", "1/4",
        "--warmer-c", "2",
    )  # fmt: skip
    with open_book(room.path) as book:
        register = register_of(book)
    box = register.boxes["A01"]
    assert (box.substrate_cm, box.litter_cm, box.moss_share, box.warmer_c) == (4, 2.5, 0.25, 2)
    assert register.shelves["S1"].air == "cupboard"
    refused = room.type("describe", "A01", "--moss", "lots")
    assert "'lots'" in refused.stderr
