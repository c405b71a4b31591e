"""Reads the TOML pages and refuses any whose numbers lack unit, kind or source."""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from mancary.handbook.model import Figure, FormerName, Group, Page, Reference, TradeName
from mancary.handbook.trouble import PageFault
from mancary.handbook.words import KIND_OF, SEEN_OF, UNITS

Table = Mapping[str, Any]
_Record = TypeVar("_Record", bound=msgspec.Struct)
_BRACKETED = re.compile(r"^(?P<name>.+?) \((?P<note>[^()]+)\)$")


def read_table(path: Path) -> dict[str, Any]:
    """One TOML file as a table.

    Raises:
        PageFault: when it is not TOML.
    """
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise PageFault(path.stem, "the file", f"is not TOML: {fault}") from fault


def record(table: Table, kind: type[_Record], *, page: str, field: str) -> _Record:
    """The table as a frozen record; a key it does not know is a fault too.

    Raises:
        PageFault: naming page and field.
    """
    known = {known.encode_name for known in msgspec.structs.fields(kind)}
    for key in table:
        if key not in known:
            raise PageFault(page, f"{field}.{key}", "is not a field of the handbook")
    try:
        return msgspec.convert(table, kind)
    except msgspec.ValidationError as fault:
        raise PageFault(page, field, str(fault)) from fault


def references(table: Table) -> dict[str, Reference]:
    """The bibliography, by key.

    Raises:
        PageFault: when an entry lacks its citation or does not say how it was seen.
    """
    return {
        key: record({"key": key, **entry}, Reference, page="references", field=key)
        for key, entry in table.items()
    }


def check_standing(entry: Table, known: Mapping[str, Reference], *, page: str, field: str) -> None:
    """Refuses a number whose kind, letter and source are missing or do not agree.

    Raises:
        PageFault: naming page and field.
    """
    for needed in ("kind", "basis", "source"):
        if not entry.get(needed):
            raise PageFault(page, field, f"has no {needed}")
    basis, source = str(entry["basis"]), str(entry["source"])
    if KIND_OF.get(basis) != entry["kind"]:
        raise PageFault(page, field, f"basis {basis} is not of the kind {entry['kind']!r}")
    if source not in known:
        raise PageFault(page, field, f"source {source!r} is not in the bibliography")
    if known[source].seen not in SEEN_OF[basis]:
        raise PageFault(
            page, field, f"source {source!r} was seen as {known[source].seen!r}, not {basis}"
        )


def figure(
    name: str, entry: Table, known: Mapping[str, Reference], *, page: str, units: Table = UNITS
) -> Figure:
    """One figure of a page, checked.

    Raises:
        PageFault: naming page and field.
    """
    field = f"figures.{name}"
    if name not in units:
        raise PageFault(page, field, "is not a figure of the handbook")
    if entry.get("unit") != units[name]:
        raise PageFault(page, field, f"needs the unit {units[name]!r}, not {entry.get('unit')!r}")
    check_standing(entry, known, page=page, field=field)
    if "low_end" in entry:
        check_standing(entry["low_end"], known, page=page, field=f"{field}.low_end")
    made = record({"name": name, **entry}, Figure, page=page, field=field)
    _check_value(made, page=page, field=field)
    return made


def _check_value(made: Figure, *, page: str, field: str) -> None:
    if (made.low is None) != (made.high is None):
        raise PageFault(page, field, "needs both low and high, or neither")
    if made.low is None or made.high is None:
        if not made.text:
            raise PageFault(page, field, "has neither numbers nor words")
    elif made.low > made.high:
        raise PageFault(page, field, f"low {made.low:g} is above high {made.high:g}")


def _figures(table: Table, known: Mapping[str, Reference], *, page: str) -> dict[str, Figure]:
    entries = table.get("figures", {})
    return {name: figure(name, entry, known, page=page) for name, entry in entries.items()}


def trade_name(written: str) -> TradeName:
    """The name and, apart, what stands in brackets, as in "giant canyon (trade name)"."""
    found = _BRACKETED.match(written)
    return TradeName(**found.groupdict()) if found else TradeName(name=written)


def group_page(slug: str, table: Table, known: Mapping[str, Reference], *, members: int) -> Group:
    """A care group's page, checked.

    Raises:
        PageFault: naming page and field.
    """
    made = {**table, "slug": slug, "members": members, "figures": _figures(table, known, page=slug)}
    return record(made, Group, page=slug, field="page")


def species_page(slug: str, table: Table, known: Mapping[str, Reference]) -> Page:
    """A species', form's or morph's page, checked.

    Raises:
        PageFault: naming page and field.
    """
    figures = _figures(table, known, page=slug)
    for name in table.get("blank", ()):
        if name not in UNITS or name in figures:
            raise PageFault(slug, "blank", f"{name!r} is not a figure the page leaves empty")
    for place, entry in enumerate(table.get("formerly", ()), start=1):
        check_standing(entry, known, page=slug, field=f"formerly {place}")
    made = {
        **table,
        "slug": slug,
        "figures": figures,
        "authority": figures["authority"].text if "authority" in figures else "",
        "trade_names": tuple(trade_name(written) for written in table.get("trade_names", ())),
        "formerly": tuple(
            record(entry, FormerName, page=slug, field="formerly")
            for entry in table.get("formerly", ())
        ),
    }
    return record(made, Page, page=slug, field="page")
