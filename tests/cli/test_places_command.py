"""``describe``, ``shelf`` and ``note`` as a keeper mistypes them."""

from pathlib import Path

import pytest

from .test_commands import Keyboard


@pytest.fixture
def room(tmp_path: Path) -> Keyboard:
    keyboard = Keyboard(tmp_path / "room.mancary")
    keyboard.done("open", "My room", "--zone", "Europe/Stockholm")
    keyboard.done("describe", "A01", "--litres", "3l", "--vents", "24x3 mm lid", "--shelf", "S1")
    return keyboard


def test_vents_are_said_back_or_refused_and_never_stale(room: Keyboard) -> None:
    told = room.type("describe", "A01", "--vents", "20x4 mm lid, 6x3 mm low", "--litter-cm", "2")
    assert "litter 2 cm deep, vents: 20 holes of 4 mm in the lid, 6 holes of 3 mm" in told.stdout
    refused = room.type("describe", "A01", "--vents", "20x4 mm lid, and some slots")
    assert refused.exit_code == 1
    assert "understood 20 holes of 4 mm in the lid, but not 'some slots'" in refused.stderr
    assert "litter 2 cm deep" in room.done("box", "A01")


def test_a_shelf_is_looked_at_without_writing(room: Keyboard) -> None:
    room.done("shelf", "S1", "-5", "20")
    said = room.done("shelf", "S1")
    assert "lowest -5, highest 20" in said
    assert "placed" not in said
    assert room.done("shelf", "S1") == said


def test_a_hot_shelf_is_warned_of_and_stands_on_the_card(room: Keyboard) -> None:
    room.done("found", "A01", "Porcellio scaber", "--on", "2026-01-01")
    typed = room.type("shelf", "S1", "19", "39")
    assert "Mind: shelf S1 read 39 °C, too hot for A01" in typed.stderr
    assert "TOO HOT: shelf S1 read 39 °C" in room.done("box", "A01")


@pytest.mark.parametrize(
    ("amount", "said"),
    [
        ("20", "20 what? mL?"),
        ("lots", "how much is that?"),
        ("3 pinches", "is no water"),
        ("-20ml", "expected a number above 0"),
    ],
)
def test_a_misting_without_water_is_asked_about(room: Keyboard, amount: str, said: str) -> None:
    typed = room.type("note", "A01", "mist", amount)
    assert typed.exit_code == 1
    assert said in typed.stderr


@pytest.mark.parametrize("amount", ["20 ml", "20-30 ml", "20g", "3 squirts", ""])
def test_a_misting_that_is_water_is_taken(room: Keyboard, amount: str) -> None:
    assert room.type("note", "A01", "mist", amount).exit_code == 0


def test_a_slip_of_a_shelf_moves_nothing(room: Keyboard) -> None:
    typed = room.type("describe", "A01", "--shelf", "Q7")
    assert "There is no shelf Q7" in typed.stderr
    assert "--new-shelf" in typed.stderr
    assert "Shelf S1" in room.done("box", "A01")
    room.done("describe", "A01", "--shelf", "Q7", "--new-shelf")
    assert "Shelf Q7" in room.done("box", "A01")
