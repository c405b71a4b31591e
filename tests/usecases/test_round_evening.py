"""An evening's kept plan written down: by halves, late, and never twice."""

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest

from mancary.book import Book, open_book
from mancary.husbandry.facts import Amount, CareGiven, CareSkipped, SeenInBox
from mancary.husbandry.refusal import Refusal
from mancary.usecases.evening_done import done_evening, write_kept
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw, write
from mancary.usecases.round_evening import LATE_DAYS, keep_evening, kept_evening, last_kept
from mancary.usecases.round_kept import accepted_round
from mancary.usecases.round_plan import accept_plan, plan_round
from tests.conftest import NOON, HandClock
from tests.paper.conftest import furnish

SUNDAY = NOON.date()


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    return furnish(book, pen, 8)


@pytest.fixture
def kept(room: Book, pen: Pen) -> Book:
    keep_evening(room, on=SUNDAY, named=True, pen=pen)
    return room


def given(book: Book) -> list[tuple[str, str, str]]:
    """Box, care and day of every care that was given after the room was furnished."""
    return sorted(
        (entry.fact.box, entry.fact.care, entry.happened[:10])
        for entry in book.entries()
        if isinstance(entry.fact, CareGiven) and entry.happened[:10] > "2026-10-10"
    )


def cares(book: Book) -> list[tuple[str, str]]:
    plan = kept_evening(book, SUNDAY)
    assert plan
    return sorted(plan.cares)


def whole(boxes: Sequence[str]) -> list[tuple[str, str]]:
    return [(box, "") for box in boxes]


def test_keeping_keeps_once_and_a_round_without_stops_not_at_all(
    room: Book, book: Book, pen: Pen
) -> None:
    assert keep_evening(room, on=SUNDAY, named=True, pen=pen) == (SUNDAY, False, True)
    head = room.head()
    assert keep_evening(room, on=SUNDAY, named=True, pen=pen) == (SUNDAY, True, False)
    assert room.head() == head
    assert last_kept(room, until=SUNDAY + timedelta(days=9)) == SUNDAY
    assert last_kept(room, until=SUNDAY - timedelta(days=1)) is None


def test_an_empty_room_keeps_no_plan(book: Book, pen: Pen) -> None:
    assert keep_evening(book, on=SUNDAY, named=True, pen=pen) == (SUNDAY, False, False)
    assert accepted_round(book, SUNDAY) is None
    done = done_evening(book, on=SUNDAY, pen=pen)
    assert (done.done.given, done.plan_was_kept) == (0, False)
    assert accepted_round(book, SUNDAY) is None


def test_the_next_working_evening_is_kept_where_none_is_named(room: Book, pen: Pen) -> None:
    monday = SUNDAY + timedelta(days=1)
    wednesday = SUNDAY + timedelta(days=3)
    assert keep_evening(room, on=monday, named=False, pen=pen) == (wednesday, False, True)


def test_two_people_each_write_their_half_and_what_both_did_once(kept: Book, pen: Pen) -> None:
    plan = kept_evening(kept, SUNDAY)
    assert plan
    boxes = [box for box, _ in plan.stops]
    both, hers, his = boxes[0], boxes[1:4], boxes[4:]
    first = done_evening(kept, on=SUNDAY, left_out=whole(his), pen=pen)
    second = done_evening(kept, on=SUNDAY, left_out=whole(hers), pen=pen)
    assert second.plan_was_kept
    assert first.done.given + second.done.given == len(cares(kept))
    assert {box for box, _ in second.already} == {both, *hers}
    assert given(kept) == [(box, care, "2026-11-01") for box, care in cares(kept)]


def test_two_pens_at_the_same_moment_write_the_shared_stop_once(
    kept: Book, path: Path, clock: HandClock
) -> None:
    with open_book(path) as other:
        hers, his = kept_evening(kept, SUNDAY), kept_evening(other, SUNDAY)
        assert hers
        assert his
        boxes = [box for box, _ in hers.stops]
        one, two = Pen(clock=clock), Pen(clock=clock)
        write_kept(kept, hers, left_out=whole(boxes[4:]), pen=one)
        # his view was read before her half was written
        told = write_kept(other, his, left_out=whole(boxes[1:4]), pen=two)
        assert told.done.repeated == len(dict(hers.stops)[boxes[0]])
        assert given(other) == [(box, care, "2026-11-01") for box, care in cares(other)]


def test_done_again_the_same_evening_writes_nothing(room: Book, pen: Pen) -> None:
    """Without a kept plan the second call would plan what the first put off, and write that."""
    before = plan_round(room, on=SUNDAY, named=True)
    first = done_evening(room, on=SUNDAY, pen=pen)
    assert not first.plan_was_kept
    assert first.done.given == sum(len(stop.tasks) for stop in before.stops)
    written = given(room)
    second = done_evening(room, on=SUNDAY, pen=pen)
    assert (second.plan_was_kept, second.done.given) == (True, 0)
    assert len(second.already) == first.done.given
    assert given(room) == written


def test_what_was_noted_one_by_one_is_not_written_again(kept: Book, pen: Pen) -> None:
    box, care = cares(kept)[0]
    write(kept, [CareGiven(box=box, care=care)], pen=pen)  # type: ignore[arg-type]
    done = done_evening(kept, on=SUNDAY, pen=pen)
    assert (box, care) in done.already
    assert len(given(kept)) == len(cares(kept))


def test_an_exception_that_is_written_already_is_told_and_not_refused(kept: Book, pen: Pen) -> None:
    box, care = cares(kept)[0]
    done_evening(kept, on=SUNDAY, pen=pen)
    again = done_evening(
        kept, on=SUNDAY, left_out=[(box, "")], skipped={(box, care): "too wet"}, pen=pen
    )
    assert (box, care) in again.already
    assert not [entry for entry in kept.entries() if isinstance(entry.fact, CareSkipped)]


@pytest.mark.parametrize("planned", [True, False], ids=["kept", "not kept"])
@pytest.mark.parametrize("exception", [("B00", "substrate_whole"), ("B77", ""), ("B00", "tea")])
def test_an_exception_that_never_was_in_the_round_is_refused_and_nothing_written(
    room: Book,
    pen: Pen,
    planned: bool,  # noqa: FBT001
    exception: tuple[str, str],
) -> None:
    if planned:
        keep_evening(room, on=SUNDAY, named=True, pen=pen)
        done_evening(room, on=SUNDAY, pen=pen)
    head = room.head()
    with pytest.raises(Refusal):
        done_evening(room, on=SUNDAY, left_out=[exception], pen=pen)
    assert room.head() == head


def test_an_evening_to_come_is_refused_and_keeps_no_plan(room: Book, pen: Pen) -> None:
    head = room.head()
    with pytest.raises(Refusal, match="future"):
        done_evening(room, on=SUNDAY + timedelta(days=1), pen=pen)
    assert room.head() == head


@pytest.mark.parametrize("planned", [True, False], ids=["kept", "not kept"])
def test_a_late_round_is_written_with_its_day(
    room: Book,
    pen: Pen,
    clock: HandClock,
    planned: bool,  # noqa: FBT001
) -> None:
    if planned:
        keep_evening(room, on=SUNDAY, named=True, pen=pen)
    clock.forward(days=5)
    done = done_evening(room, on=SUNDAY, pen=pen)
    assert done.done.given > 0
    assert {day for _, _, day in given(room)} == {"2026-11-01"}
    again = done_evening(room, on=SUNDAY, pen=pen)
    assert (again.done.given, len(again.already)) == (0, done.done.given)


def test_a_later_evenings_care_does_not_count_for_a_late_sheet(
    kept: Book, pen: Pen, clock: HandClock
) -> None:
    """Wednesday has a plan of its own: its misting is not Sunday's."""
    clock.forward(days=3)
    accept_plan(kept, on=SUNDAY + timedelta(days=3), named=True, pen=pen)
    plan = kept_evening(kept, SUNDAY)
    assert plan
    assert plan.until == SUNDAY + timedelta(days=2)
    box, care = cares(kept)[0]
    write(kept, [CareGiven(box=box, care=care)], pen=pen)  # type: ignore[arg-type]
    after = kept_evening(kept, SUNDAY)
    assert after
    assert (box, care) not in after.recorded


def test_a_round_done_the_day_after_is_dated_so_and_counts_for_its_evening(
    kept: Book, pen: Pen, clock: HandClock
) -> None:
    clock.forward(days=1)
    plan = kept_evening(kept, SUNDAY)
    assert plan
    monday = SUNDAY + timedelta(days=1)
    write_kept(kept, plan, dated=monday, pen=pen)
    assert {day for _, _, day in given(kept)} == {"2026-11-02"}
    assert done_evening(kept, on=SUNDAY, pen=pen).done.given == 0
    for day in (SUNDAY - timedelta(days=1), SUNDAY + timedelta(days=LATE_DAYS + 1)):
        with pytest.raises(Refusal, match="can be written for"):
            write_kept(kept, plan, dated=day, pen=pen)


def test_a_care_told_with_its_amount_stands_in_place_of_the_plans_own(kept: Book, pen: Pen) -> None:
    box = next(box for box, care in cares(kept) if care == "mist")
    poured = CareGiven(box=box, care="mist", amount=Amount(low=20, unit="mL"))
    plan = kept_evening(kept, SUNDAY)
    assert plan
    seen = SeenInBox(box=box, word="mould")
    write_kept(kept, plan, left_out=[(box, "mist")], beside=[poured, seen], pen=pen)
    told = [
        entry.fact
        for entry in kept.entries()
        if isinstance(entry.fact, CareGiven)
        and (entry.fact.box, entry.fact.care) == (box, "mist")
        and entry.happened == "2026-11-01"
    ]
    assert told == [poured]


def test_only_what_was_shown_is_written(kept: Book, pen: Pen) -> None:
    plan = kept_evening(kept, SUNDAY)
    assert plan
    shown = sorted(plan.cares)[:3]
    write_kept(kept, plan, only=shown, left_out=shown[:1], pen=pen)
    assert [(box, care) for box, care, _ in given(kept)] == shown[1:]


def test_what_was_withdrawn_is_open_again(kept: Book, pen: Pen) -> None:
    done = done_evening(kept, on=SUNDAY, pen=pen)
    withdraw(kept, done.done.facts[0], why="", pen=pen)
    plan = kept_evening(kept, SUNDAY)
    assert plan
    assert sum(len(told) for _, told in plan.left) == 1


def test_a_withdrawn_plan_is_none(kept: Book, pen: Pen) -> None:
    (entry,) = kept.entries_about(f"round:{SUNDAY}")
    withdraw(kept, entry.id, why="", pen=pen)
    assert kept_evening(kept, SUNDAY) is None
    assert last_kept(kept, until=date(2026, 12, 1)) is None
