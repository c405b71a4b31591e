"""A page without unit, kind or source does not load; the bound file is in step with the pages."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from mancary import handbook
from mancary.handbook.binding import PAGES, bind, bound_bytes
from mancary.handbook.bound import BOUND, load
from mancary.handbook.pages import read_table, record, references, species_page
from tests.handbook.catalogue import DATA

TOOL = Path(__file__).parents[2] / "tools" / "make_handbook.py"
KNOWN = references(read_table(PAGES / "references.toml"))
GOOD = {
    "name": "Porcellio portus",
    "rank": "species",
    "family": "Porcellionidae",
    "figures": {
        "temperature_c": {
            "unit": "°C",
            "low": 18,
            "high": 24,
            "kind": "memory",
            "basis": "M",
            "source": "memory",
        }
    },
}


def _page(**changes: object) -> handbook.Page:
    figure = {**GOOD["figures"]["temperature_c"], **changes}  # type: ignore[index]
    kept = {key: value for key, value in figure.items() if value is not None}
    return species_page("portus", {**GOOD, "figures": {"temperature_c": kept}}, KNOWN)


def test_a_good_page_loads() -> None:
    figure = _page().figures["temperature_c"]
    assert (figure.low, figure.high, figure.said) == (18, 24, "18-24 °C")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"unit": None}, "portus: figures.temperature_c: needs the unit '°C', not None"),
        ({"unit": "K"}, "portus: figures.temperature_c: needs the unit '°C', not 'K'"),
        ({"kind": None}, "portus: figures.temperature_c: has no kind"),
        ({"basis": None}, "portus: figures.temperature_c: has no basis"),
        ({"source": None}, "portus: figures.temperature_c: has no source"),
        ({"source": "nowhere"}, "source 'nowhere' is not in the bibliography"),
        ({"kind": "published"}, "basis M is not of the kind 'published'"),
        ({"basis": "X"}, "basis X is not of the kind 'memory'"),
        (
            {"source": "gregory2009"},
            "source 'gregory2009' was seen as 'published, seen second-hand'",
        ),
        ({"low": 30}, "low 30 is above high 24"),
        ({"low": None}, "needs both low and high, or neither"),
        ({"low": None, "high": None}, "has neither numbers nor words"),
        ({"low": "warm"}, "Expected `float | null`, got `str`"),
        ({"colour": "red"}, "figures.temperature_c.colour: is not a field of the handbook"),
        ({"low_end": {"kind": "memory", "basis": "M"}}, "temperature_c.low_end: has no source"),
    ],
)
def test_a_malformed_figure_is_refused_naming_page_and_field(
    changes: dict[str, object], sentence: str
) -> None:
    with pytest.raises(handbook.PageFault) as fault:
        _page(**changes)
    assert sentence in str(fault.value)
    assert str(fault.value).startswith("portus: ")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"rank": "subspecies"}, "portus: page: Invalid enum value 'subspecies'"),
        ({"family": None}, "portus: page: "),
        ({"colour": "red"}, "portus: page.colour: is not a field of the handbook"),
        (
            {"blank": ["temperature_c"]},
            "portus: blank: 'temperature_c' is not a figure the page leaves empty",
        ),
        ({"blank": ["charm"]}, "portus: blank: 'charm'"),
        ({"figures": {"charm": {}}}, "portus: figures.charm: is not a figure of the handbook"),
        ({"formerly": [{"name": "X", "changed_by": "Y"}]}, "portus: formerly 1: has no kind"),
    ],
)
def test_a_malformed_page_is_refused_naming_page_and_field(
    changes: dict[str, object], sentence: str
) -> None:
    table = {key: value for key, value in {**GOOD, **changes}.items() if value is not None}
    with pytest.raises(handbook.PageFault) as fault:
        species_page("portus", table, KNOWN)
    assert sentence in str(fault.value)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(PAGES, tmp_path / "pages"))


def _changed(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


@pytest.mark.parametrize(
    ("file", "old", "new", "sentence"),
    [
        ("species/porcellio-scaber.toml", '"fast-compost"', '"nobody"', "porcellio-scaber: group: there is no care group 'nobody'"),
        ("species/porcellio-scaber-lava.toml", '"porcellio-scaber"', '"nobody"', "porcellio-scaber-lava: parent: there is no page 'nobody'"),
        ("species/porcellio-scaber-lava.toml", 'rank = "morph"', 'rank = "species"', "porcellio-scaber-lava: parent: a morph has a parent, and only a morph"),
        ("species/porcellio-scaber.toml", '"horvathova2015"', '"nobody"', "porcellio-scaber: cites: source 'nobody' is not in the bibliography"),
        ("species/porcellio-scaber.toml", 'name = ', 'name = = ', "porcellio-scaber: the file: is not TOML"),
        ("groups/springtails.toml", 'source = "care-group"', 'source = ""', "springtails: figures.temperature_c: has no source"),
        ("rhythms.toml", 'groups = ["springtails"]', 'groups = ["nobody"]', "there is no care group 'nobody'"),
        ("rhythms.toml", 'source = "trade-notes"', 'source = "nobody"', "source 'nobody' is not in the bibliography"),
        ("rhythms.toml", 'unit = "L"', 'unit = "gallons"', "rhythms: figures.starter_box_l: needs the unit 'L'"),
        ("references.toml", 'seen = "ours"', 'seen = "dreamt"', "references: ours: Invalid enum value 'dreamt'"),
    ],
)  # fmt: skip
def test_faults_between_pages_are_found_when_they_are_bound(
    folder: Path, file: str, old: str, new: str, sentence: str
) -> None:
    _changed(folder / file, old, new)
    with pytest.raises(handbook.PageFault) as fault:
        bind(folder)
    assert sentence in str(fault.value)


def test_the_bound_file_is_in_step_with_the_pages() -> None:
    assert BOUND.read_bytes() == bound_bytes(bind()), "run tools/make_handbook.py --bind-only"


def test_a_changed_page_would_be_noticed_in_the_bound_file(folder: Path) -> None:
    _changed(folder / "species" / "porcellio-scaber.toml", "high = 24", "high = 25")
    assert BOUND.read_bytes() != bound_bytes(bind(folder))


def test_the_bound_file_reads_back_as_what_was_bound() -> None:
    assert load() == bind()


def test_the_kept_script_makes_these_very_pages(tmp_path: Path) -> None:
    """From the two catalogue files, in a copy of the tree, byte for byte."""
    source = tmp_path / "src" / "mancary"
    shutil.copytree(PAGES.parents[1], source, ignore=shutil.ignore_patterns("__pycache__"))
    for made in (source / "handbook" / "pages" / "species").glob("*.toml"):
        made.unlink()
    shutil.copy(TOOL, tmp_path / TOOL.name)
    subprocess.run(
        [
            sys.executable, tmp_path / TOOL.name,
            DATA / "trade_catalogue.csv", DATA / "trade_catalogue_provenance.csv",
        ],
        env={"PYTHONPATH": str(tmp_path / "src")}, check=True, capture_output=True,
    )  # fmt: skip
    for page in PAGES.rglob("*.toml"):
        copy = source / "handbook" / "pages" / page.relative_to(PAGES)
        assert copy.read_text(encoding="utf-8") == page.read_text(encoding="utf-8"), page.name


def test_records_refuse_a_missing_field_by_name() -> None:
    with pytest.raises(handbook.PageFault, match="missing required field `citation`"):
        record({"key": "x", "seen": "memory"}, handbook.Reference, page="references", field="x")


def test_unknown_plain_names_are_refused() -> None:
    for ask in (handbook.page, handbook.figures, handbook.group_of):
        with pytest.raises(handbook.UnknownPage, match="no page 'nowhere'"):
            ask("nowhere")
    with pytest.raises(handbook.UnknownPage, match="no care group 'nowhere'"):
        handbook.group("nowhere")
