"""Binds all pages into one file that loads fast, and finds faults between pages."""

from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import msgspec
from msgspec import Struct

from mancary.handbook.bound import Bound, Rhythms
from mancary.handbook.model import Group, Page, Reference
from mancary.handbook.pages import figure, group_page, read_table, record, references, species_page
from mancary.handbook.trouble import PageFault
from mancary.handbook.words import PRACTICE_UNITS

PAGES: Final = Path(__file__).with_name("pages")


def bind(folder: Path = PAGES) -> Bound:
    """Reads and checks every page under ``folder``.

    Raises:
        PageFault: for the first page that may not be loaded, naming page and field.
    """
    known = references(read_table(folder / "references.toml"))
    pages = {
        path.stem: species_page(path.stem, read_table(path), known)
        for path in sorted((folder / "species").glob("*.toml"))
    }
    members = Counter(page.group for page in pages.values())
    groups = {
        path.stem: group_page(path.stem, read_table(path), known, members=members[path.stem])
        for path in sorted((folder / "groups").glob("*.toml"))
    }
    _check_ties(pages, groups, known)
    rhythms = _rhythms(read_table(folder / "rhythms.toml"), known, groups)
    return Bound(references=known, groups=groups, pages=pages, rhythms=rhythms)


def _check_ties(
    pages: Mapping[str, Page], groups: Mapping[str, Group], known: Mapping[str, Reference]
) -> None:
    for slug, page in pages.items():
        if page.group is not None and page.group not in groups:
            raise PageFault(slug, "group", f"there is no care group {page.group!r}")
        if (page.parent is None) == (page.rank == "morph"):
            raise PageFault(slug, "parent", "a morph has a parent, and only a morph")
        if page.parent is not None and page.parent not in pages:
            raise PageFault(slug, "parent", f"there is no page {page.parent!r}")
        for key in page.cites:
            if key not in known:
                raise PageFault(slug, "cites", f"source {key!r} is not in the bibliography")


def _rhythms(
    table: Mapping[str, Any], known: Mapping[str, Reference], groups: Mapping[str, Group]
) -> Rhythms:
    practice = {
        name: figure(name, entry, known, page="rhythms", units=PRACTICE_UNITS)
        for name, entry in table.get("practice", {}).items()
    }
    made = record({**table, "practice": practice}, Rhythms, page="rhythms", field="page")
    for source, said in _sources(made):
        if source not in known:
            raise PageFault("rhythms", said, f"source {source!r} is not in the bibliography")
    for group, said in _groups_named(made):
        if group not in groups:
            raise PageFault("rhythms", said, f"there is no care group {group!r}")
    return made


def _sources(made: Rhythms) -> Iterator[tuple[str, str]]:
    yield from ((turn.source, turn.said) for turn in made.care)
    yield from ((practice.source, practice.said) for practice in made.protein)
    yield from ((amount.source, amount.said) for amount in made.amount)


def _groups_named(made: Rhythms) -> Iterator[tuple[str, str]]:
    yield from ((group, turn.said) for turn in made.care for group in turn.groups)
    yield from ((group, entry.said) for entry in made.protein for group in entry.groups)
    yield from ((group, "moisture") for group in made.moisture.groups)


def bound_bytes(bound: Bound) -> bytes:
    """The handbook as JSON, a line to a page, so that a changed page is a changed line."""
    parts = (
        _section(b"references", bound.references),
        _section(b"groups", bound.groups),
        _section(b"pages", bound.pages),
        b'"rhythms":' + msgspec.json.encode(bound.rhythms),
    )
    return b"{" + b",\n".join(parts) + b"}\n"


def _section(name: bytes, entries: Mapping[str, Struct]) -> bytes:
    lines = (
        msgspec.json.encode(key) + b":" + msgspec.json.encode(entry)
        for key, entry in entries.items()
    )
    return b'"' + name + b'":{\n' + b",\n".join(lines) + b"}"
