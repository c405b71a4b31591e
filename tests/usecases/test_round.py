"""The round: within its minutes, in walking order, quiet, and written down by exception."""

from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import CareGiven, CareSkipped, Fact, Quarantined, SeenInBox
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import CARES
from mancary.usecases import colony_work, set_up
from mancary.usecases.figures import choose_figure
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.round_ahead import look_ahead
from mancary.usecases.round_kept import accept_round, accepted_round, write_done
from mancary.usecases.round_plan import Round, accept_plan, plan_round, planned_anew, told_round
from mancary.usecases.standings import standing_of
from mancary.usecases.timed import minutes_known, time_round
from tests.conftest import NOON, HandClock

SUNDAY = NOON.date()  # 1 November 2026


def tonight(book: Book, **how: float | None) -> Round:
    return plan_round(book, on=SUNDAY, named=True, **how)


@settings(
    max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(minutes=st.floats(0.5, 120))
def test_a_round_never_takes_more_minutes_than_are_offered(room: Book, minutes: float) -> None:
    told = tonight(room, minutes=minutes)
    assert told.minutes_offered == minutes
    # stops are rounded to a hundredth of a minute each
    assert told.minutes_planned <= minutes + 0.01 * max(1, len(told.stops))
    opening = handbook.opening().minutes
    for stop in told.stops:
        spent = opening + sum(handbook.efforts()[task.care].minutes for task in stop.tasks)
        assert stop.minutes == pytest.approx(spent, abs=0.006)


def test_nothing_is_done_before_its_window_and_nothing_due_is_lost(room: Book) -> None:
    told = tonight(room, minutes=6.0)
    done = {(stop.box, task.care) for stop in told.stops for task in stop.tasks}
    put_off = {(one.box, one.care) for one in told.put_off}
    assert all(task.due <= SUNDAY for stop in told.stops for task in stop.tasks)
    ahead = look_ahead(room, on=SUNDAY, named=True, minutes=6.0)
    due = {(task.box, task.care) for task in ahead.tasks if task.due <= SUNDAY}
    assert due == done | put_off
    assert all(one.risk for one in told.put_off)


def test_the_walk_goes_shelf_by_shelf_and_quarantine_comes_last(room: Book, pen: Pen) -> None:
    set_up.quarantine(room, "B00", why="sick", until=None, pen=pen)
    write(room, [SeenInBox(box="B00", word="mites")], pen=pen, happened="2026-10-20")
    walk = look_ahead(room, on=SUNDAY, named=True, minutes=None).walk
    assert list(walk) == [*(f"B{number:02}" for number in range(1, 12)), "B00"]
    stops = tonight(room, minutes=300).stops
    places = [walk.index(stop.box) for stop in stops]
    assert places == sorted(places)
    assert all(stop.quarantined == (stop.box == "B00") for stop in stops)


def test_harmful_lateness_goes_first_when_there_is_little_time(room: Book) -> None:
    cares = [task.care for stop in tonight(room, minutes=4.0).stops for task in stop.tasks]
    assert "mist" in cares
    assert "wood" not in cares
    assert "label_check" not in cares


def test_what_is_late_already_is_done_first_and_its_window_is_not_begun_anew(room: Book) -> None:
    """Misted on 10 October, dry-type every 7-14 days and a day's grace: late since 25 October."""
    told = tonight(room, minutes=300)
    misted = {stop.box: task for stop in told.stops for task in stop.tasks if task.care == "mist"}
    assert misted["B03"].latest == date(2026, 10, 25)


def test_the_same_book_gives_the_same_round(room: Book) -> None:
    assert tonight(room) == tonight(room)


def test_a_box_with_young_is_not_disturbed_for_seven_weeks(room: Book, pen: Pen) -> None:
    write(room, [CareGiven(box="B00", care="substrate_half")], pen=pen, happened="2025-12-01")
    write(room, [SeenInBox(box="B00", word="young_seen")], pen=pen, happened="2026-10-25")
    ahead = look_ahead(room, on=SUNDAY, named=True, minutes=None)
    changes = [t for t in ahead.tasks if t.box == "B00" and t.care == "substrate_half"]
    assert all(task.due >= date(2026, 10, 25) + timedelta(days=49) for task in changes)


def test_a_new_arrival_is_left_alone_for_its_first_week(book: Book, pen: Pen) -> None:
    set_up.describe_box(book, "N1", litres=2.0, pen=pen, happened="2026-10-01")
    colony_work.found(book, "N1", "porcellio-scaber", as_bought="x", pen=pen, happened="2026-10-30")
    ahead = look_ahead(book, on=SUNDAY, named=True, minutes=None)
    for task in ahead.tasks:
        if task.care not in ("look", "label_check"):  # neither opens the box
            assert task.due >= date(2026, 11, 6)


def test_boxes_without_a_record_do_not_all_want_the_same_on_one_evening(
    book: Book, pen: Pen
) -> None:
    for number in range(40):
        set_up.describe_box(book, f"E{number:02}", litres=3.0, pen=pen, happened="2025-01-01")
        colony_work.found(
            book, f"E{number:02}", "porcellio-scaber", as_bought="x", pen=pen, happened="2025-01-01"
        )
    ahead = look_ahead(book, on=SUNDAY, named=True, minutes=None)
    first = [task for task in ahead.tasks if task.care == "leaf_litter" and task.why == "no record"]
    tonight_due = sum(task.due <= SUNDAY for task in first)
    assert 0 < len(first) <= 40
    # 35 days to spread over: more than a third on one evening would be no spreading
    assert tonight_due < 14


def test_leftovers_are_taken_out_one_to_three_days_after_food(room: Book, pen: Pen) -> None:
    write(room, [CareGiven(box="B00", care="vegetable")], pen=pen, happened="2026-10-31")
    ahead = look_ahead(room, on=SUNDAY, named=True, minutes=None)
    (out,) = [t for t in ahead.tasks if (t.box, t.care) == ("B00", "leftovers_out")]
    assert (out.due, out.latest) == (date(2026, 11, 1), date(2026, 11, 3))
    write(room, [SeenInBox(box="B00", word="all_gone")], pen=pen)
    ahead = look_ahead(room, on=SUNDAY, named=True, minutes=None)
    assert [t for t in ahead.tasks if (t.box, t.care) == ("B00", "leftovers_out")] == []


def test_an_accepted_round_is_told_as_it_stands_and_shrinks_as_it_is_done(
    room: Book, pen: Pen
) -> None:
    told = accept_plan(room, on=SUNDAY, named=True, minutes=30, pen=pen)
    assert plan_round(room, on=SUNDAY, named=True).stops == told.stops
    first = told.stops[0]
    write(room, [CareGiven(box=first.box, care=t.care) for t in first.tasks], pen=pen)  # type: ignore[arg-type]
    left = plan_round(room, on=SUNDAY, named=True)
    assert [stop.box for stop in left.stops] == [stop.box for stop in told.stops[1:]]


def test_one_changed_fact_moves_few_tasks(room: Book, pen: Pen) -> None:
    ahead = look_ahead(room, on=SUNDAY, named=True, minutes=None)
    before = planned_anew(ahead, {})
    accept_round(room, before, pen=pen)
    accepted = accepted_round(room, SUNDAY)
    assert accepted is not None
    write(room, [SeenInBox(box="B05", word="mites")], pen=pen)
    told = accept_plan(room, on=SUNDAY, named=True, pen=pen)
    was = {(s.box, tuple(t.care for t in s.tasks)) for s in told_round(ahead, before).stops}
    now = {(stop.box, tuple(task.care for task in stop.tasks)) for stop in told.stops}
    assert len(was ^ now) <= 4  # the one box, and what made room for it


def test_done_writes_the_cares_as_given_and_nothing_of_what_was_seen(room: Book, pen: Pen) -> None:
    told = tonight(room)
    stops = [(stop.box, [task.care for task in stop.tasks]) for stop in told.stops]
    box, cares = stops[0]
    before = standing_of(room, stops[-1][0]).seen
    done = write_done(
        room,
        stops,
        on=SUNDAY,
        left_out=[(stops[1][0], "")],
        skipped={(box, cares[0]): "too wet"},
        pen=pen,
    )
    assert done.given == sum(len(c) for _, c in stops) - len(stops[1][1]) - 1
    assert (done.skipped, done.left_out) == (1, len(stops[1][1]))
    facts: list[Fact] = [entry.fact for entry in room.entries() if entry.id in done.facts]
    assert {type(fact) for fact in facts} == {CareGiven, CareSkipped}
    assert standing_of(room, stops[-1][0]).seen == before
    again = write_done(
        room, stops, on=SUNDAY, left_out=[(stops[1][0], "")],
        skipped={(box, cares[0]): "too wet"}, pen=pen,
    )  # fmt: skip
    assert (again.given, again.repeated) == (0, done.given + 1)


@pytest.mark.parametrize(
    "exception", [("B99", ""), ("B00", "champagne"), ("B00", "substrate_whole")]
)
def test_an_exception_that_is_no_stop_is_refused_and_nothing_written(
    room: Book, pen: Pen, exception: tuple[str, str]
) -> None:
    before = room.head()
    with pytest.raises(Refusal):
        write_done(room, [("B00", ["mist"])], on=SUNDAY, left_out=[exception], pen=pen)
    assert room.head() == before


def test_a_round_to_come_cannot_be_done(room: Book, pen: Pen) -> None:
    with pytest.raises(Refusal, match="future"):
        write_done(room, [("B00", ["mist"])], on=SUNDAY + timedelta(days=3), pen=pen)


def test_the_next_working_evening_is_taken_where_none_is_named(
    room: Book, pen: Pen, clock: HandClock
) -> None:
    monday = SUNDAY + timedelta(days=1)
    assert plan_round(room, on=monday, named=False).date == SUNDAY + timedelta(days=3)
    choose_figure(room, "tuesday_minutes", low=40, high=40, why="", scopes={}, pen=pen)
    told = plan_round(room, on=monday, named=False)
    assert (told.date, told.minutes_offered) == (SUNDAY + timedelta(days=2), 40)


def test_a_withdrawn_plan_no_longer_stands(room: Book, pen: Pen) -> None:
    accept_plan(room, on=SUNDAY, named=True, pen=pen)
    (entry,) = room.entries_about(f"round:{SUNDAY}")
    withdraw(room, entry.id, why="", pen=pen)
    assert accepted_round(room, SUNDAY) is None


def test_every_care_has_minutes_and_harm_with_a_basis() -> None:
    assert set(handbook.efforts()) == set(CARES)
    for effort in handbook.efforts().values():
        assert effort.kind == "ours"
        assert effort.source in handbook.bibliography()
        assert effort.risk


def test_a_box_that_was_moved_into_gets_its_label_looked_at(room: Book, pen: Pen) -> None:
    set_up.describe_box(room, "B50", litres=5.0, pen=pen, happened="2026-10-01")
    colony_work.move(room, "B00", "B50", pen=pen, happened="2026-10-30")
    ahead = look_ahead(room, on=SUNDAY, named=True, minutes=None)
    labels = [t for t in ahead.tasks if (t.box, t.care) == ("B50", "label_check")]
    assert labels[0].why == "moved in 2026-10-30"
    assert labels[0].latest == date(2026, 11, 6)
    write(room, [CareGiven(box="B50", care="label_check")], pen=pen)
    ahead = look_ahead(room, on=SUNDAY, named=True, minutes=None)
    assert [t for t in ahead.tasks if t.box == "B50" and t.why.startswith("moved in")] == []


def test_a_shelfs_thermometer_is_read_once_a_week_and_takes_its_minutes(
    room: Book, pen: Pen
) -> None:
    assert tonight(room).shelves == ()
    set_up.read_shelf(room, "S0", lowest_c=18, highest_c=24, pen=pen, happened="2026-10-20")
    set_up.read_shelf(room, "S1", lowest_c=18, highest_c=24, pen=pen)
    told = tonight(room, minutes=8.0)
    assert [one.shelf for one in told.shelves] == ["S0"]
    assert told.minutes_planned <= 8.0 + 0.01 * len(told.stops)


def test_a_quarantine_that_may_end_is_said_on_the_round(room: Book, pen: Pen) -> None:
    write(
        room,
        [Quarantined(box="B03", why="new", until="2026-10-30")],
        pen=pen,
        happened="2026-10-01",
    )
    told = tonight(room, minutes=300)
    (stop,) = [stop for stop in told.stops if stop.box == "B03"]
    assert "may end" in stop.words


def test_minutes_are_learned_from_timed_evenings(room: Book, pen: Pen, clock: HandClock) -> None:
    """Every look and its opening really took two minutes: the sum is learned, not each part."""
    before = minutes_known(room)
    assert "handbook" in before["opening"].basis
    for week in range(6):
        day = SUNDAY - timedelta(weeks=week + 1)
        boxes = [f"B{number:02}" for number in range(4 + week)]
        looks = [CareGiven(box=box, care="look") for box in boxes]
        write(room, looks, pen=pen, happened=day.isoformat())
        time_round(room, day, 2.0 * len(boxes), pen=pen)
    after = minutes_known(room)
    assert "6 evenings" in after["opening"].basis
    was = before["opening"].minutes + before["look"].minutes
    now = after["opening"].minutes + after["look"].minutes
    assert was < now <= 2.2
    assert "learned from 6 evenings" in tonight(room).basis
    assert all(one.low <= one.minutes <= one.high for one in after.values())
