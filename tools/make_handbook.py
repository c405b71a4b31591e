"""Makes the handbook's care-group and species pages from a trade catalogue, then binds them.

    python tools/make_handbook.py CATALOGUE.csv PROVENANCE.csv
    python tools/make_handbook.py --bind-only

A species page holds only what differs from its care group: a figure the provenance file marks G
stands on the group's page, unless the row's value is not the group's. `references.toml` and
`rhythms.toml` are kept by hand and only read. Pages are overwritten: after an edit by hand use
`--bind-only`.
"""

import csv
import json
import re
import sys
from collections import defaultdict
from pathlib import Path
from typing import Any

from mancary.handbook.binding import PAGES, bind, bound_bytes
from mancary.handbook.bound import BOUND
from mancary.handbook.names import plain_slug
from mancary.handbook.pages import read_table, references
from mancary.handbook.words import KIND_OF, UNITS

Row = dict[str, str]
Table = dict[str, Any]

GROUP_SLUGS = {
    "fast compost and dung-heap species": "fast-compost",
    "temperate woodland and garden species": "temperate-woodland",
    "large Mediterranean Porcellio": "large-mediterranean-porcellio",
    "desert burrowers": "desert-burrowers",
    "Mediterranean pill woodlice": "mediterranean-pill-woodlice",
    "tropical dwarf litter species": "tropical-dwarf-litter",
    "small temperate litter species": "small-temperate-litter",
    "tropical Asian Armadillidae, cave and limestone forms": "asian-cave-armadillidae",
    "climbing Indochinese Armadillidae": "climbing-armadillidae",
    "cleanup-crew springtails": "springtails",
}
COLUMNS = {
    "temperature_c": "temp_c",
    "damp_share": "moist_fraction",
    "brood_size": "brood_size_typical",
}
RANGES = ("adult_length_mm", "temperature_c", "damp_share")
BARE = {"P": "not-named", "R": "recalled", "M": "memory", "G": "care-group"}
FIRST_BROOD = {
    "fast-compost": (1, 2),
    "tropical-dwarf-litter": (1, 2),
    "temperate-woodland": (3, 6),
    "mediterranean-pill-woodlice": (3, 6),
    "small-temperate-litter": (3, 6),
    "large-mediterranean-porcellio": (6, 12),
    "asian-cave-armadillidae": (6, 12),
}
"""Months to the first young by the trade notes: 1-2 (fast), 3-6 (most), 6-12 (cave forms, giant Porcellio)."""

FORMERLY = (
    ("Sold for years as Merulanella", "Merulanella", "keepers; genus author not checked", "C", "hobby-care-pages",
     "Merulanella was reassessed by Kästle & Regalado Fernández in 2025; only the opening of the abstract was seen."),
    ("Older papers write caelatum", "Eluma caelatum", "not given", "M", "memory", ""),
    ("caelatum or purpurascens", "Eluma purpurascens", "not given", "M", "memory", ""),
    ("Sphaerillo boninensis is the same species", "Sphaerillo boninensis", "Karasawa 2020", "P", "karasawa2020", ""),
    ("A. lusitanicum is listed among its synonyms", "Armadillidium lusitanicum", "not given", "C", "hobby-page",
     "Listed as a synonym on a hobby sheet; check before splitting lines."),
)  # fmt: skip
ASK = "Rules for keeping and moving it differ by place: ask your authority."
SPELLED = {
    "Also spelled reaumuri": "Hemilepistus reaumuri",
    "often misspelled archangeli": "Nesodillo archangeli",
}


class Catalogue:
    """The rows, their provenance, and which care group each row is marked with."""

    def __init__(self, catalogue: Path, provenance: Path) -> None:
        self.rows = _rows(catalogue)
        self.marks = {(row["scientific_name"], row["field"]): row for row in _rows(provenance)}
        self.known = references(read_table(PAGES / "references.toml"))
        self.key_of = {said: key for key, entry in self.known.items() for said in entry.said_as}
        self.group_of: dict[str, str] = {}
        for (name, _), mark in self.marks.items():
            if mark["basis"] == "G" and mark["basis_detail"]:
                self.group_of[name] = mark["basis_detail"].removeprefix("care group: ")

    def standing(self, mark: Row) -> Table:
        basis, detail = mark["basis"], mark["basis_detail"]
        source = BARE[basis] if basis == "G" or not detail else self.key_of[detail]
        made = {"kind": KIND_OF[basis], "basis": basis, "source": source}
        return {**made, "note": detail} if detail and basis != "G" else made

    def figure(self, row: Row, name: str) -> Table | None:
        column = COLUMNS.get(name, name)
        if name not in RANGES:
            mark = self.marks.get((row["scientific_name"], column))
            return mark and {"unit": UNITS[name], **_value(mark["value"]), **self.standing(mark)}
        low, high = (
            self.marks.get((row["scientific_name"], f"{column}_{end}")) for end in ("low", "high")
        )
        if low is None or high is None:
            return None
        made: Table = {
            "unit": UNITS[name],
            "low": _number(low["value"]),
            "high": _number(high["value"]),
        }
        made |= self.standing(high)
        if self.standing(low) != self.standing(high):
            made["low_end"] = self.standing(low)
        return made

    def figures(self, row: Row) -> Table:
        made = {name: self.figure(row, name) for name in UNITS}
        return {name: figure for name, figure in made.items() if figure}


def _rows(path: Path) -> list[Row]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _number(text: str) -> float | int:
    number = float(text)
    return int(number) if number.is_integer() else number


def _value(text: str) -> Table:
    if text in ("y", "n"):
        return {"text": "yes" if text == "y" else "no"}
    span = re.fullmatch(r"([\d.]+)(?:-([\d.]+))?", text)
    if not span:
        return {"text": text}
    return {"low": _number(span[1]), "high": _number(span[2] or span[1])}


def group_tables(catalogue: Catalogue) -> dict[str, Table]:
    """The ten care groups: the figures marked G, and what can be said of lengths and first broods."""
    shared: dict[str, Table] = defaultdict(dict)
    members: dict[str, list[Row]] = defaultdict(list)
    for row in catalogue.rows:
        if name := catalogue.group_of.get(row["scientific_name"]):
            members[name].append(row)
            for figure, table in catalogue.figures(row).items():
                if table["basis"] == "G" and _marked_with_group(catalogue, row, figure):
                    known = shared[name].setdefault(figure, table)
                    if known != table:
                        raise SystemExit(f"{name}: {figure} is given twice: {known}, {table}")
    return {
        GROUP_SLUGS[name]: {
            "name": name,
            "figures": _completed(catalogue, name, rows, shared[name]),
        }
        for name, rows in members.items()
    }


def _marked_with_group(catalogue: Catalogue, row: Row, figure: str) -> bool:
    column = COLUMNS.get(figure, figure) + ("_low" if figure in RANGES else "")
    return bool(catalogue.marks[row["scientific_name"], column]["basis_detail"])


def _completed(catalogue: Catalogue, name: str, rows: list[Row], shared: Table) -> Table:
    lengths = [made for row in rows if (made := catalogue.figure(row, "adult_length_mm"))]
    made = dict(shared)
    if len(lengths) >= 3:
        made["adult_length_mm"] = {
            "unit": UNITS["adult_length_mm"],
            "low": min(length["low"] for length in lengths),
            "high": max(length["high"] for length in lengths),
            "kind": "ours",
            "basis": "E",
            "source": "ours",
            "note": f"The spread over the {len(lengths)} of {len(rows)} members whose length is given.",
        }
    if span := FIRST_BROOD.get(GROUP_SLUGS[name]):
        made["months_to_first_brood"] = {
            "unit": UNITS["months_to_first_brood"], "low": span[0], "high": span[1],
            "kind": "memory", "basis": "M", "source": "trade-notes",
            "note": "By class: 1-2 months (fast), 3-6 (most), 6-12 (cave forms, giant Porcellio).",
        }  # fmt: skip
    return {figure: made[figure] for figure in UNITS if figure in made}


def page_table(catalogue: Catalogue, row: Row, groups: dict[str, Table]) -> Table:
    """One page: everything of the row that its care group or parent doesn't already say."""
    name, morph = row["scientific_name"], row["rank"] == "morph"
    group = GROUP_SLUGS.get(catalogue.group_of.get(name, ""))
    shared = groups[group]["figures"] if group else {}
    figures = catalogue.figures(row)
    made: Table = {"name": name, "rank": row["rank"], "family": row["family"]}
    if group:
        made["group"] = group
    if morph:
        made["parent"] = plain_slug(name.split(" '")[0])
    made |= _names(row, morph=morph)
    made |= _notes(catalogue, row)
    if not morph:
        made["blank"] = [figure for figure in UNITS if figure not in figures]
    made["figures"] = {
        figure: _marked(table, shared.get(figure), figure, group)
        for figure, table in figures.items()
        if table != shared.get(figure)
    }
    return made


def _marked(table: Table, shared: Table | None, figure: str, group: str | None) -> Table:
    """What the trade catalogue leaves unsaid about a figure that differs from its kind."""
    if table["basis"] == "G" and shared:
        said = f"{shared['low']:g}-{shared['high']:g}"
        return {**table, "note": f"Marked as the care group's rule, though the group has {said}."}
    if figure == "months_to_first_brood" and group == "springtails":
        return {**table, "note": f"{table['note']}; for springtails, months from egg to adult"}
    return table


def _names(row: Row, *, morph: bool) -> Table:
    said = row["trade_morphs"].strip()
    if morph:
        quoted = row["scientific_name"].split("'")[1]
        return {"trade_names": [quoted], "appearance": said}
    if said == "several local forms":
        return {"appearance": said}
    entries = [entry.strip() for entry in said.split(";") if entry.strip()]
    made: Table = {"trade_names": [entry for entry in entries if not entry.startswith("wild")]}
    if wild := [entry for entry in entries if entry.startswith("wild")]:
        made["wild_type"] = "; ".join(wild)
    return made


def _notes(catalogue: Catalogue, row: Row) -> Table:
    notes = ASK if "a US regulator told" in row["notes"] else row["notes"]  # never call it legal
    made: Table = {
        "also_spelled": [name for mark, name in SPELLED.items() if mark in notes],
        "notes": notes,
        "rests_on": row["source_kind"] or "not stated in the catalogue",
    }
    named = {said: key for said, key in catalogue.key_of.items() if re.search(r"\d{4}", said)}
    published = {
        key for key, entry in catalogue.known.items() if entry.seen.startswith("published")
    }
    made["cites"] = sorted({key for said, key in named.items() if said in notes} & published)
    made["formerly"] = [
        {
            "name": _former(row["scientific_name"], former),
            "changed_by": by,
            "kind": KIND_OF[basis],
            "basis": basis,
            "source": source,
            **({"note": note} if note else {}),
        }
        for mark, former, by, basis, source, note in FORMERLY
        if mark in notes
    ]
    return made


def _former(name: str, former: str) -> str:
    return former if " " in former else " ".join([former, *name.split()[1:]])


def toml(table: Table) -> str:
    """The table as TOML: plain keys first, then a table a figure."""
    lines = [
        f"{key} = {_toml(value)}" for key, value in table.items() if key != "figures" and value
    ]
    for name, figure in table.get("figures", {}).items():
        lines += ["", f"[figures.{name}]"]
        lines += [f"{key} = {_toml(value)}" for key, value in figure.items()]
    return "\n".join(lines) + "\n"


def _toml(value: object) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(entry)}" for key, entry in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_toml(entry) for entry in value) + "]"
    return json.dumps(value, ensure_ascii=False)


def main(arguments: list[str]) -> None:
    if arguments != ["--bind-only"]:
        catalogue = Catalogue(Path(arguments[0]), Path(arguments[1]))
        groups = group_tables(catalogue)
        for slug, table in groups.items():
            (PAGES / "groups" / f"{slug}.toml").write_text(toml(table), encoding="utf-8")
        for row in catalogue.rows:
            path = PAGES / "species" / f"{plain_slug(row['scientific_name'])}.toml"
            path.write_text(toml(page_table(catalogue, row, groups)), encoding="utf-8")
    bound = bind()
    BOUND.write_bytes(bound_bytes(bound))
    print(
        f"{len(bound.groups)} care groups, {len(bound.pages)} pages, {len(bound.references)} sources"
    )


if __name__ == "__main__":
    main(sys.argv[1:])
