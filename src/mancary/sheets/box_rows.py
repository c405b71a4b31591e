"""Rows of a box list: what each box is, what lives in it, and since when."""

from msgspec import Struct

from mancary.husbandry.box_figures import vents_said
from mancary.husbandry.codes import code
from mancary.husbandry.facts import Vent
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.sheets.cells import Cells
from mancary.sheets.faults import Unreadable
from mancary.sheets.values.counts import Count, read_count
from mancary.sheets.values.measures import (
    is_unknown,
    read_cm,
    read_litres,
    read_per_week,
    read_share,
    read_size,
)
from mancary.sheets.values.vents import read_vents


class BoxRow(Struct, frozen=True, kw_only=True):
    """What one row says of one box; None or empty where it says nothing."""

    box: str
    name: str = ""
    morph: str = ""
    since: Moment | None = None
    count: Count | None = None
    litres: float | None = None
    length_cm: float | None = None
    width_cm: float | None = None
    height_cm: float | None = None
    shelf: str = ""
    position: int | None = None
    damp_share: float | None = None
    vents: tuple[Vent, ...] | None = None
    vents_as_written: str = ""
    protein_per_week: tuple[float, float] | None = None
    source: str = ""
    locality: str = ""
    remarks: tuple[str, ...] = ()


def read_box_row(cells: Cells) -> BoxRow | None:
    """The row's box; None where its code cannot be read. Faults are gathered in ``cells``."""
    decimal = cells.ground.decimal
    box = _code(cells, "box")
    sizes = _sizes(cells)
    vents = cells.read("vents", lambda text: _Vents(read_vents(text, decimal)))
    row = BoxRow(
        box=box or "",
        name=_words(cells, "species"),
        morph=_words(cells, "morph"),
        since=cells.moment("since"),
        count=cells.read("count", lambda text: read_count(text, decimal)),
        litres=cells.read("litres", lambda text: read_litres(text, decimal, cells.unit("litres"))),
        length_cm=sizes[0],
        width_cm=sizes[1],
        height_cm=sizes[2],
        shelf=_code(cells, "shelf") or "",
        position=cells.read("position", _position),
        damp_share=cells.read("damp", lambda text: read_share(text, decimal, cells.unit("damp"))),
        vents=vents.vents if vents else None,
        vents_as_written=_words(cells, "vents") if vents else "",
        protein_per_week=cells.read("protein", lambda text: read_per_week(text, decimal)),
        source=_words(cells, "source"),
        locality=_words(cells, "locality"),
        remarks=tuple(cells.words("remarks", "note")),
    )
    cells.said.extend(_said(row, cells))
    return row if box else None


class _Vents(Struct, frozen=True):
    vents: tuple[Vent, ...] | None


def _words(cells: Cells, role: str) -> str:
    text = cells.text(role)
    return "" if is_unknown(text) else text


def _code(cells: Cells, role: str) -> str | None:
    text = cells.text(role)
    if role != "box" and is_unknown(text):
        return None
    try:
        return code(text, what=role)
    except Refusal as fault:
        cells.refuse(role, str(fault) if text else "expected the box's code; the cell is empty")
        return None


def _sizes(cells: Cells) -> tuple[float | None, float | None, float | None]:
    decimal = cells.ground.decimal
    size = cells.read("size", lambda text: read_size(text, decimal, cells.unit("size")))
    if size:
        return (size[0], size[1], size[2] if len(size) > 2 else None)
    return _cm(cells, "length"), _cm(cells, "width"), _cm(cells, "height")


def _cm(cells: Cells, role: str) -> float | None:
    return cells.read(role, lambda text: read_cm(text, cells.ground.decimal, cells.unit(role)))


def _position(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 999:
        raise Unreadable("expected a position from 1 to 999, counted from the left")
    return int(text)


def _said(row: BoxRow, cells: Cells) -> list[str]:
    """What was read otherwise than it stands, in words."""
    said = []
    if row.count and row.count.said:
        said.append(f"'{row.count.as_written}' animals: {row.count.said}")
    elif cells.text("count") and row.count is None and not cells.refused:
        said.append("how many: not known")
    if row.damp_share is not None:
        said.append(f"damp part '{cells.text('damp')}' is {row.damp_share * 100:.0f} %")
    if row.vents is not None:
        said.append(f"'{row.vents_as_written}' is {vents_said(row.vents) or 'no holes'}")
    elif row.vents_as_written:
        said.append(f"holes kept in your words, not understood: '{row.vents_as_written}'")
    return said
