"""What is coming to a box: caused tasks with their cause, and the evening a kept plan has."""

from datetime import date

from mancary.book import Book
from mancary.husbandry.facts import CareGiven
from mancary.usecases import colony_work, set_up
from mancary.usecases.coming import coming_to
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.round_plan import accept_plan
from tests.conftest import NOON

SUNDAY = NOON.date()


def test_a_caused_task_says_its_cause_and_the_kept_evening(book: Book, pen: Pen) -> None:
    set_up.describe_box(book, "A1", litres=3.0, shelf="A", pen=pen, happened="2026-01-01")
    colony_work.found(book, "A1", "porcellio-scaber", as_bought="x", pen=pen, happened="2026-01-01")
    write(book, [CareGiven(box="A1", care="vegetable")], pen=pen, happened="2026-10-31")
    before = {one.care: one for one in coming_to(book, "A1", on=SUNDAY)}
    out = before["leftovers_out"]
    assert (out.due, out.latest) == (date(2026, 11, 1), date(2026, 11, 3))
    assert out.why == "fed 2026-10-31"
    assert out.evening is None
    told = accept_plan(book, on=SUNDAY, named=True, pen=pen)
    tonight = {task.care for stop in told.stops for task in stop.tasks}
    after = {one.care: one.evening for one in coming_to(book, "A1", on=SUNDAY)}
    assert {care for care, evening in after.items() if evening == SUNDAY} == tonight
    assert all(one.due <= date(2026, 11, 29) for one in coming_to(book, "A1", on=SUNDAY))


def test_what_can_wait_is_not_coming_and_what_is_caused_is(book: Book, pen: Pen) -> None:
    set_up.describe_box(book, "A1", litres=3.0, shelf="A", pen=pen, happened="2026-01-01")
    colony_work.found(book, "A1", "porcellio-scaber", as_bought="x", pen=pen, happened="2026-01-01")
    given = [CareGiven(box="A1", care="wood")]  # every one to four months: open, with time left
    write(book, given, pen=pen, happened="2026-09-01")
    write(book, [CareGiven(box="A1", care="vegetable")], pen=pen, happened="2026-10-30")
    told = {one.care: one for one in coming_to(book, "A1", on=SUNDAY)}
    assert "wood" not in told
    assert told["leftovers_out"].caused
    assert not told["vegetable"].caused
