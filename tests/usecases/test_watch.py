"""The watch: what moves it, what it must not know, and what is kept of it."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from mancary.book import Book
from mancary.husbandry.facts import Counted, Fact, SeenInBox
from mancary.husbandry.watch_rows import WatchRow
from mancary.usecases import colony_work, set_up
from mancary.usecases.hand_out import hand_out
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.take_hand_out import take_hand_out
from mancary.usecases.watch import Watch, asked, watch

ON = date(2026, 11, 1)
FOUNDED = "2026-01-05"


def home(book: Book, pen: Pen, box: str, *, animals: int | None = 12) -> None:
    set_up.describe_box(book, box, litres=3.0, shelf="S1", pen=pen, happened=FOUNDED)
    colony_work.found(
        book, box, "porcellio-scaber", as_bought="P. scaber", founders=(animals, animals),
        pen=pen, happened=FOUNDED,
    )  # fmt: skip


def seen(book: Book, pen: Pen, day: str, *facts: Fact) -> list[str]:
    return [entry.id for entry in write(book, facts, pen=pen, happened=day).entries]


def hide(box: str, animals: int) -> Counted:
    return Counted(box=box, how="one_hide", low=animals, high=animals)


def rows(found: Watch) -> dict[str, WatchRow]:
    return {row.box: row for row in found.rows}


@pytest.fixture
def two(book: Book, pen: Pen) -> Book:
    """One colony that falls and one that grows, looked at once a month."""
    for box in ("A01", "A02"):
        home(book, pen, box)
    for month, (falls, grows) in enumerate(
        [(5, 4), (6, 6), (5, 8), (3, 12), (2, 15), (1, 22), (0, 30)], start=4
    ):
        day = f"2026-{month:02}-10"
        seen(book, pen, day, hide("A01", falls), hide("A02", grows))
        if month > 7:
            left = SeenInBox(box="A01", word="left_over", share=0.8)
            seen(book, pen, day, SeenInBox(box="A01", word="dead", animals=2), left)
            seen(book, pen, day, SeenInBox(box="A02", word="young_seen"))
    return book


def test_the_falling_colony_comes_first_and_says_why(two: Book) -> None:
    found = watch(two, on=ON)
    assert [row.box for row in found.rows] == ["A01", "A02"]
    first, second = found.rows
    assert first.p_below_5_in_12_weeks > 0.3
    assert second.p_below_5_in_12_weeks < 0.02
    assert first.size.low <= first.size.mid <= first.size.high < second.size.mid
    assert any("raised it" in words for words in first.reasons)
    assert any("Dead noted" in words for words in first.look_for)
    assert first.band == "high"
    assert second.last_seen == date(2026, 10, 10)


def test_a_count_moves_the_figure(two: Book, pen: Pen) -> None:
    before = rows(watch(two, on=ON))["A01"]
    seen(two, pen, "2026-10-31", Counted(box="A01", how="full", low=35, high=35))
    after = rows(watch(two, on=ON))["A01"]
    assert after.p_below_5_in_12_weeks < before.p_below_5_in_12_weeks / 5
    assert 30 <= after.size.mid <= 45


def test_nothing_later_is_known(two: Book, pen: Pen) -> None:
    june = date(2026, 6, 15)
    told = watch(two, on=june)
    seen(two, pen, "2026-10-30", Counted(box="A02", how="full", low=0, high=0))
    assert watch(two, on=june).rows == told.rows
    assert rows(told)["A01"].p_below_5_in_12_weeks < 0.3


def test_kept_and_worked_out_anew_are_the_same(two: Book, pen: Pen) -> None:
    watch(two, on=ON)
    seen(two, pen, "2026-10-31", hide("A02", 28))
    carried = watch(two, on=ON)
    two.connection.execute("DELETE FROM kept")
    anew = watch(two, on=ON)
    for one, other in zip(carried.rows, anew.rows, strict=True):
        # sums in single precision, kept and read back bit by bit
        assert one.p_below_5_in_12_weeks == other.p_below_5_in_12_weeks
        assert one == other


def test_a_late_fact_and_a_withdrawal_start_it_anew(two: Book, pen: Pen) -> None:
    before = rows(watch(two, on=ON))["A01"]
    (late,) = seen(two, pen, "2026-05-20", Counted(box="A01", how="full", low=200, high=200))
    moved = rows(watch(two, on=ON))["A01"]
    assert moved.p_below_5_in_12_weeks != before.p_below_5_in_12_weeks
    withdraw(two, late, why="another box", pen=pen)
    assert rows(watch(two, on=ON))["A01"] == before


def test_an_empty_looking_box_is_waited_for(two: Book, pen: Pen) -> None:
    seen(two, pen, "2026-10-12", SeenInBox(box="A01", word="none_seen"))
    row = rows(watch(two, on=ON))["A01"]
    assert row.apart == "waiting"
    until = date(2026, 10, 10) + timedelta(weeks=8)  # the count of none on the tenth began it
    assert str(until) in row.wait
    later = rows(watch(two, on=until))["A01"]
    assert "mancary end" in later.wait


def test_young_starters_lie_apart(book: Book, pen: Pen) -> None:
    home(book, pen, "A01", animals=6)
    home(book, pen, "A02", animals=14)
    found = watch(book, on=date(2026, 2, 1))
    assert [(row.box, row.apart) for row in found.rows] == [("A02", ""), ("A01", "starter")]
    assert "First young of such founders expected between" in found.rows[1].wait
    seen(book, pen, "2026-02-02", SeenInBox(box="A01", word="young_seen"))
    assert rows(watch(book, on=date(2026, 2, 3)))["A01"].apart == ""


def test_few_looks_are_mostly_what_is_held_of_any(book: Book, pen: Pen) -> None:
    home(book, pen, "A01", animals=None)
    (row,) = watch(book, on=ON).rows
    assert row.mostly_prior
    assert any("Mostly what is held" in words for words in row.reasons)
    assert any("one full count" in words for words in row.reasons)


def test_over_harvest_shows(two: Book, pen: Pen) -> None:
    before = rows(watch(two, on=ON))["A02"]
    colony_work.take(two, "A02", animals=60, pen=pen, happened="2026-10-30")
    seen(two, pen, "2026-10-31", hide("A02", 0))
    after = rows(watch(two, on=ON))["A02"]
    assert after.p_below_5_in_12_weeks > 5 * before.p_below_5_in_12_weeks
    assert any("taken" in words for words in after.reasons)


def test_ended_colonies_and_cultures_are_not_watched(two: Book, pen: Pen) -> None:
    colony_work.end(two, "A01", cause="dried_out", pen=pen, happened="2026-10-30")
    set_up.describe_box(two, "A03", litres=1.5, pen=pen, happened=FOUNDED)
    colony_work.found(two, "A03", "folsomia-candida", as_bought="white springtails", pen=pen)
    assert [row.box for row in watch(two, on=ON).rows] == ["A02"]


def test_the_round_asks_for_a_look_at_what_was_not_seen_lately(two: Book, pen: Pen) -> None:
    wanted = asked(two, on=ON)
    assert list(wanted) == ["A01"]
    assert "count under the same hide" in wanted["A01"]
    seen(two, pen, "2026-10-31", hide("A01", 1))
    assert asked(two, on=ON) == {}


def test_a_hand_out_folder_in_gives_the_same_chances(two: Book, pen: Pen, tmp_path: Path) -> None:
    folder = tmp_path / "out"
    hand_out(two, folder)
    with open_new(
        tmp_path / "other.mancary", name="Other", zone="Europe/Stockholm", pen=pen
    ) as other:
        take_hand_out(other, folder, now=pen.now())
        for one, same in zip(watch(two, on=ON).rows, watch(other, on=ON).rows, strict=True):
            assert (one.box, one.p_below_5_in_12_weeks) == (same.box, same.p_below_5_in_12_weeks)
