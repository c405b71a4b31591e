"""A logger's file taken in for a shelf: day by day, once, undone, and used by the climate."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from mancary.book import Book
from mancary.husbandry.facts import ShelfRead
from mancary.husbandry.order import in_order
from mancary.husbandry.refusal import Refusal
from mancary.sheets.logger import LogRow
from mancary.usecases import set_up
from mancary.usecases.logger import LogTaken, OtherFigures, take_log
from mancary.usecases.logger_days import days_of
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw_many
from mancary.usecases.shelf_readings import climate_of

ZONE = ZoneInfo("Europe/Stockholm")
START = datetime(2026, 9, 30, 22, 0, tzinfo=UTC)  # midnight in the room


@pytest.fixture
def shelf(book: Book, pen: Pen) -> Book:
    set_up.place_shelf(book, "A", turn=1, pen=pen)
    return book


def log(hours: float, *, begin: float = 0, swing: float = 4.0) -> bytes:
    """Every half hour: 20 °C, by ``swing`` more in the afternoon, 50 % and 60 %."""
    lines = ["Time (UTC),Temp °C,RH %"]
    for half in range(int(begin * 2), int(hours * 2)):
        at = START + timedelta(minutes=30 * half)
        late = half % 48 >= 24
        lines.append(f"{at:%Y-%m-%d %H:%M},{20 + swing * late},{60 if late else 50}")
    return "\n".join(lines).encode()


def standing(book: Book) -> list[tuple[str, ShelfRead]]:
    told = in_order(book.entries_about("shelf:A"), ZONE)
    return [(one.happened, one.fact) for one in told if isinstance(one.fact, ShelfRead)]


def take(book: Book, pen: Pen, data: bytes, **said: object) -> LogTaken:
    return take_log(book, "A", data, **{"instrument": "H1", "pen": pen, **said})  # type: ignore[arg-type]


def test_each_local_day_is_one_reading_with_its_means(shelf: Book, pen: Pen) -> None:
    taken = take(shelf, pen, log(72))
    assert [one.state for one in taken.days] == ["new", "new", "new"]
    day = ShelfRead(
        shelf="A", lowest_c=20, highest_c=24, mean_c=22, rh_lowest=0.5, rh_highest=0.6,
        rh_mean=0.55, instrument="H1", note="logger: 48 readings over 24 h (00:00-23:30)",
    )  # fmt: skip
    found = standing(shelf)
    assert [happened for happened, _ in found] == ["2026-10-01", "2026-10-02", "2026-10-03"]
    assert found[1][1] == day
    assert found[0][1].mean_c == 22


def test_the_same_file_again_writes_nothing(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(40))
    head = shelf.head()
    again = take(shelf, pen, log(40))
    assert shelf.head() == head
    assert [one.state for one in again.days] == ["same", "same"]
    assert again.ids == ()


def test_a_day_that_was_cut_off_is_withdrawn_and_written_anew(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(36))
    longer = take(shelf, pen, log(48))
    assert [one.state for one in longer.days] == ["same", "changed"]
    assert len(longer.ids) == 2
    assert [one.highest_c for _, one in standing(shelf)] == [24, 24]


def test_a_log_that_holds_less_of_a_day_leaves_the_books(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(48))
    shorter = take(shelf, pen, log(48, begin=15))
    assert [one.state for one in shorter.days] == ["kept", "same"]
    assert any("Left as the book has it: 2026-10-01" in note for note in shorter.notes)


def test_another_instrument_has_days_of_its_own(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(24))
    assert [one.state for one in take(shelf, pen, log(24), instrument="H2").days] == ["new"]
    other = log(24).replace(b",20.0,", b",19.0,").replace(b",24.0,", b",23.0,")
    assert [one.state for one in take(shelf, pen, other, instrument="").days] == ["new"]
    assert [one.state for one in take(shelf, pen, other, instrument="").days] == ["same"]


def test_a_reading_by_hand_is_never_withdrawn(shelf: Book, pen: Pen) -> None:
    set_up.read_shelf(
        shelf, "A", lowest_c=1, highest_c=2, instrument="H1", pen=pen, happened="2026-10-01"
    )
    assert [one.state for one in take(shelf, pen, log(24)).days] == ["new"]
    assert len(standing(shelf)) == 2


def test_undone_all_stands_as_before(shelf: Book, pen: Pen) -> None:
    take(shelf, pen, log(36))
    before = standing(shelf)
    longer = take(shelf, pen, log(72))
    withdraw_many(shelf, longer.ids, why="", pen=pen)
    assert standing(shelf) == before
    assert [one.state for one in take(shelf, pen, log(72)).days] == ["same", "changed", "new"]


def test_a_dry_run_writes_nothing(shelf: Book, pen: Pen) -> None:
    head = shelf.head()
    taken = take(shelf, pen, log(24), dry_run=True)
    assert taken.count("new") == 1
    assert shelf.head() == head


def test_a_short_day_has_no_mean_and_it_is_said(shelf: Book, pen: Pen) -> None:
    taken = take(shelf, pen, log(24 + 5))
    assert standing(shelf)[1][1].mean_c is None
    assert "No mean for 2026-10-02: less than 6 hours of readings." in taken.notes
    assert take(shelf, pen, log(24 + 7)).days[1].day.mean_c == 20


def test_today_is_written_though_it_is_not_over(shelf: Book, pen: Pen) -> None:
    taken = take(shelf, pen, b"Time,Temp C\n2026-11-01 08:00,20\n2026-11-01 09:00,21\n")
    assert [(one.day.day.isoformat(), one.state) for one in taken.days] == [("2026-11-01", "new")]


def rows(*told: tuple[float, float]) -> list[LogRow]:
    return [LogRow(n, START + timedelta(hours=h), t, None) for n, (h, t) in enumerate(told)]


def test_a_gap_does_not_bend_the_mean() -> None:
    """Ten warm readings close together weigh as the time they cover, not as their number."""
    slow = [(h, 20.0) for h in range(1, 13)]
    quick = [(13 + n / 10, 30.0) for n in range(10)]
    found = days_of(rows(*slow, *quick), ZONE)[0].mean_c
    assert found is not None
    simple = sum(t for _, t in (*slow, *quick)) / 22
    assert found < 21.5 < simple
    even = [(n / 2, 20.0 if n < 24 else 24.0) for n in range(48)]
    holed = [one for one in even if not 16 <= one[0] < 20]
    mean = days_of(rows(*holed), ZONE)[0].mean_c
    assert mean == pytest.approx((12 * 20 + 8 * 24) / 20, abs=0.05)  # 4 h of 24 °C are not known


def test_the_day_the_clocks_go_back_has_25_hours() -> None:
    start = datetime(2026, 10, 24, 22, 0, tzinfo=UTC)
    told = [LogRow(n, start + timedelta(minutes=30 * n), 20, None) for n in range(-2, 54)]
    assert days_of(told, ZONE)[1].hours == pytest.approx(25, abs=0.1)


def test_the_climate_of_the_shelf_uses_the_means(shelf: Book, pen: Pen) -> None:
    data = log(48, swing=8).decode().replace(",28", ",21").replace(",21", ",28", 1)
    take(shelf, pen, data.encode())
    found = climate_of(shelf, "A", on=datetime(2026, 10, 5).date(), zone=ZONE)
    means = [one.mean_c for _, one in standing(shelf) if one.mean_c is not None]
    assert found.temperature.middle == pytest.approx(sum(means) / 2)
    assert (found.temperature.low, found.temperature.high) == (20, 28)
    assert found.temperature.middle != pytest.approx(24, abs=1)  # the middle of the ends
    assert found.humidity is not None
    assert found.humidity.middle == pytest.approx(0.55, abs=0.005)


def test_what_cannot_be_taken_is_refused(shelf: Book, pen: Pen) -> None:
    with pytest.raises(Refusal, match="no shelf Z"):
        take_log(shelf, "Z", log(24), instrument="", pen=pen)
    with pytest.raises(Refusal, match=r"None of 1 lines .* Line 2, Temp"):
        take(shelf, pen, b"Time,Temp\n2026-03-01 10:00,Err\n")


def test_two_readings_a_day_are_no_sixteen_hours() -> None:
    rows = [
        LogRow(1, datetime(2026, 10, 1, 8, tzinfo=UTC), 20.0, None),
        LogRow(2, datetime(2026, 10, 1, 16, tzinfo=UTC), 24.0, None),
    ]
    (day,) = days_of(rows, ZONE)
    assert (day.hours, day.mean_c) == (2, None)


def test_another_loggers_figures_are_asked_about_and_replaced_when_told(
    shelf: Book, pen: Pen
) -> None:
    take(shelf, pen, log(48, swing=4.0))
    head = shelf.head()
    with pytest.raises(OtherFigures, match="of 2026-10-01 and 1 more already"):
        take(shelf, pen, log(48, swing=9.0).replace(b",20.0,", b",22.0,"))
    assert shelf.head() == head
    dry = take(shelf, pen, log(48, swing=2.0), dry_run=True)
    assert [one.state for one in dry.days] == ["differs", "differs"]
    done = take(shelf, pen, log(48, swing=2.0), replace=True)
    assert [one.state for one in done.days] == ["changed", "changed"]
    assert [one.highest_c for _, one in standing(shelf)] == [22, 22]
