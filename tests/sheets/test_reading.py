"""Bytes to a table: delimiters, encodings, workbooks, lines, and what is refused."""

import io
from datetime import date, datetime, time

import pytest
import xlsxwriter  # type: ignore[import-untyped]
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mancary.husbandry.refusal import Refusal
from mancary.sheets.reading import read_table
from mancary.sheets.reading.table import find_delimiter

HEAD = "Box;Species;Remarks\r\n"


def workbook(rows: list[list[object]]) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True, "default_date_format": "dd/mm/yyyy"}) as book:
        book.add_worksheet("empty")
        sheet = book.add_worksheet("boxes")
        for r, row in enumerate(rows):
            for c, cell in enumerate(row):
                sheet.write(r, c, cell)
    return out.getvalue()


def test_a_row_has_the_line_it_begins_on_and_empty_lines_are_no_rows() -> None:
    text = HEAD + 'A1;x;"two\r\nlines"\r\n;;\r\n\r\nA2;y;\r\n'
    table = read_table(text.encode())
    assert [(row.line, row.cells) for row in table.rows] == [
        (2, ("A1", "x", "two lines")),
        (6, ("A2", "y", "")),
    ]


def test_a_title_above_the_headings_is_passed_over() -> None:
    table = read_table(b"My boxes;;\n;;\nBox;Species;Remarks\nA1;x;y\n")
    assert table.heading_line == 3
    assert [row.line for row in table.rows] == [4]


def test_a_told_delimiter_is_taken_and_counted_as_a_line() -> None:
    table = read_table(b"sep=|\nBox|Species\nA1|x\n")
    assert table.headings == ("Box", "Species")
    assert table.rows[0].line == 3


@pytest.mark.parametrize("sign", [";", ",", "\t", "|"])
def test_the_delimiter_is_found_among_decimal_commas_and_lists(sign: str) -> None:
    rows = [["Box", "Litres", "Remarks"], ["A1", "1,5", "a;b"], ["A2", "5,5", "c"]]
    text = "\n".join(sign.join(f'"{cell}"' if sign in cell else cell for cell in r) for r in rows)
    assert find_delimiter(text) == sign


WORDS = "Låda;Größe;Anmärkning\nA1;3 l;Fläche ½ naß – står för varmt\n"


@pytest.mark.parametrize(
    ("encoding", "words"),
    [
        ("utf-8", WORDS),
        ("utf-8-sig", WORDS),
        ("utf-16", WORDS),
        ("utf-16-le", WORDS),
        ("utf-16-be", WORDS),
        ("cp1252", WORDS),
        ("latin-1", WORDS.replace("–", "-")),
        ("mac_roman", WORDS.replace("½", "1/2")),
    ],
)
def test_the_words_come_through_any_encoding(encoding: str, words: str) -> None:
    table = read_table(words.encode(encoding))
    assert table.headings == ("Låda", "Größe", "Anmärkning")
    assert table.rows[0].cells[2] == words.splitlines()[1].split(";")[2]


def test_headings_that_are_empty_or_doubled_get_names_of_their_own() -> None:
    table = read_table(b"Box,Notes,,Notes\nA1,a,b,c,d\n")
    assert table.headings == ("Box", "Notes", "column 3", "Notes (2)", "column 5")


def test_a_workbook_gives_real_dates_and_plain_numbers() -> None:
    data = workbook(
        [
            ["Box", "Since", "Litres", "Count", "Seen"],
            ["A1", date(2023, 2, 3), 1.5, 40, datetime.combine(date(2024, 5, 6), time(18, 30))],
            [],
            ["A2", "Feb 2023", 1.455, "lots", ""],
        ]
    )
    table = read_table(data)
    assert table.how == "workbook"
    assert [(row.line, row.cells) for row in table.rows] == [
        (2, ("A1", "2023-02-03", "1.5", "40", "2024-05-06 18:30")),
        (4, ("A2", "Feb 2023", "1.4550", "lots", "")),
    ]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"  \r\n ", "empty"),
        (bytes(range(256)) * 40, "not text"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(40)) * 9, "not text"),
        (b"PK\x03\x04 no workbook", "cannot be read"),
        (b"\xff\xfeA\x00B", "broken at byte"),
        (b"Box,Species\n", "no rows"),
        (b"x" * 20_000_001, "larger than 20 MB"),
        (b"Box,Species\n" + b"A,b\n" * 200_001, "more than 200,000 rows"),
        (b"Box" + b"," * 600 + b"\nA1\n", "columns"),
        (b'Box,Species\nA1,"' + b"x" * 140_000 + b'"\n', "more than 100,000 letters"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_is_no_sheet_is_refused_in_a_sentence(data: bytes, words: str) -> None:
    with pytest.raises(Refusal, match=words) as refusal:
        read_table(data)
    assert str(refusal.value).endswith(".")
    assert str(refusal.value).count("\n") == 0


@settings(max_examples=400, deadline=None)
@given(data=st.binary(max_size=600))
@example(data=b'"')
@example(data=b"\xfe\xff\xd8\x00")
@example(data=b"PK\x03\x04" + bytes(30))
@example(data=b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600))
@example(data=b"Box;\x00\x00\xd9\xa3\n")
def test_no_bytes_do_worse_than_be_refused(data: bytes) -> None:
    try:
        table = read_table(data)
    except Refusal:
        return
    assert table.rows
    assert all(len(row.cells) == len(table.headings) for row in table.rows)
