"""Sheets of labels for boxes and lids: the code in large type, its QR code, what lives there."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from msgspec import Struct

from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.paper.label_sizes import PAPERS, LabelSheet
from mancary.paper.qr import label_text, qr_code
from mancary.paper.typesetting import Typeset, printable, typeset
from mancary.usecases.labels import Label, Labels

TEMPLATE: Final = "label_sheet.typ"
_MOST_SHIFT_MM: Final = 20.0
_DAY: Final = 10


class NameOnLabel(Struct, frozen=True):
    """A line of the name; Latin is set in italics, a trade name stands in its quotes."""

    text: str
    latin: bool


class LabelWords(Struct, frozen=True, kw_only=True):
    """One label as the template takes it, in mm from the paper's upper left corner.

    ``apart`` holds the words of quarantine, the fullest first; empty where it is in none.
    """

    x: float
    y: float
    kind: str
    code: str
    qr: str
    link: str
    names: tuple[NameOnLabel, ...]
    damp: str
    damp_share: float
    apart: tuple[str, ...]
    lines: tuple[str, ...]


class SheetWords(Struct, frozen=True, kw_only=True):
    """All that stands on the sheets of one printing; the template only places it."""

    title: str
    paper: tuple[float, float]
    width: float
    height: float
    outline: bool
    invented: bool
    sheets: tuple[tuple[LabelWords, ...], ...]


def label_sheet(
    found: Labels,
    sheet: LabelSheet,
    *,
    address: str,
    day: date,
    first: int = 1,
    outline: bool = False,
    shift_mm: tuple[float, float] = (0.0, 0.0),
) -> Typeset:
    """The labels as a PDF. ``address`` is where the pages are found: "http://mancary.local:8714".

    ``first`` is the first free place of a sheet begun before, ``shift_mm`` what the printer sets
    too far left and too high, ``outline`` a hairline to cut along.

    Raises:
        Refusal: for a place the sheet has not, or a shift no printer makes.
    """
    words = label_words(
        found, sheet, address=address, first=first, outline=outline, shift_mm=shift_mm
    )
    return typeset(TEMPLATE, words, day=day)


def label_words(
    found: Labels,
    sheet: LabelSheet,
    *,
    address: str,
    first: int = 1,
    outline: bool = False,
    shift_mm: tuple[float, float] = (0.0, 0.0),
) -> SheetWords:
    """The words of the sheets; raises as ``label_sheet``."""
    if not 1 <= first <= sheet.on_a_sheet:
        raise Refusal(f"Place {first}: the sheet has places 1 to {sheet.on_a_sheet}.")
    if max(map(abs, shift_mm)) > _MOST_SHIFT_MM:
        raise Refusal(f"A shift is at most {_MOST_SHIFT_MM:g} mm.")
    sheets: list[list[LabelWords]] = []
    for number, label in enumerate(found.labels, first - 1):
        page, place = divmod(number, sheet.on_a_sheet)
        if page >= len(sheets):
            sheets.append([])
        x, y = sheet.at(place)
        sheets[page].append(_words(label, address, (x + shift_mm[0], y + shift_mm[1])))
    return SheetWords(
        title="Labels",
        paper=PAPERS[sheet.paper],
        width=sheet.width,
        height=sheet.height,
        outline=outline,
        invented=found.invented,
        sheets=tuple(map(tuple, sheets)),
    )


def _words(label: Label, address: str, at: tuple[float, float]) -> LabelWords:
    text = label_text(address, label.box)
    return LabelWords(
        x=round(at[0], 3),
        y=round(at[1], 3),
        kind=label.kind,
        code=label.box,
        qr=qr_code(text).svg,
        link=text,
        names=_names(label),
        damp=label.damp,
        damp_share=round(label.damp_share or 0.0, 3),
        apart=_apart(label),
        lines=_lines(label),
    )


def _names(label: Label) -> tuple[NameOnLabel, ...]:
    if label.kind == "spare" or label.species is None:
        return (NameOnLabel("spare", latin=False),)
    latin, trade = label.species.latin, label.species.trade
    named = [NameOnLabel(printable(latin), latin=True)] if latin else []
    if trade:
        named.append(NameOnLabel(f"“{printable(trade)}”", latin=False))
    told: Sequence[str] = [label.morph, label.locality]
    line = ", ".join(printable(one) for one in told if one and one != trade)
    return (*named, NameOnLabel(line, latin=False)) if line else tuple(named)


def _lines(label: Label) -> tuple[str, ...]:
    if label.kind == "spare":
        return (label.size,) if label.size else ()
    told = [f"since {_when(label.founded)}"] if label.founded else []
    if label.batches:
        told.append(f"batch {', '.join(label.batches)}")
    return tuple(map(printable, told))


def _apart(label: Label) -> tuple[str, ...]:
    """The words on the stripe, the fullest first."""
    if not label.apart:
        return ()
    until = f" until {_when(label.apart_until)}" if label.apart_until else ""
    said = (f"quarantine{until}: last, own tools", f"quarantine{until}", "quarantine")
    return tuple(dict.fromkeys(said))


def _when(moment: Moment) -> str:
    if len(moment) < _DAY:
        return moment
    day = date.fromisoformat(moment)
    return f"{day.day} {day:%b} {day.year}"
