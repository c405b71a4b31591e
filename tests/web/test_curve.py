"""The curve as it is drawn: everything told is in it, within its frame, and each way has its mark."""

import re
from datetime import date, timedelta
from itertools import pairwise
from typing import get_args, get_type_hints

import pytest

from mancary.husbandry.colony_curve import CountMade, Curve, Happened, Point
from mancary.husbandry.facts import Counted
from mancary.web.drawing.curve import LANES, SORT_SAID, SORTS, TOP, WIDTH, Drawn, drawn, table

ON = date(2026, 11, 26)
BEGUN = date(2025, 3, 1)


def point(day: date, mid: float, *, ahead: bool = False) -> Point:
    return Point(on=day, low=mid / 2, mid=mid, high=mid * 2, ahead=ahead)


def curve(top: float = 400.0, *, begun: date = BEGUN, highest_ahead: float = 0.0) -> Curve:
    later = ON + timedelta(days=540)
    last = Point(on=later, low=1, mid=top / 3, high=highest_ahead or top / 2, ahead=True)
    return Curve(
        points=(
            point(begun + timedelta(days=100), top / 8),
            point(begun + timedelta(days=300), top / 4),
            point(ON, top / 2),
            last,
        ),
        counts=(
            CountMade(on=begun + timedelta(days=100), how="full", low=9, high=9, said="9"),
            CountMade(on=begun + timedelta(days=150), how="one_hide", low=4, high=6, said="4-6"),
            CountMade(on=begun + timedelta(days=300), how="band", low=20, high=None, said="20+"),
        ),
        events=(
            Happened(on=begun, what="founded", said="founded with 12"),
            Happened(on=begun + timedelta(days=150), what="young", said="young seen"),
            Happened(on=begun + timedelta(days=400), what="dead", said="2 dead"),
        ),
    )


def numbers(path: str) -> list[tuple[float, float]]:
    found = [float(one) for one in re.findall(r"-?[\d.]+", path)]
    return list(zip(found[::2], found[1::2], strict=True))


@pytest.mark.parametrize("top", [3.0, 30.0, 400.0, 20_000.0])
def test_all_of_it_lies_in_the_frame_and_time_runs_to_the_right(top: float) -> None:
    made = drawn(curve(top), ON)
    for path in (made.past, made.ahead, made.past_mid, made.ahead_mid):
        for x, y in numbers(path):
            assert made.left <= x <= WIDTH
            assert TOP <= y <= made.foot
    across = [x for x, _ in numbers(made.past_mid) + numbers(made.ahead_mid)[1:]]
    assert across == sorted(across)
    assert numbers(made.past_mid)[-1] == numbers(made.ahead_mid)[0]
    assert numbers(made.past_mid)[-1][0] == made.today


def y_of(made: Drawn, animals: int) -> float:
    return next(tick.at for tick in made.numbers if tick.words == f"{animals:,}")


def test_the_axis_goes_by_roots_only_where_sizes_span_widely() -> None:
    wide, narrow = drawn(curve(4000), ON), drawn(curve(24), ON)
    assert wide.by_roots
    assert not narrow.by_roots
    up = [wide.foot - y_of(wide, animals) for animals in (500, 2000)]
    assert up[1] == pytest.approx(2 * up[0], abs=0.3)
    up = [narrow.foot - y_of(narrow, animals) for animals in (10, 20)]
    assert up[1] == pytest.approx(2 * up[0], abs=0.3)


def test_a_forecast_out_of_all_measure_does_not_flatten_the_past() -> None:
    calm, wild = drawn(curve(400), ON), drawn(curve(400, highest_ahead=90_000), ON)
    assert numbers(wild.past_mid)[-1][1] < calm.foot - 60
    assert numbers(wild.ahead)[1][1] == TOP


@pytest.mark.parametrize("begun", [BEGUN, date(2026, 11, 20), date(2019, 5, 1), date(1994, 1, 1)])
def test_words_on_the_axes_stand_apart(begun: date) -> None:
    made = drawn(curve(begun=begun), ON)
    assert len(made.days) >= 2
    assert all(b.at - a.at >= 30 for a, b in pairwise(made.days))
    assert all(a.at - b.at >= 20 for a, b in pairwise(made.numbers))
    assert made.numbers[0].words == "0"


def test_every_way_of_counting_has_a_mark_and_words_and_those_present_stand_in_the_key() -> None:
    ways = get_args(get_type_hints(Counted)["how"])
    assert set(ways) == set(SORTS)
    assert set(SORTS.values()) == set(SORT_SAID)
    made = drawn(curve(), ON)
    assert [sort for sort, _ in made.sorts] == ["whole", "hide", "glance"]
    assert [mark.sort for mark in made.marks] == ["whole", "hide", "glance"]
    assert [mark.open_above for mark in made.marks] == [False, False, True]
    assert made.marks[1].low > made.marks[1].high


def test_events_have_a_line_a_sort_on_the_same_axis() -> None:
    made = drawn(curve(), ON)
    assert [lane.what for lane in made.lanes] == ["founded", "young", "dead"]
    assert made.lanes[1].at == (made.marks[1].x,)
    assert made.lanes[0].y > made.foot
    assert {lane.words for lane in made.lanes} <= set(LANES.values())


def test_the_table_says_all_that_the_drawing_shows() -> None:
    told = curve()
    lines = table(told)
    assert [line.on for line in lines] == sorted({line.on for line in lines})
    said = "; ".join(one for line in lines for one in line.seen)
    for words in ("counted 9", "counted 4-6", "counted 20+", "founded with 12", "young", "2 dead"):
        assert words in said
    assert sum(bool(line.likely) for line in lines) == len(told.points)
    assert [line.ahead for line in lines if line.likely] == [False, False, False, True]


def test_a_colony_without_any_look_is_drawn_too() -> None:
    bare = Curve(points=(point(ON, 10),), counts=(), events=())
    made = drawn(bare, ON)
    assert [*made.sorts, *made.lanes, *made.marks] == []
    assert made.past_mid.startswith("M")
