"""Labels are read back from the rendered page by another library, and say who lives there."""

import math
from datetime import date
from functools import cache
from itertools import pairwise

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from PIL import Image, ImageFilter

from mancary.husbandry.refusal import Refusal
from mancary.paper.label_sheet import label_sheet, label_words
from mancary.paper.label_sizes import PAPERS, SHEETS, LabelSheet, label_sheet_of
from mancary.paper.qr import QUIET, label_text, qr_code
from mancary.usecases.labels import Label, Labels, damp_class
from mancary.usecases.species_names import SpeciesName

DAY = date(2026, 11, 26)
ADDRESS = "http://mancary.local:8714"
CODES = ("A05", "C12-B", "KELLER/7", "Ü1", "Z 9")
NAMES = [
    SpeciesName(slug="a", name="", latin="Armadillidium vulgare", trade="", care_group=""),
    SpeciesName(slug="b", name="", latin="Cubaris sp.", trade="Soil", care_group=""),
]


def some(kind: str = "box", *, apart: bool = False) -> Labels:
    made = [
        Label(
            box=code, kind=kind, species=NAMES[n % 2], morph="red", founded="2025-03-09",  # type: ignore[arg-type]
            batches=("M7",), damp=damp_class(0.3), damp_share=0.3, apart=apart,
            apart_until="2026-12-20" if apart else None, size="5.5 L",
        )
        for n, code in enumerate(CODES)
    ]  # fmt: skip
    return Labels(labels=tuple(made), invented=False)


@cache
def drawn(size: str, dpi: int, kind: str = "box", *, apart: bool = False) -> Image.Image:
    made = label_sheet(some(kind, apart=apart), SHEETS[size], address=ADDRESS, day=DAY)
    page: Image.Image = pypdfium2.PdfDocument(made.pdf)[0].render(scale=dpi / 72).to_pil()
    return page.convert("L")


def read(page: Image.Image) -> set[str]:
    return {found.text for found in zxingcpp.read_barcodes(page)}


def one_label(page: Image.Image, sheet: LabelSheet, place: int, dpi: int) -> Image.Image:
    """One label as a phone's camera has it before it: the label alone."""
    (x, y), mm = sheet.at(place), dpi / 25.4
    return page.crop(
        (round(x * mm), round(y * mm), round((x + sheet.width) * mm),
         round((y + sheet.height) * mm))
    )  # fmt: skip


WANTED = {label_text(ADDRESS, code) for code in CODES}


@pytest.mark.parametrize("dpi", [300, 150])
@pytest.mark.parametrize("size", SHEETS)
@pytest.mark.parametrize("apart", [False, True])
def test_every_code_is_read_back_from_the_page(size: str, dpi: int, *, apart: bool) -> None:
    assert read(drawn(size, dpi, apart=apart)) == WANTED


@pytest.mark.parametrize("kind", ["lid", "spare"])
def test_lids_and_spares_too(kind: str) -> None:
    assert read(drawn("63.5x38.1", 150, kind)) == WANTED


@pytest.mark.parametrize("size", ["63.5x38.1", "38.1x21.2"])
@pytest.mark.parametrize(
    ("blur_mm", "turned"), [(0.0, 17.0), (0.0, 90.0), (0.15, 0.0), (0.2, 0.0), (0.15, 33.0)]
)
def test_a_blurred_or_turned_label_is_read(size: str, blur_mm: float, turned: float) -> None:
    page = drawn(size, 300)
    for place, code in enumerate(CODES):
        one = one_label(page, SHEETS[size], place, 300)
        one = one.rotate(turned, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC)
        seen = one.filter(ImageFilter.GaussianBlur(blur_mm * 300 / 25.4))
        assert read(seen) == {label_text(ADDRESS, code)}


def test_the_reader_can_fail() -> None:
    """A blur as wide as two modules, or a page drawn at 40 dpi, leaves nothing to read."""
    one = one_label(drawn("38.1x21.2", 300), SHEETS["38.1x21.2"], 0, 300)
    assert not read(one.filter(ImageFilter.GaussianBlur(0.9 * 300 / 25.4)))
    assert not read(drawn("38.1x21.2", 40))


def test_a_smudged_code_is_still_told_in_large_type() -> None:
    """ISO 9241-303 asks for 20 to 22 minutes of arc (from memory), at 0.7 m: 4.1 mm and more.

    The middle of the drop of capital letters of Libertinus Serif is 0.65 em (read off the font).
    """
    least_mm = 0.7e3 * math.tan(math.radians(20 / 60))
    for size, sheet in SHEETS.items():
        made = label_sheet(some(), sheet, address=ADDRESS, day=DAY)
        page = pypdfium2.PdfDocument(made.pdf)[0]
        text = page.get_textpage()
        found = text.search("A05").get_next()
        assert found is not None, size
        _, low, _, high = text.get_charbox(found[0])
        assert (high - low) * 25.4 / 72 >= least_mm, size
    assert least_mm > 9 * 0.65 * 25.4 / 72  # nine points, as the rest of the label, would not do


def test_capitals_make_a_smaller_code_with_its_quiet_zone() -> None:
    """ISO/IEC 18004, table 7: version 2-M holds 38 capitals or 26 bytes, 3-M 42 bytes."""
    large = qr_code(label_text(ADDRESS, "A05"))
    assert large.modules == 25
    assert qr_code(f"{ADDRESS}/b/A05").modules == 29
    assert f'viewBox="0 0 {25 + 2 * QUIET} {25 + 2 * QUIET}"' in large.svg


def test_labels_say_who_lives_there_and_quarantine_in_words_and_hatching() -> None:
    made = label_sheet(some(apart=True), SHEETS["99.1x38.1"], address=ADDRESS, day=DAY)
    page = pypdfium2.PdfDocument(made.pdf)[0]
    words = "".join(page.get_textpage().get_text_range().split())
    for told in ("Armadillidium", "vulgare", "a third damp", "9 Mar 2025", "batch M7", "red",
                 "quarantine until 20 Dec 2026", "own tools"):  # fmt: skip
        assert told.replace(" ", "") in words
    assert made.accessible
    assert foot_ink(apart=True) > 0.1
    assert foot_ink(apart=False) < 0.01


def foot_ink(*, apart: bool) -> float:
    """How much of the lowest 6 mm of a label is dark, its margin too."""
    sheet = SHEETS["99.1x38.1"]
    label = np.asarray(one_label(drawn(sheet.name, 300, apart=apart), sheet, 0, 300))
    return float((label[-round(6 * 300 / 25.4) :] < 128).mean())


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS.keys())
def test_labels_lie_on_their_paper_and_none_on_another(sheet: LabelSheet) -> None:
    width, height = PAPERS[sheet.paper]
    corners = [sheet.at(place) for place in range(sheet.on_a_sheet)]
    for x, y in corners:
        assert x >= -0.05
        assert y >= -0.05
        assert x + sheet.width <= width + 0.05
        assert y + sheet.height <= height + 0.05
    assert len(set(corners)) == sheet.on_a_sheet
    steps = {b[0] - a[0] for a, b in pairwise(corners) if b[1] == a[1]}
    assert min(steps) >= sheet.width - 1e-9


def test_places_begin_where_the_sheet_is_free_and_go_on_to_the_next() -> None:
    sheet = SHEETS["99.1x38.1"]
    words = label_words(some(), sheet, address=ADDRESS, first=13, shift_mm=(0.5, -1.0))
    assert [len(one) for one in words.sheets] == [2, 3]
    x, y = sheet.at(12)
    assert (words.sheets[0][0].x, words.sheets[0][0].y) == pytest.approx((x + 0.5, y - 1.0))
    with pytest.raises(Refusal, match="places 1 to 14"):
        label_words(some(), sheet, address=ADDRESS, first=15)


@pytest.mark.parametrize(
    ("size", "grid", "gap", "says"),
    [
        ("60x40", "", "", "--grid"),
        ("sixty", "3x7", "", "two numbers"),
        ("60x40", "4x7", "", "do not fit"),
        ("20x10", "3x7", "", "too small"),
        ("60x40", "2.5x7", "", "whole numbers"),
        ("60x40", "3x7", "20x0", "do not fit"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused(size: str, grid: str, gap: str, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        label_sheet_of(size, grid=grid, gap=gap)


def test_a_sheet_of_the_keepers_own_lies_in_the_middle() -> None:
    sheet = label_sheet_of("60×40", grid="3x7", gap="2x0")
    assert sheet.left == pytest.approx((210 - 184) / 2)
    assert label_sheet_of("63,5X38,1") == SHEETS["63.5x38.1"]
