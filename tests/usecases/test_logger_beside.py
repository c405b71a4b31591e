"""Two files of one logger that share a day, and one file told once with its code and once not."""

from datetime import UTC, datetime, timedelta

import pytest

from mancary.book import Book
from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.order import in_order
from mancary.usecases import set_up
from mancary.usecases.logger import LogTaken, OtherFigures, take_log
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw_many
from mancary.usecases.zone import zone_of

START = datetime(2026, 9, 30, 22, 0, tzinfo=UTC)  # midnight in the room
ROUNDED = 0.011
"""Means of parts and of the whole are each rounded to a hundredth of a degree."""


@pytest.fixture
def shelf(book: Book, pen: Pen) -> Book:
    set_up.place_shelf(book, "A", turn=1, pen=pen)
    return book


def log(begin: float, end: float, *, hot: tuple[float, float] = (15, 16)) -> bytes:
    """Every half hour of a day: 21 °C and 50 %, 36 °C and 40 % between the ``hot`` hours."""
    lines = ["Time (UTC),Temp °C,RH %"]
    for half in range(int(begin * 2), int(end * 2)):
        at = START + timedelta(minutes=30 * half)
        is_hot = hot[0] <= half / 2 < hot[1]
        lines.append(f"{at:%Y-%m-%d %H:%M},{36 if is_hot else 21},{40 if is_hot else 50}")
    return "\n".join(lines).encode()


def take(book: Book, pen: Pen, data: bytes, instrument: str = "H1") -> LogTaken:
    return take_log(book, "A", data, instrument=instrument, pen=pen)


def standing(book: Book) -> list[ShelfRead]:
    told = in_order(book.entries_about("shelf:A"), zone_of(book))
    return [one.fact for one in told if isinstance(one.fact, ShelfRead)]


WHOLE_MEAN = (46 * 21 + 2 * 36) / 48
WHOLE_RH = (46 * 0.5 + 2 * 0.4) / 48


@pytest.mark.parametrize("hot", [(15, 16), (8, 9)])
@pytest.mark.parametrize("cuts", [(13, 13), (13, 11), (5, 5), (20, 20), (13, 12.5)])
def test_two_files_that_share_a_day_tell_all_of_it(
    shelf: Book, pen: Pen, cuts: tuple[float, float], hot: tuple[float, float]
) -> None:
    take(shelf, pen, log(0, cuts[0], hot=hot))
    second = take(shelf, pen, log(cuts[1], 24, hot=hot))
    assert [one.state for one in second.days] == ["changed"]
    assert any("Put together with the book's: 2026-10-01" in note for note in second.notes)
    (day,) = standing(shelf)
    assert (day.lowest_c, day.highest_c) == (21, 36)
    assert (day.rh_lowest, day.rh_highest) == (0.4, 0.5)
    assert day.note.startswith("logger: 48 readings over 23.")
    if cuts[0] != 5:  # of five hours no mean was kept
        assert day.mean_c == pytest.approx(WHOLE_MEAN, abs=ROUNDED)
        assert day.rh_mean == pytest.approx(WHOLE_RH, abs=ROUNDED / 100)
        assert day.mean_c != pytest.approx((21 + 36) / 2, abs=1)


def test_the_later_file_may_come_first(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(13, 24))
    take(shelf, pen, log(0, 13))
    (day,) = standing(shelf)
    assert (day.highest_c, day.note) == (36, "logger: 48 readings over 23.8 h (00:00-12:30, 13:00-23:30)")  # fmt: skip


def test_put_together_once_neither_file_nor_the_whole_writes_again(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(0, 13))
    take(shelf, pen, log(13, 24))
    head = shelf.head()
    states = [take(shelf, pen, log(*hours)).days[0].state for hours in ((0, 13), (13, 24), (0, 24))]
    assert states == ["kept", "kept", "same"]
    assert shelf.head() == head


def test_hours_that_both_tell_must_tell_the_same(shelf: Book, pen: Pen) -> None:
    """The other logger was at 36 °C in an hour of which the book has 21 °C at most."""
    take(shelf, pen, log(0, 13))
    with pytest.raises(OtherFigures):
        take(shelf, pen, log(11, 24, hot=(11.5, 12)))
    assert standing(shelf)[0].highest_c == 21


def test_undone_the_first_part_stands_again(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(0, 13))
    before = standing(shelf)
    withdraw_many(shelf, take(shelf, pen, log(13, 24)).ids, why="", pen=pen)
    assert standing(shelf) == before


def test_a_log_told_without_its_code_first_gets_it(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(0, 30), instrument="")
    named = take(shelf, pen, log(0, 48), instrument="H1")
    assert [one.state for one in named.days] == ["changed", "changed"]
    assert any("without a code: 2026-10-01, 2026-10-02" in note for note in named.notes)
    assert [one.instrument for one in standing(shelf)] == ["H1", "H1"]
    assert take(shelf, pen, log(0, 48), instrument="H1").ids == ()


def test_a_log_told_without_its_code_later_is_known(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(0, 24), instrument="H1")
    again = take(shelf, pen, log(0, 48), instrument="")
    assert ([one.state for one in again.days], again.instrument) == (["same", "new"], "H1")
    assert "Taken as H1's log" in again.notes[0]
    assert [one.instrument for one in standing(shelf)] == ["H1", "H1"]


def test_another_log_without_a_code_stays_beside_a_named_one(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(0, 24), instrument="")
    other = take(shelf, pen, log(0, 24, hot=(15, 17)), instrument="H1")
    assert [one.state for one in other.days] == ["new"]
    assert [one.instrument for one in standing(shelf)] == [None, "H1"]
