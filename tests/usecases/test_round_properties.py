"""Rounds of random books: what holds for every one of them.

The books are invented: boxes, species, histories and minutes come from a seeded generator or from
hypothesis; no number of theirs is checked against the world.
"""

import random
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mancary.book import Book
from mancary.husbandry.facts import CareGiven, Fact, SeenInBox
from mancary.husbandry.planning import most_changes
from mancary.husbandry.planning_evenings import Kept, Planned
from mancary.husbandry.tasks import CHANGES, Task
from mancary.husbandry.words import CARES
from mancary.usecases import colony_work, set_up
from mancary.usecases.figures import choose_figure
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.round_ahead import Ahead, look_ahead
from mancary.usecases.round_kept import accept_round, kept_days
from mancary.usecases.round_minutes import WEEKDAYS
from mancary.usecases.round_plan import Round, planned_anew, told_round
from tests.conftest import NOON, HandClock

SUNDAY = NOON.date()
SPECIES = ("porcellio-scaber", "armadillidium-vulgare", "cubaris-sp-soil", "porcellio-expansus")
MET = ("young_seen", "mould", "mites", "all_gone")


@contextmanager
def random_book(chance: random.Random, boxes: int) -> Iterator[tuple[Book, Pen]]:
    """A room of so many boxes, each with a history of its own, and minutes on some weekdays."""
    pen = Pen(clock=HandClock(), chance=chance.randbytes)
    with (
        TemporaryDirectory() as folder,
        open_new(Path(folder) / "b.mancary", name="Random", zone="UTC", pen=pen) as book,
    ):
        for number in range(boxes):
            _home(book, f"B{number:02}", chance, pen)
        for weekday in chance.sample(WEEKDAYS, chance.randint(0, 3)):
            minutes = chance.choice([0.5, 5, 20, 60, 120])
            choose_figure(
                book, f"{weekday}_minutes", low=minutes, high=minutes, why="", scopes={}, pen=pen
            )
        yield book, pen


def _home(book: Book, box: str, chance: random.Random, pen: Pen) -> None:
    founded = SUNDAY - timedelta(days=chance.choice([2, 30, 600]))
    set_up.describe_box(
        book, box, litres=chance.choice([1.5, 6.0, 20.0]), shelf=f"S{chance.randint(1, 3)}",
        pen=pen, happened=founded.isoformat(),
    )  # fmt: skip
    species = chance.choice(SPECIES)
    colony_work.found(book, box, species, as_bought="x", pen=pen, happened=founded.isoformat())
    told: dict[int, list[Fact]] = {}
    for care in chance.sample(CARES, chance.randint(0, len(CARES))):
        fact = CareGiven(box=box, care=care)  # type: ignore[arg-type]
        told.setdefault(chance.randint(0, 400), []).append(fact)
    if chance.random() < 0.4:
        told.setdefault(chance.randint(0, 60), []).append(
            SeenInBox(box=box, word=chance.choice(MET))  # type: ignore[arg-type]
        )
    for ago, facts in told.items():
        day = max(founded, SUNDAY - timedelta(days=ago))
        write(book, facts, pen=pen, happened=day.isoformat())


def looked(book: Book, *, named: bool = True, minutes: float | None = None) -> Ahead:
    return look_ahead(book, on=SUNDAY, named=named, minutes=minutes)


def minutes_of(planned: Planned, ahead: Ahead, day: date) -> float:
    here = [task for task, when in planned.tasks if when == day]
    return sum(task.minutes for task in here) + ahead.opening_minutes * len(
        {task.box for task in here}
    )


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    seed=st.integers(0, 10**6),
    boxes=st.integers(1, 14),
    named=st.booleans(),
    minutes=st.none() | st.floats(0.5, 90),
)
def test_every_plan_of_any_book_can_be_done(
    seed: int, boxes: int, *, named: bool, minutes: float | None
) -> None:
    with random_book(random.Random(seed), boxes) as (book, _):
        ahead = looked(book, named=named, minutes=minutes)
        planned = planned_anew(ahead, {})
        _within_its_windows_and_minutes(ahead, planned)
        _all_that_is_due_is_told(ahead, planned, told_round(ahead, planned))


def _within_its_windows_and_minutes(ahead: Ahead, planned: Planned) -> None:
    assert Counter(map(str, ahead.tasks)) == Counter(str(task) for task, _ in planned.tasks)
    assert all(day >= task.due for task, day in planned.tasks if day)
    most = most_changes(ahead.tasks, planned.evenings)
    at_shelves = sum(one.minutes for one in ahead.shelves)
    for number, evening in enumerate(planned.evenings):
        offered = evening.minutes - (at_shelves if number == 0 else 0)
        # the solver's own tolerance on a row of some ten minutes
        assert minutes_of(planned, ahead, evening.day) <= max(0.0, offered) + 1e-5
        here = [task for task, day in planned.tasks if day == evening.day]
        assert sum(task.care in CHANGES for task in here) <= most
    assert planned.gap is not None
    assert 0 <= planned.gap <= 0.05  # what the issue asks of a hundred boxes


def _all_that_is_due_is_told(ahead: Ahead, planned: Planned, told: Round) -> None:
    """Each due task is in a stop or put off; one put off past its window says by how many days."""
    done = Counter((stop.box, task.care) for stop in told.stops for task in stop.tasks)
    put_off = Counter((one.box, one.care) for one in told.put_off)
    due = [(task, day) for task, day in planned.tasks if task.due <= told.date]
    assert Counter((task.box, task.care) for task, _ in due) == done + put_off
    assert not any(task.due > told.date for stop in told.stops for task in stop.tasks)
    late = [
        _days_late(task, day, planned.evenings[-1].day) for task, day in due if day != told.date
    ]
    assert sorted(one.late_days for one in told.put_off) == sorted(late)
    for one in told.put_off:
        if one.late_days and one.until:
            assert f"{one.late_days} days past its window" in one.risk
        elif one.late_days:
            assert "no evening" in one.risk
        else:
            assert one.risk
    # stops are told to a hundredth of a minute each, the sum to a tenth
    assert (
        told.minutes_planned
        <= max(told.minutes_offered, sum(one.minutes for one in ahead.shelves))
        + 0.01 * len(told.stops)
        + 0.05
    )


def _days_late(task: Task, day: date | None, end: date) -> int:
    return max(0, ((day or end) - task.latest).days)


def test_a_plan_over_its_minutes_or_before_its_time_would_be_found_out() -> None:
    """The checks above can fail."""
    with random_book(random.Random(3), 8) as (book, _):
        ahead = looked(book, minutes=20)
        planned = planned_anew(ahead, {})
        first = planned.evenings[0].day
        crowded = [(task, first if task.due <= first else day) for task, day in planned.tasks]
        early = [(task, first) for task, _ in planned.tasks]
        for wrong in (crowded, early):
            plan = Planned(
                evenings=planned.evenings, tasks=tuple(wrong), cost=0.0, bound=0.0, gap=0.0
            )
            with pytest.raises(AssertionError):
                _within_its_windows_and_minutes(ahead, plan)


def moved(seed: int, *, kept: bool) -> tuple[int, int]:
    """How many tasks of other boxes move, of how many, when one box gets one more fact."""
    with random_book(random.Random(seed), 24) as (book, pen):
        before = planned_anew(looked(book, minutes=30), {})
        accept_round(book, before, pen=pen)
        write(book, [SeenInBox(box="B05", word="mould")], pen=pen)
        known: Kept = kept_days(book) if kept else {}
        after = planned_anew(looked(book, minutes=30), known)
    was, now = _others(before), _others(after)
    assert was.keys() == now.keys()
    return sum(was[key] != now[key] for key in was), len(was)


def _others(planned: Planned) -> dict[tuple[str, str, date, str], date | None]:
    return {
        (task.box, task.care, task.due, task.why): day
        for task, day in planned.tasks
        if task.box != "B05"
    }


ROOMS = range(6)


@pytest.fixture(scope="module")
def quiet() -> list[tuple[int, int]]:
    return [moved(seed, kept=True) for seed in ROOMS]


def test_one_changed_fact_of_one_box_moves_few_tasks_of_the_others(
    quiet: list[tuple[int, int]],
) -> None:
    """Mould is seen in one box of 24: of some 550 tasks of the others at most one in twelve moves.

    Ours: what was planned is held where that costs a hundredth at most; what can still move are
    cares wanted more often than they were planned, which stay free. With too few minutes in the
    room these are the tasks left out, up to a third of all; a quarter of them is one in twelve.
    """
    for count, of in quiet:
        assert count <= of / 12


def test_without_the_plan_before_far_more_would_move(quiet: list[tuple[int, int]]) -> None:
    """The check above can fail: the same rooms planned with nothing kept."""
    free = [moved(seed, kept=False) for seed in ROOMS]
    assert any(count > of / 12 for count, of in free)
    assert sum(count for count, _ in quiet) <= sum(count for count, _ in free) / 4


def test_with_nothing_changed_nothing_moves() -> None:
    """Planned again over the same facts, from the plan accepted: the same plan."""
    with random_book(random.Random(2), 10) as (book, pen):
        before = planned_anew(looked(book, minutes=200), {})
        accept_round(book, before, pen=pen)
        after = planned_anew(looked(book, minutes=200), kept_days(book))
    assert after.tasks == before.tasks
