"""Work on whole colonies is refused where it cannot be, and the register follows it."""

from collections.abc import Callable
from pathlib import Path

import pytest

from mancary.book import Book, open_book
from mancary.book.trouble import MovedOn
from mancary.husbandry.facts import (
    BoxDescribed,
    CareGiven,
    Counted,
    Fact,
    Founded,
    SeenInBox,
)
from mancary.husbandry.refusal import Refusal
from mancary.usecases import colony_work, set_up
from mancary.usecases.box_card import box_card
from mancary.usecases.check import check
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write, write_entries
from mancary.usecases.species_page import species_page
from mancary.usecases.standings import register_of, standing_of
from tests.conftest import NOON, HandClock


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    write(
        book,
        [BoxDescribed(box=box) for box in ("A", "B", "C", "D")],
        pen=pen,
        happened="2026-01-01",
    )
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
    colony_work.join(room, "B", "A", mixing=True, pen=pen)
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
        lambda book, pen: colony_work.join(book, "A", "B", pen=pen),
        lambda book, pen: colony_work.move(book, "A", "D", happened="2019-01-01", pen=pen),
        lambda book, pen: colony_work.end(book, "A", cause="heat", happened="2019-01", pen=pen),
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


def test_what_the_colony_was_given_goes_with_it_and_substrate_stays(room: Book, pen: Pen) -> None:
    given: list[Fact] = [
        CareGiven(box="A", care="protein"),
        CareGiven(box="A", care="substrate_half"),
        Counted(box="A", low=60, high=60),
        SeenInBox(box="A", word="dead", animals=5),
    ]
    write(room, given, pen=pen)
    colony_work.move(room, "A", "D", pen=pen)
    card = box_card(room, "D", on=NOON.date())
    wanted = {want.care: want for want in card.wants.wants}
    assert wanted["protein"].last is not None
    assert wanted["substrate_half"].last is None
    assert wanted["look"].state == "later"
    assert card.counted is not None
    assert card.counted.low == 60
    assert species_page(room, "porcellio-scaber").colonies[0].dead == 5


def test_a_day_is_told_after_what_was_written_in_its_hours(
    room: Book, pen: Pen, clock: HandClock
) -> None:
    """Founded at noon; on the next morning the keeper says it was moved that same day."""
    day = clock.now.date().isoformat()
    clock.forward(days=1)
    colony_work.move(room, "A", "D", happened=day, pen=pen)
    assert register_of(room).boxes["D"].colony == "A.1"


def test_a_second_colony_told_late_is_refused_where_the_first_came_later(
    room: Book, pen: Pen, clock: HandClock
) -> None:
    before = room.head()
    with pytest.raises(Refusal, match="cannot have been"):
        colony_work.found(
            room, "A", "porcellio-laevis", as_bought="x", happened="2026-10-01", pen=pen
        )
    assert room.head() == before


def test_a_withdrawn_founding_does_not_free_its_code(room: Book, pen: Pen) -> None:
    (fact,) = [e for e in room.entries_about("colony:A.1") if e.fact.kind == "founded"]
    write(room, [CareGiven(box="A", care="mist")], pen=pen)
    with pytest.raises(Refusal, match="rest on this one"):
        withdraw(room, fact.id, why="", pen=pen)
    withdraw(room, fact.id, why="never was", pen=pen, even_so=True)
    colony_work.found(room, "A", "porcellio-laevis", as_bought="x", pen=pen)
    assert register_of(room).boxes["A"].colony == "A.2"


def test_two_writers_at_once_cannot_both_found_a_colony_in_one_box(
    room: Book, path: Path, pen: Pen
) -> None:
    with open_book(path) as other:
        head = room.head()
        colony_work.found(other, "D", "porcellio-laevis", as_bought="x", pen=pen)
        late = pen.entry(Founded(colony="D.9", box="D", line="porcellio-scaber"))
        with pytest.raises(MovedOn, match="at the same time"):
            write_entries(room, [late], pen=pen, expecting=head)
    assert register_of(room).boxes["D"].colony == "D.1"
