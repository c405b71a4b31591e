"""``mancary vents`` as a keeper types it."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from mancary.book import Book
from mancary.cli.front import front
from mancary.husbandry.facts import BoxDescribed, Vent
from mancary.usecases.pen import Pen
from mancary.usecases.record import write


@pytest.fixture
def room(book: Book, path: Path, pen: Pen) -> Path:
    vents = (Vent(count=20, size_mm=3, place="lid"),)
    write(book, [BoxDescribed(box="A01", litres=3, vents=vents)], pen=pen)
    book.close()
    return path


def typed(room: Path, *words: str) -> Result:
    return CliRunner().invoke(front, ["--book", str(room), "vents", *words])


def test_a_box_without_a_book(tmp_path: Path) -> None:
    told = typed(tmp_path / "none.mancary", "--litres", "3", "--species", "Porcellio scaber")
    assert told.exit_code == 0, told.output
    for words in (
        "3 L, ", "of Porcellio scaber", "In the lid only", "At both ends", "Low at one end",
        "holes of 3 mm", "windows of fine mesh", "one more row", "mL a week", "over the dry end",
        "air changes a day", "Assumed: ", "differs little between the ends", "Mind: Drilling",
        "heat mat",
    ):  # fmt: skip
        assert words in told.stdout, words
    assert not (tmp_path / "none.mancary").exists()


def test_own_drills_and_a_decimal_comma(room: Path) -> None:
    told = typed(room, "A01", "--class", "airy", "--mm", "2,5", "--mm", "6", "--json")
    assert told.exit_code == 0, told.output
    data = json.loads(told.stdout)
    assert {one["mm"] for one in data["choices"] if not one["mesh"]} <= {2.5, 6.0}
    assert data["box"]["code"] == "A01"
    assert data["as_it_is"]["holes"] == 20
    assert data["target"]["measure"] == "air_changes"


def test_every_figure_of_the_json_has_both_ends_of_its_range(room: Path) -> None:
    told = typed(room, "A01", "--wanted-mL-a-week", "6", "--room", "draughty", "--json")
    data = json.loads(told.stdout)
    assert data["air"] == "draughty"
    assert data["choices"]
    for one in data["choices"]:
        for name in ("g_a_day", "ml_a_week", "damp_end_rh", "dry_end_rh", "air_changes"):
            gives = one["gives"]
            assert gives[f"{name}_low"] < gives[name] < gives[f"{name}_high"]
        assert one["meets"] == (4.8 <= round(one["gives"]["ml_a_week"], 6) <= 7.5)


def test_temperature_and_humidity_change_the_water(room: Path) -> None:
    def loss(*words: str) -> float:
        data = json.loads(typed(room, "A01", "--class", "medium", "--json", *words).stdout)
        return float(data["as_it_is"]["g_a_day"])

    assert loss("--temp", "26") > loss("--temp", "18")
    assert loss("--humidity", "30") > loss("--humidity", "60")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("A01",), "Say what air the box wants"),
        (("--class", "medium"), "Say how large the box is"),
        (("Z99", "--class", "medium"), "There is no box Z99"),
        (("A01", "--class", "sparkling"), "known words are"),
        (("A01", "--class", "medium", "--humidity", "140"), "less than 100 %"),
    ],
)
def test_a_refusal_says_what_to_do(room: Path, words: tuple[str, ...], said: str) -> None:
    told = typed(room, *words)
    assert told.exit_code == 1
    assert said in told.stderr


def test_what_to_take_comes_first_with_its_reason_and_can_be_written_down(room: Path) -> None:
    lines = typed(room, "A01", "--class", "airy").stdout.splitlines()
    take = next(at for at, line in enumerate(lines) if line.startswith("Take this: "))
    assert take < next(at for at, line in enumerate(lines) if line.startswith("Wanted: "))
    assert any(line.startswith("  Why: ") for line in lines[take : take + 4])
    told = next(line for line in lines if "Once it is drilled" in line)
    words = told.partition('--vents "')[2].rstrip('"')
    call = ["--book", str(room), "describe", "A01", "--vents", words]
    assert CliRunner().invoke(front, call).exit_code == 0
    assert "drill nothing" in typed(room, "A01", "--class", "airy").stdout
