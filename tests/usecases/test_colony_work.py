"""Work on whole colonies is refused where it cannot be, and the register follows it."""

from collections.abc import Callable

import pytest

from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, CareGiven
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.check import check
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.species_page import species_page
from mancary.usecases.standings import register_of, standing_of


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    write(book, [BoxDescribed(box=box) for box in ("A", "B", "C", "D")], pen=pen)
    scaber, laevis = "porcellio-scaber", "porcellio-laevis"
    colony_work.found(book, "A", scaber, as_bought="rough woodlouse", pen=pen, morph="Lava")
    colony_work.found(book, "B", scaber, as_bought="scaber", pen=pen)
    colony_work.found(book, "C", laevis, as_bought="laevis", pen=pen)
    return book


def test_a_move_empties_one_box_and_fills_another(room: Book, pen: Pen) -> None:
    colony_work.move(room, "A", "D", pen=pen)
    register = register_of(room)
    assert register.boxes["A"].is_spare
    assert register.boxes["D"].colony == "A.1"
    line = register.line_in("D")
    assert line is not None
    assert (line.as_bought, line.morph) == ("rough woodlouse", "Lava")


def test_a_split_is_of_the_same_line_and_knows_where_it_came_from(room: Book, pen: Pen) -> None:
    colony_work.split(room, "A", "D", taken=15, pen=pen)
    register = register_of(room)
    new = register.colonies["D.1"]
    assert (new.came_from, new.line) == ("A.1", register.colonies["A.1"].line)
    assert (new.founders_low, new.founders_high) == (15, 15)
    assert register.boxes["A"].colony == "A.1"


def test_joining_ends_one_of_the_two(room: Book, pen: Pen) -> None:
    colony_work.join(room, "B", "A", pen=pen)
    register = register_of(room)
    assert register.boxes["B"].is_spare
    assert register.colonies["B.1"].cause == "joined"
    assert register.boxes["A"].colony == "A.1"


def test_an_ended_colony_leaves_a_spare_box_that_can_be_used_again(room: Book, pen: Pen) -> None:
    colony_work.end(room, "C", cause="heat", pen=pen)
    colony_work.found(room, "C", "armadillidium-vulgare", as_bought="vulgare", pen=pen)
    register = register_of(room)
    assert register.boxes["C"].colony == "C.2"
    assert register.colonies["C.1"].cause == "heat"


@pytest.mark.parametrize(
    "work",
    [
        lambda book, pen: colony_work.found(book, "A", "porcellio-scaber", as_bought="x", pen=pen),
        lambda book, pen: colony_work.found(book, "Z", "porcellio-scaber", as_bought="x", pen=pen),
        lambda book, pen: colony_work.move(book, "A", "B", pen=pen),
        lambda book, pen: colony_work.move(book, "D", "B", pen=pen),
        lambda book, pen: colony_work.split(book, "D", "A", pen=pen),
        lambda book, pen: colony_work.join(book, "A", "C", pen=pen),
        lambda book, pen: colony_work.join(book, "A", "A", pen=pen),
        lambda book, pen: colony_work.end(book, "D", cause="heat", pen=pen),
        lambda book, pen: colony_work.take(book, "D", animals=3, pen=pen),
        lambda book, pen: set_up.retire_box(book, "A", pen=pen),
        lambda book, pen: set_up.end_quarantine(book, "A", pen=pen),
        lambda book, pen: set_up.read_shelf(book, "S", lowest_c=1.0, highest_c=2.0, pen=pen),
        lambda book, pen: set_up.end_batch(book, "L1", pen=pen),
        lambda book, pen: set_up.open_page(book, "Cubaris sp. Fog", "dragons", pen=pen),
        lambda book, pen: set_up.open_page(book, "Porcellio scaber", "fast-compost", pen=pen),
        lambda book, pen: set_up.describe_box(book, "A", pen=pen),
        lambda book, pen: set_up.describe_box(book, "A", litres=-3.0, pen=pen),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    room: Book, pen: Pen, work: Callable[[Book, Pen], object]
) -> None:
    before = room.head()
    with pytest.raises(Refusal):
        work(room, pen)
    assert room.head() == before


def test_a_renamed_line_keeps_the_name_it_was_bought_under_and_who_changed_it(
    room: Book, pen: Pen
) -> None:
    line = register_of(room).line_in("A")
    assert line is not None
    colony_work.rename_line(room, line.slug, "porcellio-laevis", by="me", morph="White", pen=pen)
    now = register_of(room).lines[line.slug]
    assert (now.species, now.morph, now.as_bought) == (
        "porcellio-laevis",
        "White",
        "rough woodlouse",
    )
    assert [(was[0], was[1], was[2]) for was in now.formerly] == [
        ("porcellio-scaber", "Lava", "me")
    ]
    with pytest.raises(Refusal, match="who"):
        colony_work.rename_line(room, line.slug, "porcellio-laevis", by=" ", pen=pen)
    with pytest.raises(Refusal, match="no line"):
        colony_work.rename_line(room, "none", "porcellio-laevis", by="me", pen=pen)


def test_the_species_page_tells_of_the_keepers_own_boxes(room: Book, pen: Pen) -> None:
    page = species_page(room, "porcellio-scaber")
    assert [one.box for one in page.colonies] == ["A", "B"]
    assert page.colonies[0].months_to_young_low is None


def test_a_whole_book_has_no_findings_and_a_stray_fact_is_one(room: Book, pen: Pen) -> None:
    colony_work.end(room, "C", cause="not_known", pen=pen)
    for box in ("A", "B"):
        set_up.describe_box(room, box, shelf="S1", pen=pen)
    assert check(room).findings == ()
    write(room, [CareGiven(box="GHOST", care="mist")], pen=pen)
    assert [finding.about for finding in check(room).findings] == ["box:GHOST"]


def test_what_the_first_colony_was_given_is_not_the_seconds(room: Book, pen: Pen) -> None:
    write(room, [CareGiven(box="C", care="protein")], pen=pen)
    assert "protein" in standing_of(room, "C").given
    colony_work.end(room, "C", cause="heat", pen=pen)
    colony_work.found(room, "C", "armadillidium-vulgare", as_bought="vulgare", pen=pen)
    assert standing_of(room, "C").given == {}
