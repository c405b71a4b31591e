"""The sheet read back: every stop and care once and in walking order, and all words as words."""

import re
from datetime import date, timedelta
from pathlib import Path

import pypdfium2
import pytest
from msgspec.structs import replace

from mancary.book import Book, open_book
from mancary.demo import make_demo
from mancary.husbandry.facts import BookOpened, LineNamed, LineRenamed, PageOpened
from mancary.husbandry.words import AT_HAND, CARES, said
from mancary.paper.round_sheet import (
    APART,
    MOST_LATE,
    RoundOnPaper,
    parted,
    round_sheet,
)
from mancary.usecases import set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.round_plan import PutOff, Round, Stop, accept_plan, plan_round
from mancary.usecases.species_names import split_name
from tests.conftest import HandClock
from tests.paper.conftest import SUNDAY, pages, text_of

ROW = re.compile(
    r"\b([A-D]\d\d) ((?:(?!\b[A-D]\d\d\b).)*?) young gravid dead mites left over mould wet"
)


def tonight(book: Book, *, minutes: float | None = None) -> RoundOnPaper:
    return round_sheet(book, on=SUNDAY, named=True, minutes=minutes)


def rows(pdf: bytes) -> list[tuple[str, str]]:
    """Each box of the sheet and what stands between its code and the words to circle."""
    return ROW.findall(text_of(pdf))


def row_expected(stop: Stop) -> tuple[str, str]:
    cares = sorted(stop.tasks, key=lambda task: AT_HAND.index(task.care))
    told = [f"{said(task.care)} {parted(task.said)[0]}".strip() for task in cares]
    apart = [f"Shelf {stop.shelf}, {stop.words}"] if stop.quarantined else []
    latin, trade = split_name(stop.species)
    name = f"{latin} ‘{trade}’" if trade else latin
    return stop.box, " ".join([name, *told, *apart])


def rows_expected(told: Round) -> list[tuple[str, str]]:
    return [row_expected(stop) for stop in told.stops]


def test_every_stop_and_every_care_is_on_the_sheet_once_in_walking_order(
    room: Book, pen: Pen
) -> None:
    set_up.quarantine(room, "B00", why="sick", until=date(2026, 12, 1), pen=pen)
    made = tonight(room)
    assert len(made.told.stops) == 12
    assert made.told.stops[-1].box == "B00"
    assert rows(made.sheet.pdf) == rows_expected(made.told)


def test_a_care_or_a_stop_that_were_missing_would_be_noticed(room: Book) -> None:
    made = tonight(room)
    first, second, *others = made.told.stops
    fewer = replace(first, tasks=first.tasks[:-1])
    for wrong in ([fewer, second, *others], [second, first, *others], [second, *others]):
        assert rows(made.sheet.pdf) != rows_expected(replace(made.told, stops=tuple(wrong)))


def test_each_box_stands_under_its_shelf(room: Book) -> None:
    text = text_of(tonight(room).sheet.pdf)
    places = [text.index(one) for one in ("Shelf S0", "B00 ", "B03 ", "Shelf S1", "B04 ")]
    assert places == sorted(places)


def test_the_rest_of_an_amount_is_said_at_the_foot_of_every_page(many: Book) -> None:
    made = tonight(many, minutes=300)
    found = pages(made.sheet.pdf)
    assert len(found) > 1
    for number, page in enumerate(found, start=1):
        assert "protein a pinch, 0.05-0.2 g per 50 adults" in page
        assert page.endswith(f"Test room page {number} of {len(found)}")


def test_a_full_evening_in_a_room_of_ninety_six_boxes_takes_four_pages(tmp_path: Path) -> None:
    """Four is the aim set for the sheet; the boxes are read back across the page breaks too."""
    path = tmp_path / "demo.mancary"
    make_demo(path, on=date(2026, 11, 25))
    with open_book(path) as demo:
        made = round_sheet(demo, on=date(2026, 11, 25), named=True)
    assert len(made.told.stops) > 90
    assert len(pages(made.sheet.pdf)) <= 4
    assert rows(made.sheet.pdf) == rows_expected(made.told)
    assert "Invented, for demonstration" in pages(made.sheet.pdf)[-1]


def test_quarantined_boxes_come_last_in_words_and_with_own_tools(room: Book, pen: Pen) -> None:
    assert APART not in text_of(tonight(room).sheet.pdf)
    set_up.quarantine(room, "B05", why="new", until=date(2026, 12, 1), pen=pen)
    text = text_of(tonight(room).sheet.pdf)
    assert "own tools" in APART
    assert text.count(APART) == 1
    assert text.index("B11 ") < text.index(APART) < text.index("B05 ")
    assert "Shelf S1, quarantine until 2026-12-01, own tools" in text


def test_the_tray_stands_with_its_sums_and_their_basis(room: Book) -> None:
    made = tonight(room)
    text = text_of(made.sheet.pdf)
    assert made.told.tray
    for item in made.told.tray:
        amount = f"{item.amount:g} {item.unit}" if item.amount is not None else "by eye"
        assert f"{said(item.item)} {item.boxes} {amount}" in text
        assert item.basis in text
    assert made.told.basis in text


def test_what_is_put_off_is_named_where_late_and_counted_where_not(room: Book) -> None:
    made = tonight(room, minutes=4)
    text = text_of(made.sheet.pdf)
    waiting = [one for one in made.told.put_off if one.risk.startswith("none")]
    late = [one for one in made.told.put_off if one not in waiting]
    assert waiting
    assert f"Due, but in their window still ({len(waiting)})" in text
    assert all(one.risk in text for one in late[:MOST_LATE])


def test_more_late_cares_than_fit_are_counted_not_dropped(room: Book) -> None:
    from mancary.paper.round_sheet import sheet_words
    from mancary.usecases.standings import register_of

    one = PutOff(box="B00", care="mist", until=None, late_days=3, risk="it dries out")
    told = replace(tonight(room).told, put_off=(one,) * (MOST_LATE + 5))
    part = sheet_words(told, register_of(room), accepted=True).put_off
    assert part.late == ("B00 misting: it dries out",) * MOST_LATE
    assert part.more == "And 5 more late cares."


def test_a_thermometer_that_is_due_has_its_line_also_where_no_box_is_opened(
    room: Book, pen: Pen
) -> None:
    assert "lowest" not in text_of(tonight(room).sheet.pdf)
    set_up.place_shelf(room, "CELLAR", pen=pen)
    for shelf in ("S1", "CELLAR"):
        set_up.read_shelf(room, shelf, lowest_c=18, highest_c=22, pen=pen, happened="2026-10-20")
    text = text_of(tonight(room).sheet.pdf)
    assert "Shelf S1 thermometer: lowest °C highest °C" in text
    assert "Shelf CELLAR lowest °C highest °C" in text
    assert "mancary shelf S1 18.5 23 --on 2026-11-01" in text


def test_the_sheet_of_an_evening_to_come_is_the_round_that_done_will_write(room: Book) -> None:
    monday = SUNDAY + timedelta(days=1)
    made = round_sheet(room, on=monday, named=False)
    assert made.told.date == SUNDAY + timedelta(days=3)
    assert made.told.stops == plan_round(room, on=made.told.date, named=True).stops
    assert rows(made.sheet.pdf) == rows_expected(made.told)


def test_the_sheet_says_to_accept_a_plan_until_it_is_accepted(room: Book, pen: Pen) -> None:
    keep = "mancary round --on 2026-11-01 --minutes 30 --accept"
    before = tonight(room, minutes=30)
    assert not before.accepted
    assert keep in text_of(before.sheet.pdf)
    accept_plan(room, on=SUNDAY, named=True, minutes=30, pen=pen)
    after = tonight(room)
    assert after.accepted
    assert "--accept" not in text_of(after.sheet.pdf)
    assert rows(after.sheet.pdf) == rows(before.sheet.pdf)


def test_an_evening_without_work_says_so(book: Book) -> None:
    made = tonight(book)
    text = text_of(made.sheet.pdf)
    assert "No box wants a visit this evening. Nothing is due." in text
    assert "page 1 of 1" in text
    assert "mancary done" not in text


def test_an_evening_without_minutes_says_that_all_is_put_off(room: Book) -> None:
    text = text_of(tonight(room, minutes=0.1).sheet.pdf)
    assert "No box is opened this evening: what is due is put off" in text
    assert "Put off" in text


HOSTILE = (
    '#import "@preview/evil:1.0.0": *',
    "$x^2$ and *bold* and _thin_ `raw`",
    '#eval("1+1") \\ <label> @ref /* gone */ // gone',
    "He said \"so\" and 'so'",
    "#panic()]) #[",
)


@pytest.mark.parametrize("hostile", HOSTILE)
def test_text_of_the_keepers_never_becomes_markup(room: Book, pen: Pen, hostile: str) -> None:
    line = next(e.fact for e in room.entries_of(("line_named",)))
    assert isinstance(line, LineNamed)
    renamed = LineRenamed(line=line.line, species=line.species, morph=hostile, by="us")
    opened = BookOpened(name=hostile, zone="Europe/Stockholm", invented=True)
    write(room, [renamed, opened], pen=pen)
    told = squeezed(text_of(tonight(room).sheet.pdf))
    assert squeezed(f"B00 Porcellio scaber, {hostile} a look") in told
    assert squeezed(f"{hostile}. Invented, for demonstration page 1 of") in told


def squeezed(text: str) -> str:
    """The text without blanks and soft breaks: a long word may be broken anywhere."""
    return re.sub(r"[\s\u200b]", "", text)


def test_a_page_of_the_keepers_own_may_have_any_name_and_any_length(room: Book, pen: Pen) -> None:
    line = next(e.fact for e in room.entries_of(("line_named",)))
    assert isinstance(line, LineNamed)
    name = "#Import $x$ " + "Abracadabra" * 9 + " the very long" * 5
    page = PageOpened(species="own-form", name=name, care_group="temperate-woodland")
    renamed = LineRenamed(line=line.line, species="own-form", by="us")
    write(room, [page, renamed], pen=pen)
    told = squeezed(text_of(tonight(room).sheet.pdf))
    assert squeezed(f"B00 {name.replace('$x$ ', '$x$ ‘')}’ a look") in told


def test_the_same_book_gives_the_same_bytes(room: Book, clock: HandClock) -> None:
    first = tonight(room).sheet.pdf
    clock.forward(days=2)
    assert tonight(room).sheet.pdf == first
    assert tonight(room, minutes=4).sheet.pdf != first
    with pypdfium2.PdfDocument(first) as document:  # the evening's date, not the machine's
        assert document.get_metadata_value("CreationDate").startswith("D:20261101")
        assert document.get_metadata_value("ModDate") in ("", "D:20261101000000Z")


def test_the_file_is_tagged_and_says_it_holds_to_pdf_ua(room: Book) -> None:
    made = tonight(room)
    assert made.sheet.accessible
    assert b"<pdfuaid:part>1</pdfuaid:part>" in made.sheet.pdf
    with pypdfium2.PdfDocument(made.sheet.pdf) as document:
        assert pypdfium2.raw.FPDFCatalog_IsTagged(document)
        assert document.get_metadata_value("Title") == "Round of Sunday 1 November 2026"


def test_the_order_at_the_open_box_knows_every_care() -> None:
    assert sorted(AT_HAND) == sorted(CARES)


@pytest.mark.parametrize(
    ("amount", "first", "rest"),
    [
        ("a pinch, 0.05-0.2 g per 50 adults", "a pinch", "0.05-0.2 g per 50 adults"),
        ("a thumbnail slice per 20-30 adults", "a thumbnail slice", "per 20-30 adults"),
        ("5-15 mL at one end", "5-15 mL", "at one end"),
        ("a handful", "a handful", ""),
        ("", "", ""),
    ],
)
def test_an_amount_is_parted_without_losing_a_word(amount: str, first: str, rest: str) -> None:
    assert parted(amount) == (first, rest)
