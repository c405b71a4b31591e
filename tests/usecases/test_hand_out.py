"""The hand-out: lossless, described, and the same bytes each time."""

import csv
import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mancary.book import Book, BookTrouble, create_book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import KINDS, Noted, SeenInBox
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.hand_out import hand_out
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.take_hand_out import is_hand_out, take_hand_out
from tests.conftest import NOON
from tests.husbandry.strategies import entries


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


@settings(
    max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(told=st.lists(entries(), max_size=15, unique_by=lambda e: e.id))
def test_a_hand_out_taken_in_gives_the_same_book_and_the_same_hand_out(
    told: list[Entry], tmp_path_factory: pytest.TempPathFactory
) -> None:
    root = tmp_path_factory.mktemp("out")
    pen = Pen(clock=lambda: NOON)
    with create_book(root / "a.mancary") as first, create_book(root / "b.mancary") as second:
        first.append(told, written_at=NOON)
        if told:
            withdraw(first, told[0].id, why='a "quoted", reason;\n', pen=pen, even_so=True)
        hand_out(first, root / "one")
        taken = take_hand_out(second, root / "one", now=NOON)
        assert taken.identical
        assert second.head() == first.head()
        assert list(second.entries()) == list(first.entries())
        hand_out(second, root / "two")
        assert files(root / "one") == files(root / "two")


def test_taking_the_same_hand_out_twice_adds_nothing(book: Book, pen: Pen, tmp_path: Path) -> None:
    write(book, [SeenInBox(box="A01", word="mould")], pen=pen)
    hand_out(book, tmp_path / "one")
    before = book.head()
    taken = take_hand_out(book, tmp_path / "one", now=NOON)
    assert (taken.facts_new, taken.facts_repeated) == (0, before.count)
    assert book.head() == before


def test_another_book_takes_what_it_does_not_have(book: Book, pen: Pen, tmp_path: Path) -> None:
    write(book, [SeenInBox(box="A01", word="mould")], pen=pen)
    hand_out(book, tmp_path / "one")
    with create_book(tmp_path / "other.mancary") as other:
        write(other, [SeenInBox(box="Z01", word="gnats")], pen=pen)
        taken = take_hand_out(other, tmp_path / "one", now=NOON)
        assert not taken.identical
        assert taken.facts_new == book.head().count - 1
        assert taken.facts_left_out == 1  # whose book the other was
        assert other.entries_of(("book_opened",)) == []
        assert take_hand_out(other, tmp_path / "one", now=NOON).facts_new == 0
        assert other.is_known("box:A01")
        assert other.is_known("box:Z01")


def test_two_rooms_with_colonies_of_the_same_code_are_not_run_together(
    book: Book, pen: Pen, tmp_path: Path
) -> None:
    for box in ("A01", "A02"):
        set_up.describe_box(book, box, litres=3.0, pen=pen)
    colony_work.found(book, "A01", "porcellio-scaber", as_bought="x", pen=pen)
    hand_out(book, tmp_path / "one")
    with create_book(tmp_path / "other.mancary") as other:
        set_up.describe_box(other, "A01", litres=3.0, pen=pen)
        colony_work.found(other, "A01", "porcellio-laevis", as_bought="y", pen=pen)
        before = other.head()
        with pytest.raises(Refusal, match=r"A01\.1"):
            take_hand_out(other, tmp_path / "one", now=NOON)
        assert other.head() == before


def test_a_changed_or_cut_hand_out_is_refused_whole(book: Book, pen: Pen, tmp_path: Path) -> None:
    write(book, [SeenInBox(box="A01", word="mould")] * 3, pen=pen)
    hand_out(book, tmp_path / "one")
    facts = tmp_path / "one" / "facts.csv"
    whole = facts.read_bytes()
    with create_book(tmp_path / "other.mancary") as other:
        for broken in (
            whole.replace(b"mould", b"mites", 1),
            whole[: whole.rindex(b"\r\n", 0, -2) + 2],
            whole.replace(b"number,id", b"nummer,id"),
            b"\xff\xfe",
        ):
            facts.write_bytes(broken)
            with pytest.raises((Refusal, BookTrouble)):
                take_hand_out(other, tmp_path / "one", now=NOON)
            assert other.head().count == 0
        facts.write_bytes(whole)
        assert take_hand_out(other, tmp_path / "one", now=NOON).identical


def test_the_schema_describes_every_kind_and_every_table(book: Book, tmp_path: Path) -> None:
    handed = hand_out(book, tmp_path / "one")
    assert is_hand_out(tmp_path / "one")
    schema = json.loads((tmp_path / "one" / "schema.json").read_text())
    assert set(schema["facts"]["kinds"]) == set(KINDS)
    for name in handed.files:
        if name.endswith(".csv"):
            with (tmp_path / "one" / name).open(newline="") as file:
                assert next(csv.reader(file)) == schema["tables"][name]


def test_a_folder_that_holds_something_is_left_alone(book: Book, tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "one" / "mine.txt").write_text("mine")
    with pytest.raises(BookTrouble, match="left as it is"):
        hand_out(book, tmp_path / "one")
    assert list((tmp_path / "one").iterdir()) == [tmp_path / "one" / "mine.txt"]


def test_no_cell_of_the_everyday_tables_starts_a_formula(
    book: Book, pen: Pen, tmp_path: Path
) -> None:
    write(book, [Noted(what="box", code="A01", text='=HYPERLINK("x")')], pen=pen)
    hand_out(book, tmp_path / "one")
    with (tmp_path / "one" / "notes.csv").open(newline="") as file:
        cells = [row["text"] for row in csv.DictReader(file)]
    assert cells == ['\'=HYPERLINK("x")']
