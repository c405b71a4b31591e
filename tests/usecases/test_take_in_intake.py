"""The keeper's list of boxes goes through with every fault understood or listed, line by line."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from mancary.book import Book, create_book
from mancary.husbandry.facts import (
    BoxDescribed,
    Counted,
    Fact,
    FigureChosen,
    Founded,
    LineNamed,
    Noted,
    PageOpened,
    ShelfPlaced,
    Shelved,
    Vent,
)
from mancary.usecases.take_in import read_sheet, take
from tests.usecases.intake import BOXES, NOW, boxes, counts, facts_in


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Book]:
    with create_book(tmp_path / "room.mancary") as book:
        yield book


def test_the_box_list_is_read_to_the_last_row(room: Book) -> None:
    reading = boxes(room)
    assert counts(reading) == (64, 58, 2, 4, 0)
    # line 35 is empty and no row
    assert [row.line for row in reading.rows] == [*range(2, 35), *range(36, 67)]
    assert reading.facts == sum(len(row.entries) for row in reading.rows)


def test_each_fault_of_the_box_list_is_listed_at_its_line(room: Book) -> None:
    reading = boxes(room)
    assert [(one.row, one.column, one.value, one.why) for one in reading.refused] == [
        (7, "Since", "31.02.2025", "there is no 31.02.2025 in the calendar; expected a date"),
        (43, "Litres", "-3", "expected one volume above 0 litres, like 3 L or 500 ml"),
    ]
    assert [(one.row, one.column, one.value) for one in reading.asked] == [
        (9, "Species", "Porcelio scaber"),
        (19, "Box", "B01"),
        (21, "Species", "P. dilatatus"),
        (25, "Species", 'Cubaris sp. "Harbour Fog"'),
    ]


def test_what_is_asked_has_choices_with_the_likeliest_first_named(room: Book) -> None:
    misspelt, twice, short, unknown = boxes(room).asked
    assert misspelt.best.value == "species:porcellio-scaber"
    assert short.best.value == "species:porcellio-dilatatus"
    assert unknown.best.value == "page:asian-cave-armadillidae"
    assert min(one.best.likelihood for one in (misspelt, short, unknown)) >= 0.9
    assert [choice.value for choice in twice.choices] == [
        "B02",
        "the same box told again",
        "leave out",
    ]
    assert twice.best.value == "B02"
    assert twice.best.likelihood < 0.9


def test_one_row_becomes_these_facts(room: Book) -> None:
    assert facts_in(boxes(room), 2) == [
        ("2026-11-25", ShelfPlaced(shelf="A1", turn=1)),
        (
            "2023-02-03",
            LineNamed(
                line="porcellionides-sexfasciatus-striped",
                species="porcellionides-sexfasciatus",
                as_bought="Porcellionides sexfasciatus",
                morph="striped",
            ),
        ),
        (
            "2023-02-03",
            Founded(colony="A01.1", box="A01", line="porcellionides-sexfasciatus-striped"),
        ),
        (
            "2026-11-25",
            BoxDescribed(
                box="A01",
                litres=3,
                vents=(Vent(count=30, size_mm=3),),
                vents_as_written="30×3",
                damp_share=0.3,
            ),
        ),
        ("2026-11-25", Shelved(box="A01", shelf="A1", position=1)),
        (
            "2026-11-25",
            Counted(box="A01", low=50, as_written="lots", note="our reading: at least 50"),
        ),
        (
            "2026-11-25",
            FigureChosen(
                scope="box", code="A01", figure="protein_feeds_per_week", low=1.0, high=1.0
            ),
        ),
        ("2026-11-25", Noted(what="box", code="A01", text="from swap, check")),
    ]


@pytest.mark.parametrize(
    ("line", "kind", "wanted"),
    [
        (4, BoxDescribed, {"litres": 12, "damp_share": 0.5}),
        (4, BoxDescribed, {"vents": (Vent(count=24, size_mm=3, place="lid"),)}),
        (3, BoxDescribed, {"damp_share": 1 / 3, "vents": (Vent(count=12, size_mm=4),)}),
        (8, BoxDescribed, {"vents": (Vent(count=2, size_mm=50, make="mesh"),), "litres": 5.5}),
        (12, BoxDescribed, {"vents": (Vent(count=20, size_mm=3),), "damp_share": 0.5}),
        (32, BoxDescribed, {"litres": 3, "damp_share": 0.3}),
        (6, BoxDescribed, {"litres": 1.5, "vents": None, "damp_share": 0.4}),
        (5, Counted, {"low": 50, "high": None, "as_written": "50+"}),
        (10, Counted, {"low": 32, "high": 48, "as_written": "ca. 40"}),
        (13, Counted, {"low": 150, "high": 200, "as_written": "150-200"}),
        (27, Counted, {"low": 240, "high": 360, "as_written": "~300"}),
        (8, Counted, {"low": 25, "high": 25, "as_written": ""}),
        (5, FigureChosen, {"low": 0.5, "high": 0.5, "scope": "box", "code": "A04"}),
        (4, Noted, {"text": "mites in Feb", "what": "box", "code": "A03"}),
        (13, LineNamed, {"species": "porcellio-laevis", "as_bought": "porcellio LAEVIS"}),
        (24, LineNamed, {"species": "porcellionides-pruinosus", "morph": "white out"}),
        (24, LineNamed, {"as_bought": "powder blue"}),
        (38, LineNamed, {"species": "trichorhina-tomentosa", "as_bought": "dwarf white"}),
        (11, LineNamed, {"species": "lobella-sp-thai-red", "line": "lobella-sp-thai-red"}),
    ],
)
def test_cells_as_people_write_them(
    room: Book, line: int, kind: type[Fact], wanted: dict[str, object]
) -> None:
    (fact,) = [fact for _, fact in facts_in(boxes(room), line) if isinstance(fact, kind)]
    assert {name: getattr(fact, name) for name in wanted} == wanted


def test_a_question_mark_is_no_count_and_an_empty_cell_neither(room: Book) -> None:
    reading = boxes(room)
    for line in (4, 16):
        assert not [fact for _, fact in facts_in(reading, line) if isinstance(fact, Counted)]


def test_likely_choices_are_taken_on_the_keepers_word_and_the_rest_stays_asked(room: Book) -> None:
    receipt = take(room, boxes(room), now=NOW, accept_best=0.9)
    assert counts(receipt.reading) == (64, 61, 2, 1, 0)
    assert [one.key for one in receipt.reading.asked] == ["twice:B01:2"]
    pages = [entry.fact for entry in room.entries_of([PageOpened.kind])]
    assert pages == [
        PageOpened(
            species="cubaris-sp-harbour-fog",
            name='Cubaris sp. "Harbour Fog"',
            care_group="asian-cave-armadillidae",
        )
    ]
    lines = {
        e.fact.line: e.fact
        for e in room.entries_of(["line_named"])
        if isinstance(e.fact, LineNamed)
    }
    assert lines["porcellio-scaber-wild-yellow-spots"].as_bought == "Porcelio scaber"
    assert len(room.subjects("box")) == 61


def test_without_that_word_only_understood_rows_are_written(room: Book) -> None:
    receipt = take(room, boxes(room), now=NOW)
    assert counts(receipt.reading) == (64, 58, 2, 4, 0)
    assert len(room.subjects("box")) == 58
    assert receipt.facts_written == receipt.reading.facts == 391


def test_the_dates_order_and_the_as_of_day_are_said(room: Book) -> None:
    reading = boxes(room)
    assert any(note.startswith("Dates are read day first") for note in reading.notes)
    assert any("does not say when it was counted" in note for note in reading.notes)
    earlier = read_sheet(room, BOXES, "boxes.csv", now=NOW, as_of=date(2026, 5, 1))
    told = {e.happened for e in earlier.entries if isinstance(e.fact, (Counted, BoxDescribed))}
    assert told == {"2026-05-01"}
