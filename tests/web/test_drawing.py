"""The shelf strip and the box: in their order, beside each other, and to scale where it is told."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.husbandry.facts import Vent
from mancary.husbandry.states import Box, Quarantine
from mancary.husbandry.wants import State
from mancary.web.drawing.plan import plan
from mancary.web.drawing.strip import WIDTH, Standing, strips, tag_of


def box(code: str = "A01", **told: object) -> Box:
    made = Box(code, first_told="2026-01-01", colony=f"{code}.1")
    for name, value in told.items():
        setattr(made, name, value)
    return made


@given(
    st.lists(
        st.tuples(st.none() | st.floats(0.2, 60), st.booleans(), st.none() | st.floats(0, 1)),
        min_size=1,
        max_size=30,
    )
)
def test_boxes_stand_beside_each_other_within_the_shelf(
    shelf: list[tuple[float | None, bool, float | None]],
) -> None:
    standing = [
        Standing(
            box=box(f"B{n}", litres=litres, damp_share=damp),
            state="late" if late else "later",
            tag="leaves" if late else "",
        )
        for n, (litres, late, damp) in enumerate(shelf)
    ]
    rows = strips(standing)
    drawn = [one for row in rows for one in row.boxes]
    assert [one.code for one in drawn] == [one.box.code for one in standing]
    for row in rows:
        assert len(row.boxes) <= 7
        for left, right in pairwise(row.boxes):
            assert left.x + left.width < right.x
        assert row.boxes[-1].x + row.boxes[-1].width <= WIDTH
        assert all(one.floor - one.height >= row.top for one in row.boxes)
        assert all(0 <= one.damp <= one.width + 0.1 for one in row.boxes)
        tags = [one for one in row.boxes if one.tag]
        for one in tags:
            assert 0 <= one.tag_x <= one.tag_x + one.tag_width <= WIDTH
        for one, other in pairwise(sorted(tags, key=lambda tag: (tag.tag_top, tag.tag_x))):
            assert one.tag_top != other.tag_top or one.tag_x + one.tag_width < other.tag_x


def test_a_box_of_eight_times_the_litres_is_twice_as_wide() -> None:
    (row,) = strips([Standing(box=box(litres=litres)) for litres in (1.5, 12.0)])
    small, large = row.boxes
    assert large.width / small.width == pytest.approx(2, rel=0.02)  # drawn to a tenth of a unit


def test_the_more_it_presses_the_further_forward_it_stands() -> None:
    told: list[tuple[State, str]] = [("later", ""), ("due", ""), ("late", tag_of("leaf_litter"))]
    (row,) = strips([Standing(box=box(litres=3.0), state=state, tag=tag) for state, tag in told])
    floors = [one.floor for one in row.boxes]
    assert floors == sorted(floors)
    assert len(set(floors)) == 3
    assert [one.tag for one in row.boxes] == ["", "", "leaves"]
    assert [one.forward for one in row.boxes] == [False, True, True]


def test_what_is_not_told_is_drawn_so() -> None:
    apart = box(quarantine=Quarantine("2026-11-01", None, "new"), litres=3.0)
    spare = box("A02")
    spare.colony = ""
    (row,) = strips([Standing(box=apart), Standing(box=spare)])
    assert row.boxes[0].tag == "set apart"
    assert (row.boxes[1].sketch, row.boxes[1].spare) == (True, True)


def test_an_empty_shelf_has_no_strip() -> None:
    assert strips([]) == []


def test_a_plan_is_to_scale() -> None:
    vents = (Vent(count=6, size_mm=4, place="lid"),)
    drawn = plan(box(length_cm=40.0, width_cm=20.0, damp_share=0.25, vents=vents))
    unit = drawn.bar / 10
    assert drawn.length / drawn.width == pytest.approx(2, abs=0.01)
    assert drawn.length == pytest.approx(40 * unit, abs=0.1)  # drawn to a tenth of a unit
    assert drawn.damp == pytest.approx(drawn.length / 4, abs=0.1)
    assert len(drawn.holes) == 6
    assert drawn.holes[0].r * 2 == pytest.approx(0.4 * unit, abs=0.02)


@given(
    length=st.floats(5, 200), width=st.floats(5, 200), number=st.integers(1, 400),
)  # fmt: skip
def test_vents_lie_within_the_lid(length: float, width: float, number: int) -> None:
    drawn = plan(
        box(length_cm=length, width_cm=width, vents=(Vent(count=number, size_mm=1, place="lid"),))
    )
    assert len(drawn.holes) == number
    for hole in drawn.holes:
        assert drawn.left <= hole.x <= drawn.left + drawn.length + 0.1
        assert drawn.top <= hole.y <= drawn.top + drawn.width + 0.1


LID = (Vent(count=4, size_mm=4, place="lid"),)


@pytest.mark.parametrize(
    ("made", "scaled"),
    [
        (box(litres=3.0, vents=LID), False),
        (box(length_cm=30.0, vents=LID), False),
        (box(length_cm=30.0, width_cm=20.0, vents=(Vent(count=4, size_mm=4, place="side"),)), True),
        (box(length_cm=30.0, width_cm=20.0, vents=(Vent(count=4, place="lid"),)), True),
    ],
)
def test_nothing_is_made_up(made: Box, scaled: bool) -> None:  # noqa: FBT001
    drawn = plan(made)
    assert drawn.holes == ()
    assert (drawn.bar > 0) == scaled
    assert drawn.damp is None
