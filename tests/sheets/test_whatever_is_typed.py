"""Whatever stands in the cells: no row vanishes, nothing crashes, and taking in again adds nothing."""

import csv
import io
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

import pytest
import xlsxwriter  # type: ignore[import-untyped]
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mancary.book import create_book
from mancary.husbandry.facts import BoxDescribed
from mancary.husbandry.refusal import Refusal
from mancary.usecases.take_in import Reading, read_sheet, take

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
DURABLE = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
BOXES = ("Box", "Species", "Morph", "Since", "How many", "Litres", "Shelf", "Damp part", "Holes")
JOURNAL = ("Date", "Box", "What", "Amount", "Remarks")

odd = st.one_of(
    st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12),
    st.sampled_from(["-1", "0", "1e9", "9" * 400, "1/0", "½", "٣", "0x3", "12 x", "3,000", "NaN"]),
    st.sampled_from(["A1", "a-1", "", "?", "31.02.2025", "3/4/25", "half", "lots", "inf", "½ l"]),
)


def sheet_of(headings: Sequence[str], rows: Sequence[Sequence[str]]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=";").writerows([headings, *rows])
    return out.getvalue().encode()


def counts(reading: Reading) -> list[int]:
    return [
        reading.rows_understood,
        reading.rows_refused,
        reading.rows_asked,
        reading.rows_repeated,
    ]


def rows_of(width: int) -> st.SearchStrategy[list[tuple[str, ...]]]:
    return st.lists(st.tuples(*[odd] * width), min_size=1, max_size=6)


@DURABLE
@given(rows=rows_of(len(BOXES)), log=rows_of(len(JOURNAL)))
def test_no_row_vanishes_and_the_same_again_adds_nothing(
    rows: list[tuple[str, ...]],
    log: list[tuple[str, ...]],
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    path = tmp_path_factory.mktemp("book") / "odd.mancary"
    with create_book(path) as book:
        for headings, cells in ((BOXES, [("A1", *[""] * 8), *rows]), (JOURNAL, log)):
            data = sheet_of(headings, cells)
            try:
                reading = read_sheet(book, data, "odd.csv", now=NOW)
            except Refusal:
                continue
            filled = [row for row in cells if any("".join(cell.split()) for cell in row)]
            assert sum(counts(reading)) == reading.rows_read == len(filled)
            assert all(row.said or row.entries or row.refused or row.asked for row in reading.rows)
            take(book, reading, now=NOW, accept_best=0.9)
            later = NOW + timedelta(days=9)
            again = read_sheet(book, data, "odd.csv", now=later)
            assert take(book, again, now=later, accept_best=0.9).receipt.written == ()


def test_a_workbook_gives_the_same_facts_as_its_text(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    first = ["Box", "Species", "Since", "How many", "Litres", "Damp part", "Holes", "Remarks"]
    told = ["A1", "Porcellio scaber", date(2023, 2, 3), 25, 5.5, 0.4, "12 x 4", 'the "old" one']
    typed = ["A1", "Porcellio scaber", "3.2.2023", "25", "5,5", "40%", "12 x 4", 'the "old" one']
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"default_date_format": "d mmm yyyy"}) as workbook:
        page = workbook.add_worksheet()
        page.write_row(0, 0, first)
        page.write_row(1, 0, told)
    with create_book(tmp_path_factory.mktemp("book") / "one.mancary") as book:
        sheet = read_sheet(book, out.getvalue(), "boxes.xlsx", now=NOW)
        text = read_sheet(book, sheet_of(first, [typed]), "boxes.csv", now=NOW)
        assert sheet.rows_understood == 1
        assert [(e.id, e.happened, e.fact) for e in sheet.entries] == [
            (e.id, e.happened, e.fact) for e in text.entries
        ]
        (box,) = [e.fact for e in sheet.entries if isinstance(e.fact, BoxDescribed)]
        assert (box.litres, box.damp_share) == (5.5, 0.4)
        take(book, sheet, now=NOW)
        assert read_sheet(book, sheet_of(first, [typed]), "b.csv", now=NOW).facts == 0
