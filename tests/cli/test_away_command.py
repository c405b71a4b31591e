"""``mancary away``, ``box`` and ``demo`` as a keeper reads them in a terminal."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner

from mancary.cli.front import front

from .test_commands import Keyboard

WIDEST = 320
TODAY = date.today()  # noqa: DTZ011  the commands go by this machine's calendar
LEAVING, BACK = (f"{TODAY + timedelta(days=days)}" for days in (1, 15))


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Keyboard:
    keyboard = Keyboard(tmp_path_factory.mktemp("away") / "demo.mancary")
    keyboard.done("demo", "--no-serve")
    return keyboard


def test_the_answer_for_96_boxes_is_short_and_the_basis_is_behind_an_option(
    room: Keyboard,
) -> None:
    told = room.done("away", "--from", LEAVING, "--to", BACK)
    assert max(len(line) for line in told.splitlines()) <= WIDEST
    assert "a model, not weighed" not in told
    assert "--boxes tells each" in told
    every = room.done("away", "--from", LEAVING, "--to", BACK, "--boxes")
    risky = [one for one in room.json("away", "--from", LEAVING, "--to", BACK)["boxes"]
             if one["chance_dry"] > 0.2]  # fmt: skip
    assert every.count("misting rhythm up to twice as long") >= len(risky) - 1
    assert len(risky) > every.count("--boxes tells each") == 0


def test_each_box_with_a_visit_stands_under_it_with_what_it_gets(room: Keyboard) -> None:
    found = room.json("away", "--from", LEAVING, "--to", BACK)
    told = room.done("away", "--from", LEAVING, "--to", BACK)
    pours = {one["box"]: one["pour"] for one in found["boxes"]}
    for visit in found["visits"]:
        part = told.split(f"{visit['day']}\n", 1)[1].split("\n\n", 1)[0]
        assert {box for box in visit["boxes"] if box not in part} == set()
        assert all(pours[box]["high_ml"] >= 1 for box in visit["boxes"])


def test_an_absence_in_the_past_is_said_to_be(room: Keyboard) -> None:
    told = room.type("away", "--from", "2020-01-01", "--to", "2020-01-10")
    assert told.exit_code == 1
    assert "that is past" in told.stderr


def test_the_card_names_what_follows_from_a_feeding_and_how_long_the_reserve_lasts(
    tmp_path: Path,
) -> None:
    room = Keyboard(tmp_path / "room.mancary")
    room.done("open", "My room", "--zone", "Europe/Stockholm")
    room.done("describe", "A01", "--litres", "3", "--damp", "1/2")
    room.done("found", "A01", "P. scaber", "--animals", "12", "--on", "2025-01-01")
    ago = [f"{TODAY - timedelta(days=days)}" for days in (40, 25, 2)]
    room.done("note", "A01", "weigh", "1462 just right", "--on", ago[0])
    room.done("note", "A01", "weigh", "1432 too dry", "--on", ago[1])
    assert "leftovers out" not in room.done("box", "A01")
    room.done("note", "A01", "protein", "pinch", "--on", ago[2])
    card = room.done("box", "A01")
    assert "leftovers out: now" in card
    water = room.done("water", "A01")
    lasts = card.split("a full reserve lasts ", 1)[1].split(" (", 1)[0]
    assert f"{lasts}." in water


def test_the_demonstration_lies_where_the_environment_says_and_tells_the_way_to_it(
    tmp_path: Path,
) -> None:
    path = tmp_path / "named" / "demo.mancary"
    path.parent.mkdir()
    told = CliRunner().invoke(front, ["demo", "--no-serve"], env={"MANCARY_BOOK": str(path)})
    assert told.exit_code == 0, told.output
    assert path.exists()
    assert f"mancary --book {path} round" in told.output
