"""The round's misting task carries mL where the box's scale tells them."""

from datetime import date

import pytest

from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, CareGiven, Founded, LineNamed
from mancary.husbandry.wants import Want
from mancary.usecases.box_card import box_card
from mancary.usecases.noting import facts_for
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.round_ahead import look_ahead
from mancary.usecases.round_kept import write_done
from mancary.usecases.round_plan import Round, StopTask, plan_round
from mancary.usecases.wants import wants_list
from mancary.usecases.water import water_of

TONIGHT = date(2026, 11, 1)


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    line = LineNamed(line="scaber", species="porcellio-scaber", as_bought="P. scaber")
    write(book, [line], pen=pen, happened="2026-08-01")
    for box in ("A01", "A02"):
        described = BoxDescribed(box=box, litres=3, damp_share=0.5)
        founded = Founded(box=box, colony=f"{box}.1", line="scaber")
        write(book, [described, founded], pen=pen, happened="2026-08-01")
    return book


def weigh(book: Book, pen: Pen, *told: tuple[str, str, str]) -> None:
    for on, word, amount in told:
        write(book, facts_for("A01", word, amount), pen=pen, happened=on)


def mist(told: Round, box: str) -> StopTask | None:
    tasks = [task for stop in told.stops if stop.box == box for task in stop.tasks]
    return next((task for task in tasks if task.care == "mist"), None)


MARKED = (
    ("2026-09-20", "weigh", "1432 too dry"),
    ("2026-09-20", "mist", "30 mL"),
    ("2026-09-20", "weigh", "1462 just right"),
    ("2026-10-15", "weigh", "1437"),
)
"""A gram a day, thirty from just right to too dry."""


def test_a_reserve_that_is_used_asks_for_its_pour_tonight(room: Book, pen: Pen) -> None:
    weigh(room, pen, *MARKED)
    task = mist(plan_round(room, on=TONIGHT, named=True, minutes=200), "A01")
    assert task is not None
    assert task.unit == "mL"
    assert task.amount is not None
    assert task.amount == 30  # some 45 g gone, but no more than the reserve at once
    assert "by the scale" in task.why


def test_a_box_that_is_wet_enough_is_left_alone(room: Book, pen: Pen) -> None:
    weigh(room, pen, *MARKED, ("2026-10-31", "mist", "41 mL"), ("2026-10-31", "weigh", "1462"))
    assert mist(plan_round(room, on=TONIGHT, named=True, minutes=200), "A01") is None


def look(told: Round, box: str) -> list[str]:
    tasks = [task for stop in told.stops if stop.box == box for task in stop.tasks]
    return [task.why for task in tasks if task.care == "look"]


def test_a_box_too_wet_is_looked_at_tonight_and_not_again_at_once(room: Book, pen: Pen) -> None:
    weigh(room, pen, *MARKED)
    assert not any("too wet" in why for why in look(plan(room), "A01"))
    weigh(room, pen, ("2026-10-28", "mist", "200 mL"), ("2026-10-28", "weigh", "1637"))
    told = look(plan(room), "A01")
    assert any("too wet by" in why and "no water" in why for why in told)
    assert mist(plan(room), "A01") is None
    weigh(room, pen, ("2026-10-31", "look", ""))
    assert not any("too wet" in why for why in look(plan(room), "A01"))


def plan(room: Book) -> Round:
    return plan_round(room, on=TONIGHT, named=True, minutes=200)


def test_the_card_and_the_list_say_what_the_round_says(room: Book, pen: Pen) -> None:
    """A box wet enough by its scale is late by its rhythm, and no page calls it late."""
    weigh(room, pen, *MARKED, ("2026-10-20", "mist", "30 mL"), ("2026-10-20", "weigh", "1462"))

    def misting() -> list[Want]:
        listed = next(one for one in wants_list(room, on=TONIGHT).boxes if one.box == "A01")
        card = box_card(room, "A01", on=TONIGHT)
        return [
            want
            for wants in (listed.wants, card.wants.wants)
            for want in wants
            if want.care == "mist"
        ]

    (one, other) = misting()
    assert one == other
    assert one.whose == "by your scale"
    due = [
        task.due
        for task in look_ahead(room, on=TONIGHT, named=True, minutes=200).tasks
        if task.box == "A01" and task.care == "mist"
    ]
    assert one.due == min(due)
    unweighed = wants_list(room, on=TONIGHT, weighed=False).boxes[0].wants
    rhythmic = next(want for want in unweighed if want.care == "mist")
    assert rhythmic.state in ("late", "due")
    assert one.state == "later"


def test_a_box_that_was_never_weighed_keeps_its_rhythm(room: Book, pen: Pen) -> None:
    before = mist(plan_round(room, on=TONIGHT, named=True, minutes=200), "A02")
    weigh(room, pen, *MARKED)
    assert mist(plan_round(room, on=TONIGHT, named=True, minutes=200), "A02") == before


def test_a_misting_done_as_told_is_written_with_its_pour_and_once(room: Book, pen: Pen) -> None:
    weigh(room, pen, *MARKED)
    stops = [("A01", ["mist", "look"]), ("A02", ["mist"])]
    done = write_done(room, stops, on=TONIGHT, pen=pen)
    again = write_done(room, stops, on=TONIGHT, pen=pen)
    assert (done.given, again.given, again.repeated) == (3, 0, 3)
    mists = [
        entry.fact
        for entry in room.entries_of(("care_given",))
        if isinstance(entry.fact, CareGiven) and entry.happened == TONIGHT.isoformat()
    ]
    amounts = {fact.box: fact.amount for fact in mists if fact.care == "mist"}
    assert amounts["A02"] is None
    assert amounts["A01"] is not None
    assert amounts["A01"].unit == "mL"
    assert water_of(room, "A01", on=TONIGHT).reserve_g is not None
