"""The trade catalogue and its provenance file, read apart from the program that made the pages."""

import csv
import re
from pathlib import Path

DATA = Path(__file__).with_name("data")
RENAMED = {
    "temp_c": "temperature_c",
    "moist_fraction": "damp_share",
    "brood_size_typical": "brood_size",
}


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = _rows("trade_catalogue.csv")
MARKS = _rows("trade_catalogue_provenance.csv")
BY_NAME = {row["scientific_name"]: row for row in ROWS}
NAMES = [row["scientific_name"] for row in ROWS]
NOT_FIGURES = {
    "scientific_name", "rank", "family", "trade_morphs", "notes", "source", "source_kind",
}  # fmt: skip


def figure_and_end(field: str) -> tuple[str, str]:
    """A column's figure and which end of it: ("temperature_c", "low"), or ("authority", "")."""
    found = re.fullmatch(r"(.+)_(low|high)", field)
    column, end = (found[1], found[2]) if found else (field, "")
    return RENAMED.get(column, column), end


def slug_of(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def trade_names(row: dict[str, str]) -> list[str]:
    """The entries of the catalogue's trade column that can be somebody's name."""
    if row["rank"] == "morph":
        return [row["scientific_name"].split("'")[1]]
    entries = [entry.strip() for entry in row["trade_morphs"].split(";")]
    bare = [re.sub(r" \(.+\)$", "", entry) for entry in entries if entry]
    return [entry for entry in bare if not entry.startswith(("wild", "several local"))]
