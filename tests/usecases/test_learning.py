"""Learning beside the pages: what it keeps is what a page would have learned itself."""

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from time import monotonic, sleep

import pytest

from mancary.book import Book, open_book
from mancary.book.kept import kept_bodies
from mancary.husbandry.facts import Counted
from mancary.science.belief_learning import FEWEST_COLONIES, FEWEST_VISITS
from mancary.usecases import colony_work, set_up
from mancary.usecases.grow import grow
from mancary.usecases.learning import Learner, learn
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.watch import watch

ON = date(2026, 11, 1)
FOUNDED = "2026-01-05"


@pytest.fixture
def telling(book: Book, pen: Pen) -> Book:
    """As many colonies as are needed to learn from, each looked at often enough."""
    for number in range(FEWEST_COLONIES):
        box = f"A{number:02}"
        set_up.describe_box(book, box, litres=3.0, shelf="S1", pen=pen, happened=FOUNDED)
        colony_work.found(
            book, box, "porcellio-scaber", as_bought="P. scaber", founders=(12, 12),
            pen=pen, happened=FOUNDED,
        )  # fmt: skip
    for visit in range(FEWEST_VISITS):
        day = date(2026, 3, 1) + timedelta(weeks=6 * visit)
        seen = [Counted(box=f"A{n:02}", how="one_hide", low=3 + visit, high=3 + visit)
                for n in range(FEWEST_COLONIES)]  # fmt: skip
        write(book, seen, pen=pen, happened=day.isoformat())
    return book


def test_a_page_that_does_not_learn_waits_for_the_learner(telling: Book) -> None:
    before = watch(telling, on=ON, learn=False)
    assert "until the next learning" in before.weights
    learn(telling.path, on=ON)
    after = watch(telling, on=ON, learn=False)
    assert f"learned from {FEWEST_COLONIES} of your own" in after.weights
    assert after == watch(telling, on=ON)


def test_how_a_colony_goes_is_told_anew_once_learned_though_no_fact_was_written(
    telling: Book,
) -> None:
    head, before = telling.head(), grow(telling, "A00", on=ON, learn=False)
    assert grow(telling, "A00", on=ON, learn=False) is before
    learn(telling.path, on=ON)
    after = grow(telling, "A00", on=ON, learn=False)
    assert telling.head() == head
    assert "until the next learning" in before.weights
    assert f"learned from {FEWEST_COLONIES} of your own" in after.weights
    assert after.size != before.size


def test_the_learner_learns_at_once_and_again_after_a_fact(telling: Book, pen: Pen) -> None:
    learner = Learner(telling.path, ON, pause_s=0.05)
    learner.start()
    try:
        assert comes_true(lambda: len(kept(telling.path)) == 2)
        first = kept(telling.path)["belief A00.1"]
        write(telling, [Counted(box="A00", how="full", low=90, high=90)], pen=pen,
              happened="2026-10-31")  # fmt: skip
        assert comes_true(lambda: kept(telling.path)["belief A00.1"] != first)
    finally:
        learner.stop()
        learner.join(timeout=20)
    assert not learner.is_alive()


def test_the_learner_outlives_a_book_that_is_not_there(tmp_path: Path) -> None:
    learner = Learner(tmp_path / "none.mancary", ON, pause_s=0.01)
    learner.start()
    sleep(0.1)
    assert learner.is_alive()
    learner.stop()
    learner.join(timeout=5)
    assert not learner.is_alive()


def kept(path: Path) -> dict[str, bytes]:
    with open_book(path) as book:
        return kept_bodies(book, ["weights last learned", "belief A00.1"])


def comes_true(asked: Callable[[], bool], within_s: float = 60.0) -> bool:
    until = monotonic() + within_s
    while monotonic() < until:
        if asked():
            return True
        sleep(0.05)
    return False
