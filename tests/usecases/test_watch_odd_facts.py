"""Facts that should not be, and an order of them that should: the watch keeps its head."""

from datetime import date

import pytest

from mancary.book import Book
from mancary.husbandry.facts import Counted, Fact, SeenInBox, Taken
from mancary.husbandry.refusal import Refusal
from mancary.usecases.counts import CountTyped, count
from mancary.usecases.grow import grow
from mancary.usecases.pen import Pen
from mancary.usecases.watch import asked, watch, watch_of
from tests.usecases.test_watch import home, rows, seen

ON = date(2026, 11, 2)


def full(animals: int, high: int | None = -1) -> Counted:
    return Counted(box="A01", how="full", low=animals, high=animals if high == -1 else high)


def taken(animals: int | None) -> Taken:
    return Taken(colony="A01.1", box="A01", animals=animals)


@pytest.fixture
def one(book: Book, pen: Pen) -> Book:
    """A colony of some sixty, founded in January."""
    home(book, pen, "A01", animals=20)
    seen(book, pen, "2026-06-01", full(60))
    seen(book, pen, "2026-09-01", full(62))
    return book


def row(book: Book) -> tuple[float, int, int]:
    told = watch_of(book, "A01", on=ON, learn=False)
    return told.p_below_5_in_12_weeks, told.size.low, told.size.high


@pytest.mark.parametrize(
    "fact",
    [
        taken(6000),
        full(8000, None),
        full(200_000),
        Counted(box="A01", how="one_hide", low=8000, high=None),
        Counted(box="A01", how="removals", low=10, high=None, catches=(10,)),
        Counted(box="A01", how="removals", low=11_700, high=None, catches=(4000, 3900, 3800)),
        Counted(box="A01", how="marks", low=9, high=None, marked=9000, caught=9000, recaptured=0),
        Counted(box="A01", how="scoop", low=1, high=None, share=0.0001, samples=(10,)),
        SeenInBox(box="A01", word="dead", animals=150_000),
    ],
)
def test_no_number_breaks_the_watch(one: Book, pen: Pen, fact: Fact) -> None:
    seen(one, pen, "2026-10-20", fact)
    seen(one, pen, "2026-10-20", fact)
    for told in watch(one, on=ON, learn=False).rows:
        assert 0 <= told.p_below_5_in_12_weeks <= 1
        assert told.p_fell_last_12_weeks is None or 0 <= told.p_fell_last_12_weeks <= 1
    assert isinstance(asked(one, on=ON), dict)


def test_a_recount_after_a_taking_in_one_week_is_of_those_left(one: Book, pen: Pen) -> None:
    seen(one, pen, "2026-10-20", taken(45))
    seen(one, pen, "2026-10-20", full(18))
    chance, low, high = row(one)
    assert chance < 0.1
    assert low >= 15
    assert high <= 40


def test_the_other_way_round_the_count_is_of_those_before(one: Book, pen: Pen) -> None:
    """The sibling: eighteen counted, then forty-five taken of them cannot all be true."""
    seen(one, pen, "2026-10-20", full(18))
    seen(one, pen, "2026-10-20", taken(12))
    _, _, high = row(one)
    assert high < 18


def test_a_taking_without_a_number_leaves_fewer_and_surer_nothing(one: Book, pen: Pen) -> None:
    before = row(one)
    seen(one, pen, "2026-10-20", taken(None))
    after = watch_of(one, "A01", on=ON, learn=False)
    assert after.size.low < before[1]
    assert after.p_fell_last_12_weeks is None, "what was taken is not told from what fell away"
    assert any("without their number" in why for why in after.reasons)


def test_a_slip_in_a_taking_makes_no_colony_large(one: Book, pen: Pen) -> None:
    before = row(one)
    seen(one, pen, "2026-10-20", taken(600))
    assert row(one)[2] <= before[2] * 1.1


def test_dead_that_lower_the_figure_are_not_told_as_good_news(one: Book, pen: Pen) -> None:
    seen(one, pen, "2026-10-30", full(3))
    seen(one, pen, "2026-10-31", SeenInBox(box="A01", word="dead", animals=6))
    told = watch_of(one, "A01", on=ON, learn=False)
    assert any("look at them all the same" in why for why in told.reasons)


def test_a_full_count_is_nearly_a_floor(one: Book, pen: Pen) -> None:
    """Searched out one by one there are hardly fewer than were counted (common practice).

    Down to 16 of 20: a cell of the grid is 13 % wide, and a week may pass.
    """
    seen(one, pen, "2026-11-01", full(20))
    assert row(one)[1] >= 16


def test_few_found_in_the_whole_box_are_few(one: Book, pen: Pen) -> None:
    seen(one, pen, "2026-11-01", full(4))
    assert row(one)[0] > 0.6


def test_a_dying_starter_is_not_buried(book: Book, pen: Pen) -> None:
    home(book, pen, "A01", animals=9)
    home(book, pen, "A02", animals=9)
    for day in ("2026-02-10", "2026-02-24"):
        seen(book, pen, day, SeenInBox(box="A01", word="dead", animals=2))
    seen(book, pen, "2026-02-24", full(2))
    found = watch(book, on=date(2026, 3, 3), learn=False).rows
    assert [(one.box, one.apart) for one in found] == [("A01", ""), ("A02", "starter")]
    assert "A01" in asked(book, on=date(2026, 3, 10))
    assert "A02" not in asked(book, on=date(2026, 3, 10))


def test_more_than_the_founders_is_a_starter_no_longer(book: Book, pen: Pen) -> None:
    home(book, pen, "A01", animals=9)
    seen(book, pen, "2026-09-01", full(80))
    told = grow(book, "A01", on=ON, learn=False)
    assert told.first_young is None
    assert not any("starter" in one for one in told.room.advice)


def test_what_is_known_to_the_month_is_never_after_today(one: Book, pen: Pen) -> None:
    seen(one, pen, "2026-11", taken(10))
    told = grow(one, "A01", on=date(2026, 11, 10), learn=False)
    rest = next(bound for bound in told.surplus.bounds if bound.name == "last taking")
    assert "animals were taken on 2026-11-10" in rest.said
    assert "-" not in next(b for b in told.surplus.bounds if b.name == "growth").said.split("%")[0]


def test_none_seen_forbids_to_take_any(one: Book, pen: Pen) -> None:
    seen(one, pen, "2026-10-28", SeenInBox(box="A01", word="none_seen"))
    told = grow(one, "A01", on=ON, learn=False).surplus
    assert told.animals == 0
    assert "none seen" in {bound.name for bound in told.bounds}


def test_a_look_back_leaves_what_was_learned_since(one: Book, pen: Pen) -> None:
    now = watch(one, on=ON).weights
    watch(one, on=date(2026, 7, 6))
    assert watch(one, on=ON, learn=False).weights == now


def test_nobody_is_counted_where_nobody_lived(one: Book, pen: Pen) -> None:
    typed = CountTyped(full=(40, 40))
    with pytest.raises(Refusal, match="held no colony on 2025-02-01"):
        count(one, "A01", typed, pen=pen, happened="2025-02-01")
    assert rows(watch(one, on=ON, learn=False))["A01"].looks == 2
