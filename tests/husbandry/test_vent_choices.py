"""Choices of holes: they meet what is wanted, fit the box, and say what one row more would do."""

from bisect import bisect_left
from dataclasses import replace

import pytest

from mancary import handbook
from mancary.husbandry.box_air import Place, modelled
from mancary.husbandry.box_sketch import sketched
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.states import Box
from mancary.husbandry.vent_choices import (
    LAYOUTS,
    MOST_HOLES,
    Choice,
    Choices,
    Target,
    Tool,
    choices,
    drilled,
    given,
)
from mancary.science.sizing import Drilling, holes_for_air_changes

BOX = Box(
    "A01", "", length_cm=20, width_cm=12.5, height_cm=12, substrate_cm=4, litter_cm=0,
    damp_share=0.5, wall_mm=1.5,
)  # fmt: skip
ROOM = Place(22, 0.4)


def wanting(low: float, high: float) -> Target:
    return Target(measure="air_changes", low=low, high=high, said="", basis="")


def holes(found: Choices, layout: str, mm: float, mesh: str = "") -> Choice:
    return next(o for o in found.choices if (o.layout, o.mm, o.mesh) == (layout, mm, mesh))


def test_each_choice_meets_what_is_wanted_and_none_would_come_nearer() -> None:
    target = wanting(15, 45)
    found = choices(BOX, target, ROOM)
    assert {one.layout for one in found.choices} == set(LAYOUTS)
    for one in found.choices:
        step = 1 if one.layout == "lid" else 2
        tool = Tool(one.mm, one.mesh)
        assert one.meets == (target.low <= one.gives.air_changes <= target.high)
        off = _off(one.gives.air_changes, target)
        for other in (one.gives.holes - step, one.gives.holes + step):
            if other > 0:
                told = modelled(replace(BOX, vents=drilled(one.layout, other, tool)), ROOM)
                assert told
                assert off <= _off(told.air_changes_per_day, target) + 1e-9
    assert all(one.meets for one in found.choices if not one.mesh)


def _off(changes: float, target: Target) -> float:
    return max(changes / target.middle, target.middle / changes)


def test_smaller_drills_need_more_holes_and_one_row_more_takes_more_water() -> None:
    found = choices(BOX, wanting(15, 45), ROOM)
    for layout in LAYOUTS:
        counts = [holes(found, layout, mm).gives.holes for mm in (1, 2, 3, 4, 5)]
        assert counts == sorted(counts, reverse=True)
    for one in found.choices:
        if one.one_row_more:
            assert one.one_row_more.holes == one.gives.holes + one.row_holes
            assert one.one_row_more.ml_a_week > one.gives.ml_a_week
            assert one.one_row_more.dry_end_rh < one.gives.dry_end_rh
    assert sum(one.one_row_more is not None for one in found.choices) > 10


def test_a_wanted_number_of_millilitres_is_reached_as_well() -> None:
    target = Target(measure="ml_a_week", low=4, high=6.25, said="", basis="")
    found = choices(BOX, target, ROOM, (3.0,))
    one = holes(found, "lid", 3)
    assert one.meets
    assert 4 <= one.gives.ml_a_week <= 6.25
    assert one.gives.ml_a_week == pytest.approx(one.gives.g_a_day * 7 / 0.998)


def test_what_cannot_be_drilled_is_left_out_with_the_reason() -> None:
    airy = choices(replace(BOX, length_cm=40, width_cm=30, height_cm=20), wanting(45, 130), ROOM)
    assert any("more than anybody drills" in line for line in airy.left_out)
    assert any("all that fit" in line for line in airy.left_out)
    assert all(one.gives.holes <= MOST_HOLES for one in airy.choices)
    tight = choices(BOX, wanting(0.5, 1), ROOM, (10.0,))
    assert any("one is too much air already" in line for line in tight.left_out)
    assert all(one.mm != 10 for one in tight.choices)


def test_holes_stand_three_diameters_apart_so_no_choice_is_crowded() -> None:
    for target in (wanting(15, 45), wanting(45, 130), wanting(130, 400)):
        for one in choices(BOX, target, ROOM).choices:
            assert not [line for line in one.gives.limits if "nearer" in line], one


def test_every_number_has_its_range() -> None:
    one = holes(choices(BOX, wanting(15, 45), ROOM), "lid", 3)
    gives = one.gives
    assert gives.g_a_day_low < gives.g_a_day < gives.g_a_day_high
    assert gives.ml_a_week_low < gives.ml_a_week < gives.ml_a_week_high
    assert gives.air_changes_low < gives.air_changes < gives.air_changes_high
    assert gives.damp_end_rh_low < gives.damp_end_rh < gives.damp_end_rh_high
    assert gives.dry_end_rh_low < gives.dry_end_rh < gives.dry_end_rh_high


def test_the_number_of_holes_is_that_of_the_sums_for_sizing_in_still_air() -> None:
    """Within one hole: a count here is whole, and the air of a cupboard hardly moves."""
    for mm in (2.0, 3.0, 4.0):
        one = holes(choices(BOX, wanting(15, 45), Place(22, 0.4, "cupboard"), (mm,)), "lid", mm)
        drilling = Drilling(
            temp_c=22, rh_outside=0.4, length_m=0.2, width_m=0.125, headspace_m=0.08,
            damp_share=0.5, diameter_m=mm / 1000, wall_m=0.0015,
            spacing_m=(0.2 * 0.125 / one.gives.holes) ** 0.5,
        )  # fmt: skip
        count = holes_for_air_changes(wanted_per_day=one.gives.air_changes, drilling=drilling)
        assert count == pytest.approx(one.gives.holes, abs=1)
        more = holes_for_air_changes(wanted_per_day=1.3 * one.gives.air_changes, drilling=drilling)
        assert more != pytest.approx(one.gives.holes, abs=1)


def test_a_box_of_no_size_has_no_choices() -> None:
    assert choices(Box("A01", ""), wanting(15, 45), ROOM) == Choices(choices=(), left_out=())


def test_the_air_of_a_small_box_differs_little_between_its_ends() -> None:
    """2-8 points for 10-40 still lid holes: the model's specification, section 0 (computed)."""
    for count in (10, 20, 40):
        told = modelled(
            replace(BOX, vents=drilled("lid", count, Tool(3))), Place(22, 0.4, "cupboard")
        )
        assert told
        assert 0.02 <= told.rh_damp - told.rh_dry <= 0.085


@pytest.mark.parametrize("litres", [3.0, 6.0, 12.0])
@pytest.mark.parametrize("name", ["low", "medium", "high"])
def test_the_water_of_a_class_is_what_its_air_changes_take(litres: float, name: str) -> None:
    """Within a fifth, since boxes differ in shape and the classes are round figures."""
    box = Box("A01", "", litres=litres)
    sketch, room = sketched(box), handbook.ventilation_room()
    assert sketch
    air_litres = sketch.length_m * sketch.width_m * sketch.headspace_m * 1000
    told = handbook.ventilations()[name]
    place = Place(room.temp_c, room.humidity)
    for changes, ml in (
        (told.air_changes_low, told.ml_a_week_low),
        (told.air_changes_high, told.ml_a_week_high),
    ):
        count = bisect_left(range(1, 700), changes, key=lambda n: _changes(box, n, place)) + 1
        gives = modelled(replace(box, vents=drilled("lid", count, Tool(3))), place)
        assert gives
        water = given(gives, count).ml_a_week / air_litres * changes / gives.air_changes_per_day
        assert water == pytest.approx(ml, rel=0.2), (changes, count)


def _changes(box: Box, count: int, place: Place) -> float:
    told = modelled(replace(box, vents=drilled("lid", count, Tool(3))), place)
    assert told
    return told.air_changes_per_day


@pytest.mark.parametrize("low", [0.0, 1e-320, 1e-9])
def test_nothing_wanted_is_asked_about(low: float) -> None:
    with pytest.raises(Refusal, match=r"a figure of 0.001 or more"):
        choices(BOX, wanting(low, 10), ROOM)
    assert choices(BOX, wanting(0.001, 10), ROOM).choices
