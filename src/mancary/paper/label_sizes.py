"""Sheets of labels by their millimetres, and where each label lies on its sheet.

The sizes are those sold for office printers, from memory; a keeper's own are told by hand.
"""

import re
from typing import Final, Literal

from msgspec import Struct

from mancary.husbandry.refusal import Refusal

Paper = Literal["a4", "us-letter"]
PAPERS: Final[dict[Paper, tuple[float, float]]] = {
    "a4": (210.0, 297.0),
    "us-letter": (215.9, 279.4),
}
"""Width and height in mm: ISO 216, and ANSI/ASME Y14.1 size A."""

SMALLEST_MM: Final = (35.0, 18.0)
"""Ours: on less, neither code nor QR can be read at arm's length."""


class LabelSheet(Struct, frozen=True, kw_only=True):
    """A sheet of equal labels, all in mm; they lie in the middle of it, ``gap`` apart."""

    width: float
    height: float
    columns: int
    rows: int
    gap_x: float = 0.0
    gap_y: float = 0.0
    paper: Paper = "a4"

    @property
    def name(self) -> str:
        """Such as "63.5x38.1"."""
        return f"{self.width:g}x{self.height:g}"

    @property
    def on_a_sheet(self) -> int:
        return self.columns * self.rows

    @property
    def left(self) -> float:
        """From the paper's edge to the first label."""
        return (PAPERS[self.paper][0] - _along(self.columns, self.width, self.gap_x)) / 2

    @property
    def top(self) -> float:
        """From the paper's upper edge to the first label."""
        return (PAPERS[self.paper][1] - _along(self.rows, self.height, self.gap_y)) / 2

    def at(self, place: int) -> tuple[float, float]:
        """The upper left corner of a label, counted from 0 along the rows."""
        row, column = divmod(place, self.columns)
        return (
            self.left + column * (self.width + self.gap_x),
            self.top + row * (self.height + self.gap_y),
        )


def _along(number: int, size: float, gap: float) -> float:
    return number * size + (number - 1) * gap


def _sheet(
    size: str, grid: str, gap_x: float = 0.0, gap_y: float = 0.0, paper: Paper = "a4"
) -> LabelSheet:
    (width, height), (columns, rows) = _pair(size), _pair(grid)
    return LabelSheet(
        width=width, height=height, columns=int(columns), rows=int(rows),
        gap_x=gap_x, gap_y=gap_y, paper=paper,
    )  # fmt: skip


_TWO: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*[xX×]\s*(\d+(?:[.,]\d+)?)", re.ASCII)


def _pair(text: str) -> tuple[float, float]:
    found = _TWO.fullmatch(text.strip())
    if found is None:
        raise Refusal(f"{text!r}: expected two numbers, such as 63.5x38.1.")
    first, second = (float(part.replace(",", ".")) for part in found.groups())
    return first, second


SHEETS: Final[dict[str, LabelSheet]] = {
    sheet.name: sheet
    for sheet in (
        _sheet("99.1x38.1", "2x7", 2.5),
        _sheet("70x37", "3x8"),
        _sheet("63.5x38.1", "3x7", 2.5),
        _sheet("52.5x29.7", "4x10"),
        _sheet("48.5x25.4", "4x10"),
        _sheet("38.1x21.2", "5x13", 2.5),
        _sheet("101.6x50.8", "2x5", 4.8, paper="us-letter"),
        _sheet("66.7x25.4", "3x10", 3.2, paper="us-letter"),
    )
}
"""Memory: common sheets of labels, the gaps to a few tenths of a millimetre."""

USUAL: Final = "63.5x38.1"


def label_sheet_of(
    size: str, *, grid: str = "", gap: str = "", paper: Paper | None = None
) -> LabelSheet:
    """The sheet named by its millimetres, or one told by hand: its grid "3x7", gaps "2.5x0".

    Raises:
        Refusal: where the labels do not fit the paper, or are too small to be read.
    """
    known = SHEETS.get(size.strip().lower().replace(",", ".").replace("×", "x"))
    if known is not None and not grid and not gap and paper in (None, known.paper):
        return known
    if not grid:
        raise Refusal(
            f"{size!r} is no sheet known here ({', '.join(SHEETS)}). For another one tell how many"
            " labels stand beside and below each other, such as --grid 3x7."
        )
    columns, rows = _pair(grid)
    if columns % 1 or rows % 1 or not (columns and rows):
        raise Refusal(f"{grid!r}: expected whole numbers of labels, such as 3x7.")
    gap_x, gap_y = _pair(gap) if gap else (0.0, 0.0)
    return _checked(_sheet(size, grid, gap_x, gap_y, paper or "a4"))


def _checked(sheet: LabelSheet) -> LabelSheet:
    if sheet.width < SMALLEST_MM[0] or sheet.height < SMALLEST_MM[1]:
        raise Refusal(
            f"A label of {sheet.name} mm is too small to be read; the least is"
            f" {SMALLEST_MM[0]:g}x{SMALLEST_MM[1]:g}."
        )
    if min(sheet.left, sheet.top) < -0.05:  # a gap known to a tenth
        width, height = PAPERS[sheet.paper]
        raise Refusal(
            f"{sheet.columns}x{sheet.rows} labels of {sheet.name} mm do not fit"
            f" {sheet.paper} paper, {width:g}x{height:g} mm."
        )
    return sheet
