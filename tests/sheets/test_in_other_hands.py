"""The same content in other words, order, signs, encodings and dates gives the same facts."""

import dataclasses
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace

from mancary.book import Book, create_book
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import BoxDescribed, CareGiven, Fact
from mancary.usecases.take_in import Reading, read_sheet, take
from tests.sheets.sheet_making import (
    PLAIN,
    Hand,
    ToldBox,
    ToldWork,
    box_list,
    hands,
    journal,
    told_boxes,
    told_works,
)

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
DURABLE = settings(
    max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    with create_book(tmp_path_factory.mktemp("book") / "empty.mancary") as book:
        yield book


@pytest.fixture(scope="module")
def eight(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """A book with the boxes A01 to A08."""
    with create_book(tmp_path_factory.mktemp("book") / "eight.mancary") as book:
        boxes = [BoxDescribed(box=f"A{n:02d}") for n in range(1, 9)]
        typed = "2026-11-25T12:00:00.000Z"
        book.append(
            [
                Entry(id=derived_id(box.box), happened="2026-01-01", typed=typed, fact=box)
                for box in boxes
            ],
            written_at=NOW,
        )
        yield book


def unworded(fact: Fact) -> Fact:
    """The fact without the words it was typed in."""
    if isinstance(fact, BoxDescribed):
        return replace(fact, vents_as_written="")
    if isinstance(fact, CareGiven) and fact.amount:
        return replace(fact, amount=replace(fact.amount, as_written=""))
    return fact


def facts_of(reading: Reading) -> list[tuple[str, Fact]]:
    return [(entry.happened, unworded(entry.fact)) for entry in reading.entries]


def add_up(reading: Reading) -> bool:
    counts = (
        reading.rows_understood,
        reading.rows_refused,
        reading.rows_asked,
        reading.rows_repeated,
    )
    return sum(counts) == reading.rows_read


@DURABLE
@given(hand=hands(), boxes=told_boxes())
def test_a_box_list_in_another_hand_gives_the_same_facts(
    hand: Hand, boxes: list[ToldBox], empty: Book
) -> None:
    plain = read_sheet(empty, box_list(PLAIN, boxes), "plain.csv", now=NOW)
    other = read_sheet(empty, box_list(hand, boxes), "other.csv", now=NOW)
    assert plain.rows_understood == len(boxes)
    assert facts_of(other) == facts_of(plain)
    assert add_up(other)
    assert add_up(plain)


@DURABLE
@given(hand=hands(), works=told_works())
def test_a_journal_in_another_hand_gives_the_same_facts_and_ids(
    hand: Hand, works: list[ToldWork], eight: Book
) -> None:
    plain = read_sheet(eight, journal(PLAIN, works), "plain.csv", now=NOW)
    other = read_sheet(eight, journal(hand, works), "other.csv", now=NOW)
    assert plain.rows_understood + plain.rows_repeated == len(works)
    assert facts_of(other) == facts_of(plain)
    assert [e.id for e in other.entries] == [e.id for e in plain.entries]
    assert add_up(other)


def test_the_comparison_would_notice_another_figure(empty: Book, eight: Book) -> None:
    """A comparison nobody can fail proves nothing: one figure, one day, one word off must show."""
    box = ToldBox("Cubaris murina", "wild", 3, "12", 1.5, 30, 12, 3.0, 1.0, "slow")
    here = read_sheet(empty, box_list(PLAIN, [box, box]), "a.csv", now=NOW)
    for change in ({"litres": 2.0}, {"days_ago": 4}, {"mm": 2.0}, {"remark": ""}, {"damp": 25}):
        other = [dataclasses.replace(box, **change), box]
        there = read_sheet(empty, box_list(PLAIN, other), "b.csv", now=NOW)
        assert facts_of(there) != facts_of(here)
    work = ToldWork(1, 3, "mist", 20.0, "smells")
    log = read_sheet(eight, journal(PLAIN, [work, work]), "a.csv", now=NOW)
    for change in ({"amount": 8.0}, {"work": "calcium"}, {"box": 2}, {"remark": "all gone"}):
        changed = [dataclasses.replace(work, **change), work]
        there = read_sheet(eight, journal(PLAIN, changed), "b.csv", now=NOW)
        assert facts_of(there) != facts_of(log)


@DURABLE
@given(hand=hands(), boxes=told_boxes())
def test_a_list_copied_in_another_hand_adds_nothing_to_a_book_that_has_it(
    hand: Hand, boxes: list[ToldBox], tmp_path_factory: pytest.TempPathFactory
) -> None:
    with create_book(tmp_path_factory.mktemp("book") / "has.mancary") as book:
        take(book, read_sheet(book, box_list(PLAIN, boxes), "plain.csv", now=NOW), now=NOW)
        other = read_sheet(book, box_list(hand, boxes), "other.csv", now=NOW)
        assert other.rows_repeated == other.rows_read == len(boxes)
        assert other.facts == 0
