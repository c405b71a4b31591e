"""The cache never says anything that the facts do not."""

import random
from zoneinfo import ZoneInfo

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mancary.book import Book, create_book
from mancary.book.cache import keep_standings
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven
from mancary.husbandry.standing import fold
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.standings import _shape, standing_of, standings_of
from mancary.usecases.zone import zone_of
from tests.conftest import NOON
from tests.husbandry.strategies import entries

UTC = ZoneInfo("UTC")


def agree(book: Book) -> None:
    told = standings_of(book, UTC)
    boxes = book.subjects("box")
    assert set(told) == set(boxes)
    for box in boxes:
        afresh = fold(box, book.entries_about(f"box:{box}"), UTC)
        assert told[box] == afresh
        assert standing_of(book, box, UTC) == afresh


@settings(
    max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(
    told=st.lists(entries(), max_size=24, unique_by=lambda e: e.id),
    cuts=st.lists(st.integers(0, 24), max_size=4),
    wrong=st.randoms(use_true_random=False),
)
def test_the_cache_agrees_with_the_facts_whenever_it_is_asked(
    told: list[Entry], cuts: list[int], wrong: random.Random, tmp_path_factory: object
) -> None:
    path = tmp_path_factory.mktemp("book") / "b.mancary"  # type: ignore[attr-defined]
    pen = Pen(clock=lambda: NOON, chance=wrong.randbytes)
    with create_book(path) as book:
        start = 0
        for cut in [*sorted(cuts), len(told)]:
            book.append(told[start:cut], written_at=NOON)
            start = max(start, cut)
            agree(book)
        if told:
            withdraw(book, wrong.choice(told).id, why="", pen=pen, even_so=True)
            agree(book)


def test_a_cache_thrown_away_is_made_again(book: Book, pen: Pen) -> None:
    write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened="2026-03-01")
    before = standings_of(book)
    with book.writing() as db:
        db.execute("DELETE FROM standing")
        db.execute("DELETE FROM standing_upto")
    assert standings_of(book) == before


def test_a_fact_that_comes_late_takes_its_place(book: Book, pen: Pen) -> None:
    write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened="2026-03-05")
    assert standings_of(book)["A01"].given["mist"] == "2026-03-05"
    write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened="2026-03-01")
    assert standings_of(book)["A01"].given["mist"] == "2026-03-05"
    assert standings_of(book)["A01"].facts == 2
    write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened="2026-03-06")
    assert standings_of(book)["A01"].given["mist"] == "2026-03-06"


def test_a_damaged_cache_is_no_loss(book: Book, pen: Pen) -> None:
    write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened="2026-03-05")
    before = standings_of(book)
    with book.writing() as db:
        db.execute("UPDATE standing SET body = x'c1'")
    assert standing_of(book, "A01") == before["A01"]
    assert standings_of(book) == before


def test_a_reader_that_was_overtaken_keeps_nothing(book: Book, pen: Pen) -> None:
    write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened="2026-03-05")
    standings_of(book)
    write(book, [CareGiven(box="A01", care="mist")], pen=pen, happened="2026-03-06")
    overtaken = keep_standings(
        book, [("A01", b"stale")], since=0, upto=1, shape=_shape(zone_of(book))
    )
    assert not overtaken
    assert standings_of(book)["A01"].given["mist"] == "2026-03-06"
