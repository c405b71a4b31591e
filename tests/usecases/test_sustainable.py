"""Rhythms that fit the week: proposed, edited by the keeper, accepted and given back."""

from collections.abc import Mapping
from datetime import date, timedelta

import pytest
from msgspec.structs import replace

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import CareGiven, FigureChosen
from mancary.husbandry.refusal import Refusal
from mancary.usecases.figures import choose_figure
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw_many, write
from mancary.usecases.rhythm_units import demand
from mancary.usecases.sustainable import (
    Row,
    Sustainable,
    accept,
    chosen_of,
    propose,
    proposed_of,
)
from mancary.usecases.timed import time_round
from mancary.usecases.wants import wants_list
from tests.conftest import NOON
from tests.paper.conftest import furnish

SUNDAY = NOON.date()
TENTH = 0.06
"""Days and minutes are shown to a tenth."""


@pytest.fixture
def busy(book: Book, pen: Pen) -> Book:
    """Twelve boxes and twenty minutes a week: it cannot fit."""
    room = furnish(book, pen, 12)
    for name, minutes in (("wednesday_minutes", 10.0), ("sunday_minutes", 10.0)):
        choose_figure(room, name, low=minutes, high=minutes, why="", scopes={}, pen=pen)
    return room


def rows(found: Sustainable) -> dict[Row, float]:
    return {(one.care, one.care_group): one.proposed_days for one in found.proposals}


def choose(book: Book, days: Mapping[Row, float]) -> Sustainable:
    return chosen_of(demand(book, on=SUNDAY), days)


def by_hand(book: Book, days: Mapping[Row, float]) -> float:
    """Minutes a week counted box by box: cares, and openings as often as the most frequent care."""
    efforts, opening = handbook.efforts(), handbook.opening().minutes
    wanted: dict[Row, list[float]] = {}
    for box in wants_list(book, on=SUNDAY).boxes:
        assert box.species
        for want in box.wants:
            if want.care in efforts:
                middle = (want.low_days + want.high_days) / 2
                wanted.setdefault((want.care, box.species.care_group), []).append(middle)
    minutes, openings = 0.0, dict[str, list[tuple[float, int]]]()
    for (care, group), told in wanted.items():
        every = days.get((care, group), sum(told) / len(told))
        minutes += len(told) * efforts[care].minutes * 7 / every
        openings.setdefault(group, []).append((every, len(told)))
    for seen in openings.values():
        minutes += opening * max(n for _, n in seen) * 7 / min(every for every, _ in seen)
    return minutes


def test_the_proposal_fits_and_names_its_boxes(busy: Book) -> None:
    found = propose(busy, on=SUNDAY)
    assert found.minutes_wanted > found.minutes_offered == 20
    assert found.fits
    assert found.minutes_proposed <= 20
    assert found.proposals
    for one in found.proposals:
        assert one.proposed_days > one.days
        assert one.boxes == len(one.codes) > 0
    known = {
        box.box: box.species.care_group for box in wants_list(busy, on=SUNDAY).boxes if box.species
    }
    assert all(known[code] == one.care_group for one in found.proposals for code in one.codes)


def test_what_is_shown_is_what_the_shown_days_take(busy: Book) -> None:
    found = propose(busy, on=SUNDAY)
    assert found.minutes_wanted == pytest.approx(by_hand(busy, {}), abs=TENTH)
    assert found.minutes_proposed == pytest.approx(by_hand(busy, rows(found)), abs=TENTH)
    shorter = {row: days / 1.1 for row, days in rows(found).items()}
    assert found.minutes_proposed != pytest.approx(by_hand(busy, shorter), abs=TENTH)


def test_an_edited_row_takes_its_own_minutes(busy: Book) -> None:
    found = propose(busy, on=SUNDAY)
    row, days = next(iter(rows(found).items()))
    edited = choose(busy, {**rows(found), row: days * 2})
    assert edited.minutes_proposed < found.minutes_proposed
    assert edited.minutes_proposed == pytest.approx(
        by_hand(busy, {**rows(found), row: days * 2}), abs=TENTH
    )
    assert choose(busy, {}).minutes_proposed == found.minutes_wanted


def test_a_shorter_rhythm_costs_minutes_and_says_so(busy: Book) -> None:
    unit = demand(busy, on=SUNDAY).units[0]
    (one,) = choose(busy, {(unit.care, unit.group): unit.days / 2}).proposals
    assert one.minutes_saved_a_week < 0


def test_accepted_rhythms_hold_and_one_step_gives_them_back(busy: Book, pen: Pen) -> None:
    before = propose(busy, on=SUNDAY)
    chosen = choose(busy, {row: days * 1.2 for row, days in rows(before).items()})
    recorded = accept(busy, chosen.proposals, pen=pen)
    facts = [entry.fact for entry in recorded.entries]
    assert all(isinstance(fact, FigureChosen) and fact.scope == "care_group" for fact in facts)
    after = demand(busy, on=SUNDAY)
    held = {(unit.care, unit.group): unit.days for unit in after.units}
    for row, days in rows(chosen).items():
        # the range is written to a thousandth, of feeds a week for protein
        assert held[row] == pytest.approx(days, rel=0.02)
        assert held[row] != pytest.approx(rows(before)[row], rel=0.02)
    assert proposed_of(after).fits_already
    withdraw_many(busy, [entry.id for entry in recorded.entries], why="", pen=pen)
    assert propose(busy, on=SUNDAY) == before


@pytest.mark.parametrize(
    ("row", "days", "said"),
    [
        (("champagne", "temperate-dry"), 9.0, "champagne of temperate-dry"),
        (("vegetable", "nowhere"), 9.0, "vegetable of nowhere"),
        (None, 0.0, "0 days is no rhythm"),
        (None, -4.0, "-4 days is no rhythm"),
        (None, 99_999.0, "days is no rhythm"),
        (None, float("nan"), "nan days is no rhythm"),
    ],
)
def test_bad_days_are_refused_by_the_name_of_their_row(
    busy: Book, row: Row | None, days: float, said: str
) -> None:
    named = row or next(iter(rows(propose(busy, on=SUNDAY))))
    with pytest.raises(Refusal, match=said):
        choose(busy, {named: days})


def test_where_all_fits_nothing_is_proposed(book: Book, pen: Pen) -> None:
    furnish(book, pen, 2)
    found = propose(book, on=SUNDAY)
    assert found.fits_already
    assert found.proposals == ()
    assert found.minutes_proposed == found.minutes_wanted


def test_the_keepers_own_minutes_count_where_he_timed_evenings(busy: Book, pen: Pen) -> None:
    before = propose(busy, on=SUNDAY)
    assert "learned" not in before.basis
    for week in range(8):
        day = SUNDAY - timedelta(weeks=week + 1)
        fed = [CareGiven(box=f"B{n:02}", care=care) for n in range(12) for care in ("mist", "look")]
        write(busy, fed, pen=pen, happened=day.isoformat())
        time_round(busy, day, 120.0, pen=pen)
    after = propose(busy, on=SUNDAY)
    assert after.minutes_wanted > 1.5 * before.minutes_wanted
    assert "learned from 8 evenings" in after.basis


def test_protein_is_kept_as_feeds_a_week(busy: Book, pen: Pen) -> None:
    units = demand(busy, on=SUNDAY).units
    row = next((unit.care, unit.group) for unit in units if unit.care == "protein")
    (one,) = choose(busy, {row: 10.0}).proposals
    (entry,) = accept(busy, [replace(one, proposed_days=10.0)], pen=pen).entries
    assert isinstance(entry.fact, FigureChosen)
    assert entry.fact.figure == "protein_feeds_per_week"
    assert (entry.fact.low, entry.fact.high) == pytest.approx((7 / 11, 7 / 9), abs=0.001)
    held = {(unit.care, unit.group): unit.days for unit in demand(busy, on=SUNDAY).units}
    assert held[row] == pytest.approx(10.0, rel=0.01)


def test_the_same_day_gives_the_same_proposal(busy: Book) -> None:
    assert propose(busy, on=date(2026, 11, 1)) == propose(busy, on=date(2026, 11, 1))
