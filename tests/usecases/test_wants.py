"""What a box wants follows from when it was last given and whose rhythm holds."""

from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, CareGiven
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.wants import Want
from mancary.usecases import colony_work, set_up
from mancary.usecases.box_card import box_card
from mancary.usecases.figures import choose_figure
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.wants import wants_list
from tests.conftest import NOON

ON = NOON.date()


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    """Two boxes of one species on a shelf, one of another on the next, and a spare."""
    for box, shelf, species in (
        ("B2", "S1", "porcellio-hoffmannseggii"),
        ("B10", "S1", "porcellio-hoffmannseggii"),
        ("A1", "S2", "armadillidium-vulgare"),
    ):
        set_up.describe_box(book, box, litres=3.0, shelf=shelf, pen=pen, happened="2025-01-01")
        colony_work.found(book, box, species, as_bought=species, pen=pen, happened="2025-01-01")
    write(book, [BoxDescribed(box="SPARE")], pen=pen)
    return book


def want(book: Book, box: str, care: str, on: date = ON) -> Want:
    return next(w for w in box_card(book, box, on=on).wants.wants if w.care == care)


def test_the_walk_goes_by_shelf_then_place_and_spare_boxes_want_nothing(room: Book) -> None:
    assert [box.box for box in wants_list(room, on=ON).boxes] == ["B2", "B10", "A1"]


def test_quarantined_boxes_come_last(room: Book, pen: Pen) -> None:
    set_up.quarantine(room, "B2", why="new", until=None, pen=pen)
    assert [box.box for box in wants_list(room, on=ON).boxes] == ["B10", "A1", "B2"]
    set_up.end_quarantine(room, "B2", pen=pen)
    assert [box.box for box in wants_list(room, on=ON).boxes] == ["B2", "B10", "A1"]


def test_no_record_is_not_late(room: Book) -> None:
    assert want(room, "B2", "protein").state == "no_record"
    assert want(room, "B2", "protein").late_days == 0


@settings(
    max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(days=st.integers(0, 400))
def test_late_counts_from_the_longest_usual_interval(room: Book, pen: Pen, days: int) -> None:
    rhythm = handbook.rhythms("armadillidium-vulgare")["leaf_litter"]
    given_on = ON - timedelta(days=days)
    write(room, [CareGiven(box="A1", care="leaf_litter")], pen=pen, happened=given_on.isoformat())
    found = want(room, "A1", "leaf_litter")
    assert found.last is not None
    newest = date.fromisoformat(found.last)
    passed = (ON - newest).days
    assert found.late_days == max(0, passed - int(rhythm.high_days))
    expected = "late" if found.late_days else "due" if passed >= rhythm.low_days else "later"
    assert found.state == expected


def test_a_date_known_to_the_month_is_late_only_when_its_last_day_is(room: Book, pen: Pen) -> None:
    write(room, [CareGiven(box="A1", care="algae")], pen=pen, happened="2026-10")
    found = want(room, "A1", "algae")
    assert (found.state, found.late_days) == ("due", 0)
    assert found.due == date(2026, 10, 1) + timedelta(days=found.low_days)
    assert found.latest == date(2026, 10, 31) + timedelta(days=found.high_days)


def test_who_feeds_a_box_has_looked_at_it(room: Book, pen: Pen) -> None:
    write(room, [CareGiven(box="A1", care="vegetable")], pen=pen, happened="2026-10-31")
    assert want(room, "A1", "look").state == "later"


def test_the_nearest_figure_of_the_keepers_own_wins(room: Book, pen: Pen) -> None:
    """Once a week is seven days between feeds; arithmetic, no source needed."""

    def choose(feeds: float, **scope: str) -> None:
        choose_figure(
            room, "protein_feeds_per_week", low=feeds, high=feeds, why="", scopes=scope, pen=pen
        )

    choose(1.0)
    assert want(room, "B2", "protein").high_days == pytest.approx(7)
    choose(2.0, species="porcellio-hoffmannseggii")
    assert want(room, "B2", "protein").high_days == pytest.approx(3.5)
    assert want(room, "A1", "protein").high_days == pytest.approx(7)
    choose(7.0, box="B2")
    found = want(room, "B2", "protein")
    assert found.high_days == pytest.approx(1)
    assert (found.whose, found.kind) == ("yours, for this box", "the keeper's own")
    assert want(room, "B10", "protein").high_days == pytest.approx(3.5)
    choose_figure(
        room, "protein_feeds_per_week", low=None, high=None, why="", scopes={"box": "B2"}, pen=pen
    )
    assert want(room, "B2", "protein").high_days == pytest.approx(3.5)


@pytest.mark.parametrize(
    ("name", "low", "high", "scopes"),
    [
        ("happiness", 1.0, 1.0, {}),
        ("vegetable_days", -1.0, 2.0, {}),
        ("vegetable_days", 9.0, 2.0, {}),
        ("vegetable_days", 1.0, 2.0, {"box": "A1", "species": "porcellio-scaber"}),
        ("vegetable_days", 1.0, 2.0, {"box": "Z9"}),
        ("vegetable_days", 1.0, 2.0, {"care_group": "dragons"}),
        ("vegetable_days", 1.0, 2.0, {"species": "dragon"}),
        ("vegetable_days", 1.0, 2.0, {"line": "none"}),
    ],
)
def test_a_figure_that_makes_no_sense_is_refused(
    room: Book, pen: Pen, name: str, low: float, high: float, scopes: dict[str, str]
) -> None:
    before = room.head()
    with pytest.raises(Refusal):
        choose_figure(room, name, low=low, high=high, why="", scopes=scopes, pen=pen)
    assert room.head() == before
