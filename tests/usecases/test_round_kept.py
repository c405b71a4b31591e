"""A round as it goes on: who comes last, what was skipped, what was undone."""

from datetime import timedelta

from mancary.book import Book
from mancary.husbandry.facts import SeenInBox
from mancary.usecases import set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw_many, write
from mancary.usecases.round_ahead import look_ahead
from mancary.usecases.round_kept import write_done
from mancary.usecases.round_plan import Round, accept_plan, plan_round
from tests.conftest import NOON

SUNDAY = NOON.date()


def tonight(book: Book, **how: float | None) -> Round:
    return plan_round(book, on=SUNDAY, named=True, **how)


def test_a_box_where_something_catching_was_seen_comes_last_with_its_reason(
    room: Book, pen: Pen
) -> None:
    write(room, [SeenInBox(box="B01", word="mites")], pen=pen, happened="2026-10-20")
    write(room, [SeenInBox(box="B02", word="mites")], pen=pen, happened="2026-09-01")
    set_up.quarantine(room, "B00", why="sick", until=None, pen=pen)
    stops = tonight(room, minutes=300).stops
    assert [stop.box for stop in stops][-2:] == ["B01", "B00"]
    assert [stop.box for stop in stops if stop.apart] == ["B01", "B00"]
    assert stops[-2].words == "mites seen 2026-10-20: last, with own tools"


def test_a_care_skipped_tonight_is_not_asked_for_again_before_the_next_evening(
    room: Book, pen: Pen
) -> None:
    told = accept_plan(room, on=SUNDAY, named=True, minutes=60, pen=pen)
    stop = told.stops[0]
    cares = [task.care for task in stop.tasks]
    write_done(
        room, [(stop.box, cares)], on=SUNDAY, skipped={(stop.box, cares[0]): "damp"}, pen=pen
    )
    left = plan_round(room, on=SUNDAY, named=True)
    assert stop.box not in [one.box for one in left.stops]
    later = look_ahead(room, on=SUNDAY + timedelta(days=1), named=True, minutes=None).tasks
    assert (stop.box, cares[0]) in {(task.box, task.care) for task in later}


def test_what_was_undone_can_be_written_again_and_only_once(room: Book, pen: Pen) -> None:
    stops = [("B03", ["mist"])]
    first = write_done(room, stops, on=SUNDAY, pen=pen)
    assert write_done(room, stops, on=SUNDAY, pen=pen).known == first.facts
    withdraw_many(room, first.facts, why="slip", pen=pen)
    again = write_done(room, stops, on=SUNDAY, pen=pen)
    assert (again.given, again.repeated) == (1, 0)
    assert write_done(room, stops, on=SUNDAY, pen=pen).known == again.facts
