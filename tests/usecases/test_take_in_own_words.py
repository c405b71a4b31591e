"""Sheets headed in a keeper's own words, without headings, with a title page; two in one box."""

import io
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
import xlsxwriter  # type: ignore[import-untyped]

from mancary.book import Book, create_book
from mancary.husbandry.refusal import Refusal
from mancary.usecases.take_in import Reading, read_sheet
from tests.usecases.intake import BOXES, JOURNAL, NOW, boxes, counts

FIRST, _, REST = BOXES.decode("utf-8-sig").partition("\n")
OWN = (
    "Tub;What lives in it;Form;Started;Head count;Size (l);Rack place;Wet share;Air holes;"
    "Protein meals a week;Notes"
)
OTHERS = (
    "Which tub;Who lives there;Colouration;Founded on;How many animals;Tub volume;"
    "Where it stands;How wet;Holes drilled;Meals of protein;Scribbles to remember"
)


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        yield book


def read(book: Book, text: str, means: dict[str, str] | None = None) -> Reading:
    return read_sheet(book, text.encode(), "sheet.csv", now=NOW, meanings=means)


def workbook(*pages: tuple[str, Sequence[Sequence[object]]]) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        for name, rows in pages:
            page = book.add_worksheet(name)
            for number, row in enumerate(rows):
                page.write_row(number, 0, row)
    return out.getvalue()


@pytest.mark.parametrize("headings", [OWN, OTHERS])
def test_own_words_give_the_same_facts_as_the_known_ones(room: Book, headings: str) -> None:
    own = read(room, f"{headings}\n{REST}")
    assert own.sort == "boxes"
    assert counts(own) == counts(boxes(room))
    assert [column.role for column in own.columns][:10] == [
        column.role for column in boxes(room).columns
    ][:10]
    known = {entry.id for entry in boxes(room).entries if entry.fact.kind != "noted"}
    assert {entry.id for entry in own.entries if entry.fact.kind != "noted"} == known


def test_a_list_of_boxes_is_no_journal_whatever_it_is_headed(room: Book) -> None:
    headings = "When;What;Form;Date;Amount;Size;Place;Wet;Air;Protein;Notes"
    reading = read(room, f"{headings}\n{REST}")
    assert reading.sort == "boxes"
    roles = {column.heading: column.role for column in reading.columns}
    assert (roles["What"], roles["Form"], roles["When"]) == ("species", "morph", "box")


def test_a_round_with_the_species_beside_each_box_is_still_a_journal(room: Book) -> None:
    text = "Date;Box;Species;What\n" + "".join(
        f"2026-05-0{n};A0{n};Porcellio scaber;mist\n" for n in range(1, 8)
    )
    assert read(room, text).sort == "journal"


def test_meanings_found_are_said(room: Book) -> None:
    reading = boxes(room)
    assert any(
        note.startswith("Columns: Box (the box's code), Species (species or trade name)")
        for note in reading.notes
    )
    assert reading.summary()["columns"][1] == {
        "heading": "Species",
        "meaning": "species",
        "words": "species or trade name",
        "found": "heading",
    }


def test_counts_in_words_are_counted_and_said_to_be_our_reading(room: Book) -> None:
    """Eight cells of the file say lots, nine say ca. or ~; counted in the file itself."""
    cells = [line.split(";")[4] for line in REST.splitlines() if line]
    lots, about = cells.count("lots"), sum(cell[:1] in "c~" for cell in cells if cell)
    notes = boxes(room).notes
    assert any(
        n.startswith(f"{lots} of the counts in words: words like 'lots', our") for n in notes
    )
    assert any(n.startswith(f"{about} of the counts in words: our reading of about") for n in notes)


def test_which_line_repeats_which_is_said(room: Book) -> None:
    reading = read(room, "Box,Species\nA1,Oniscus asellus\nA2,Cubaris murina\nA1,Oniscus asellus\n")
    assert "Written once: line 4 says what line 2 says." in reading.notes
    assert reading.summary()["repeated"] == [{"row": 4, "repeats_row": 2}]


def test_what_is_missing_is_said_with_the_exact_repair(room: Book) -> None:
    text = "Vessel;Creature names;Tint\nxx;Porcellio scaber;orange\nyy;Oniscus asellus;wild\n"
    with pytest.raises(Refusal) as refused:
        read(room, text)
    said = str(refused.value)
    assert "Not understood: 'Vessel', 'Tint'" in said
    assert "Missing: the box's code" in said
    assert read(room, text, {"Vessel": "box"}).rows_understood == 2


@pytest.mark.parametrize(
    ("text", "roles"),
    [
        ("A03,Porcellio scaber,2024-01-01,5\n", "column 1=box column 2=species column 3=since"),
        (REST, "column 1=box column 2=species column 4=since"),
        (
            JOURNAL.decode("utf-8-sig").partition("\n")[2],
            "column 1=date column 2=box column 3=what column 4=amount",
        ),
    ],
    ids=["one row", "boxes", "journal"],
)
def test_without_headings_the_first_row_is_never_eaten(room: Book, text: str, roles: str) -> None:
    with pytest.raises(Refusal, match="This sheet has no headings: its first line") as refused:
        read(room, text)
    pairs = roles.replace(" column", "|column").split("|")
    assert all(f'--means "{pair}"' in str(refused.value) for pair in pairs)
    told = read(room, text, dict(pair.split("=") for pair in pairs[:3]))
    assert told.rows[0].line == 1
    assert told.rows_read == sum(bool(line.strip(";,")) for line in text.splitlines())


def test_headings_that_look_like_codes_are_headings(room: Book) -> None:
    assert read(room, f"q1;q2;q3;q4;q5;q6;q7;q8;q9;q10;q11\n{REST}").rows_read == 64


def test_the_page_that_is_a_table_is_read_and_the_others_are_named(room: Book) -> None:
    data = workbook(
        ("Title", [["The bug room"], ["kept since 2019"]]),
        ("Boxes", [["Box", "Species"], ["A1", "Oniscus asellus"], ["A2", "Cubaris murina"]]),
        ("Prices", [["what", "price"], ["leaves", 3]]),
    )
    reading = read_sheet(room, data, "room.xlsx", now=NOW)
    assert reading.rows_understood == 2
    assert any(
        "3 filled pages. Only 'Boxes' is read" in note and "left aside: Title, Prices" in note
        for note in reading.notes
    )
    single = workbook(("Boxes", [["Box", "Species"], ["A1", "Oniscus asellus"]]))
    alone = read_sheet(room, single, "room.xlsx", now=NOW)
    assert not any("filled pages" in note for note in alone.notes)


def test_lines_above_the_headings_are_said_to_be_left_aside(room: Book) -> None:
    reading = read(room, "My room,,\n,,\nBox,Species,Morph\nA1,Oniscus asellus,\n")
    assert "Line 1 above the headings ('My room') is left aside." in reading.notes


@pytest.mark.parametrize(
    "name",
    [
        "Porcellio scaber / Porcellio laevis",
        "Porcellio scaber Porcellio laevis",
        "Porcellio scaber and some laevis",
        "P. scaber/laevis",
        "Armadillidium vulgare or nasatum",
        "Dairy cow and powder blue",
    ],
)
def test_two_species_in_one_cell_are_asked(room: Book, name: str) -> None:
    text = f"Box;Species\nA1;{name}\n"
    (asked,) = read(room, text).asked
    assert asked.why.startswith("two species in one box: ")
    assert all(choice.likelihood < 0.9 for choice in asked.choices)
    first = asked.choices[0].value
    chosen = read_sheet(room, text.encode(), "s.csv", now=NOW, answers={asked.key: first})
    assert [e.fact.as_bought for e in chosen.entries if hasattr(e.fact, "as_bought")] == [name]


@pytest.mark.parametrize(
    "name",
    ["Porcellio scaber, orange", "Porcellio laevis Orange x Porcellio laevis", "zebra, wild",
     "Porcellionides pruinosus, powder orange"],
)  # fmt: skip
def test_one_species_with_its_colour_is_not_two(room: Book, name: str) -> None:
    reading = read(room, f"Box;Species\nA1;{name}\n")
    assert not any("two species" in question.why for question in reading.asked)


def test_no_name_of_the_handbook_is_taken_for_two() -> None:
    from mancary import handbook
    from mancary.usecases.take_in.mixed import two_species

    pages = [handbook.page(slug) for slug in handbook.species_slugs()]
    names = [name for p in pages for name in (p.name, *(trade.name for trade in p.trade_names))]
    assert len(names) > 132
    assert [name for name in names if two_species(name, handbook.find)] == []


def test_a_cell_beyond_what_can_be_read_is_said_in_a_sentence(room: Book) -> None:
    with pytest.raises(Refusal, match="more than 100,000 letters") as refused:
        read(room, f'Box,Species\nA1,"{"x" * 140_000}"\n')
    assert "field limit" not in str(refused.value)
