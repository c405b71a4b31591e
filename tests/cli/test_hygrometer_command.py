"""``mancary hygrometer`` as a keeper types it, from the steps to a corrected shelf."""

from pathlib import Path

import pytest
from litestar.testing import TestClient

from mancary.web.app import create_app
from tests.web.conftest import HERE
from tests.web.test_shelves import of_shelf

from .test_commands import Keyboard

TWO = ("--salt", "NaCl", "78,5", "21", "--salt", "mgcl2", "36", "21")


@pytest.fixture
def room(tmp_path: Path) -> Keyboard:
    keyboard = Keyboard(tmp_path / "room.mancary")
    keyboard.done("open", "My room", "--zone", "Europe/Stockholm")
    keyboard.done("shelf", "S1")
    return keyboard


def test_the_steps_need_no_book(tmp_path: Path) -> None:
    keyboard = Keyboard(tmp_path / "none.mancary")
    told = keyboard.done("hygrometer", "--steps")
    for words in ("wet sand", "8 to 12 hours", "from memory", "75.5", "No lithium salts"):
        assert words in told
    guide = keyboard.json("hygrometer", "--steps")
    assert len(guide["steps"]) == 7
    assert {one["salt"] for one in guide["truths"]} >= {"NaCl", "MgCl2"}
    assert all(len(one["true_rh"]) == len(guide["at_c"]) for one in guide["truths"])


def test_a_test_is_written_and_shown(room: Keyboard) -> None:
    assert "--steps" in room.done("hygrometer")
    typed = room.type("hygrometer", "h1", *TWO, "--note", "kitchen", "--on", "2026-03-01")
    assert typed.exit_code == 0, typed.output
    assert "hygrometer H1 checked: NaCl 78.5 %, MgCl2 36.0 %: kitchen" in typed.stdout
    assert "Mind: Salts of a test" in typed.stderr
    told = room.done("hygrometer", "H1")
    assert "true % = " in told
    assert "two points cannot tell" in told
    assert "Tested on 2026-03-01" in told
    assert told.strip() in room.done("hygrometer")


def test_the_json_of_each_form(room: Keyboard) -> None:
    written = room.json("hygrometer", "H1", *TWO)
    assert [one["kind"] for one in written["facts"]] == ["hygrometer_checked"]
    one = room.json("hygrometer", "h1")
    assert one == written["hygrometer"]
    assert [point["salt"] for point in one["points"]] == ["NaCl", "MgCl2"]
    for point in one["points"]:
        by_line = one["offset"] + one["slope"] * point["shown_rh"]
        assert by_line == pytest.approx(point["true_rh"], abs=1e-9)  # two points: an exact line
    assert room.json("hygrometer") == {"hygrometers": [one]}


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("H1", "--salt", "LiCl", "11", "21"), 2, "LiCl"),
        (("H1", "--salt", "NaCl", "0.785", "21"), 1, "in percent"),
        (("H1", "--salt", "NaCl", "30", "21"), 1, "too soon"),
        (("H1", "--salt", "NaCl", "78", "40"), 1, "10 to 30"),
        (("--salt", "NaCl", "78", "21"), 1, "which hygrometer"),
        (("H1", "--note", "x"), 1, "at least one --salt"),
        (("H1",), 1, "no hygrometer H1"),
    ],
)
def test_what_cannot_be_is_refused_and_not_written(
    room: Keyboard, words: tuple[str, ...], code: int, said: str
) -> None:
    told = room.type("hygrometer", *words)
    assert told.exit_code == code
    assert said in told.output
    assert room.json("hygrometer") == {"hygrometers": []}


def test_a_shelf_reading_after_the_check_is_shown_corrected(room: Keyboard) -> None:
    def shelf() -> str:
        room.done("shelf", "S1", "19", "22", "--humidity", "78.5", "--instrument", "H1")
        with TestClient(create_app(room.path), base_url=HERE) as client:
            return of_shelf(client.get("/shelves").text, "S1")

    assert "not checked" in shelf()
    room.done("hygrometer", "H1", *TWO)
    corrected = shelf()
    assert "corrected by the salt test of H1" in corrected
    assert "75 % humidity" in corrected
