"""Sizing is the model turned round: what is drilled gives what was wanted."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mancary.science.box import air_and_loss
from mancary.science.sizing import (
    GRAMS_A_ML,
    Drilling,
    drilled,
    holes_for_air_changes,
    holes_for_damp_rh,
    holes_for_loss,
    vents_for_damp_rh_m3_s,
)
from mancary.science.validity import OutsideValidity
from mancary.science.vents import hole_conductance_m3_s

SMALL = Drilling(
    temp_c=22.0,
    rh_outside=0.4,
    length_m=0.2,
    width_m=0.125,
    headspace_m=0.08,
    damp_share=0.5,
    diameter_m=0.003,
    wall_m=0.0015,
    spacing_m=0.025,
)

drillings = st.builds(
    Drilling,
    temp_c=st.floats(12, 30),
    rh_outside=st.floats(0.1, 0.8),
    length_m=st.floats(0.12, 0.5),
    width_m=st.floats(0.1, 0.35),
    headspace_m=st.floats(0.03, 0.2),
    damp_share=st.floats(0.2, 0.8),
    diameter_m=st.floats(0.001, 0.006),
    wall_m=st.floats(0.0005, 0.004),
    spacing_m=st.floats(0.02, 0.04),
    holes_damp_share=st.floats(0.0, 1.0),
)
# fifty halvings leave 1e-14 of a count; the rest is rounding in the model
EXACT = 1e-9


@settings(max_examples=40)
@given(drillings, st.floats(1, 200))
def test_sizing_finds_the_holes_the_model_was_given(drilling: Drilling, holes: float) -> None:
    air = drilled(count=holes, drilling=drilling)
    found = [
        holes_for_damp_rh(wanted_rh=air.rh_damp, drilling=drilling),
        holes_for_air_changes(wanted_per_day=air.air_changes_per_day, drilling=drilling),
        holes_for_loss(
            wanted_ml_per_week=air.loss_g_per_day * 7 / GRAMS_A_ML, drilling=drilling
        ),
    ]  # fmt: skip
    # a humidity near one carries few digits of the small difference that the holes make
    assert found == pytest.approx([holes] * 3, rel=1e-6)


def test_the_holes_found_give_what_was_wanted() -> None:
    for wanted in (0.85, 0.93, 0.98):
        holes = holes_for_damp_rh(wanted_rh=wanted, drilling=SMALL)
        assert drilled(count=holes, drilling=SMALL).rh_damp == pytest.approx(wanted, rel=EXACT)
    holes = holes_for_loss(wanted_ml_per_week=7.0, drilling=SMALL)
    grams = drilled(count=holes, drilling=SMALL).loss_g_per_day
    assert grams == pytest.approx(GRAMS_A_ML, rel=EXACT)


def test_the_inverse_would_notice_one_hole_in_a_hundred() -> None:
    holes = float(holes_for_damp_rh(wanted_rh=0.93, drilling=SMALL)) * 1.01
    assert drilled(count=holes, drilling=SMALL).rh_damp != pytest.approx(0.93, rel=EXACT)


def test_twenty_holes_of_the_check_box_come_back_from_its_printed_figures() -> None:
    """Computed by the model's prototype: 20 holes, 0.76 g/day and 37 air changes (printed).

    The loss moves by 0.036 g/day a hole, the air changes by 1.75: half a printed digit is less
    than a quarter and a third of a hole.
    """
    # water of 20 °C: 0.998 g/mL
    by_loss = holes_for_loss(wanted_ml_per_week=0.76 * 7 / 0.998, drilling=SMALL)
    by_air = holes_for_air_changes(wanted_per_day=37.0, drilling=SMALL)
    assert by_loss == pytest.approx(20, abs=0.25)
    assert by_air == pytest.approx(20, abs=0.34)
    assert holes_for_loss(wanted_ml_per_week=0.78 * 7, drilling=SMALL) != pytest.approx(
        20, abs=0.25
    )


def test_the_closed_form_is_exact_for_vents_seen_from_the_damp_end() -> None:
    still = air_and_loss(
        temp_c=22.0,
        rh_outside=0.4,
        length_m=0.2,
        width_m=0.125,
        headspace_m=0.08,
        damp_share=0.5,
        vents_damp_m3_s=5e-7,
        vents_dry_m3_s=3e-7,
    )
    asked = vents_for_damp_rh_m3_s(
        wanted_rh=still.rh_damp, rh_outside=0.4, surface_m3_s=still.surface_m3_s
    )
    assert asked == pytest.approx(still.vents_m3_s, rel=1e-9)


def test_equation_15_is_the_start_of_it_within_its_own_neglect() -> None:
    """One zone of lone holes, no headspace and no dry end to cross: it asks for fewer.

    The dry end's way and the headspace's take 9 % of the vents at 20 holes, crowding 2 % (computed
    from the model's own parts), so the holes must be 10-15 % more than equation 15 says.
    """
    air = drilled(count=20.0, drilling=SMALL)
    vents = vents_for_damp_rh_m3_s(
        wanted_rh=air.rh_damp, rh_outside=0.4, surface_m3_s=air.surface_m3_s
    )
    one = float(hole_conductance_m3_s(diameter_m=0.003, wall_m=0.0015, temp_c=22.0))
    assert 1.10 < 20 / (float(vents) / one) < 1.15


@pytest.mark.parametrize("rh", [0.4, 0.39, 0.0])
def test_no_holes_dry_a_box_below_its_room(rh: float) -> None:
    with pytest.raises(OutsideValidity, match="wanted_rh"):
        holes_for_damp_rh(wanted_rh=rh, drilling=SMALL)
    with pytest.raises(OutsideValidity, match="wanted_rh"):
        vents_for_damp_rh_m3_s(wanted_rh=rh, rh_outside=0.4, surface_m3_s=1e-5)


def test_what_no_holes_give_is_refused_with_what_they_can() -> None:
    with pytest.raises(OutsideValidity) as told:
        holes_for_damp_rh(wanted_rh=0.5, drilling=SMALL)
    assert told.value.low == pytest.approx(0.665, abs=0.001)
    with pytest.raises(OutsideValidity):
        holes_for_loss(wanted_ml_per_week=1000.0, drilling=SMALL)
    with pytest.raises(OutsideValidity):
        holes_for_air_changes(wanted_per_day=0.0, drilling=SMALL)


def test_wanting_more_means_drilling_more() -> None:
    losses = np.linspace(1, 20, 30)
    holes = holes_for_loss(wanted_ml_per_week=losses, drilling=SMALL)
    assert (np.diff(holes) > 0).all()
    damp = holes_for_damp_rh(wanted_rh=np.linspace(0.7, 0.99, 30), drilling=SMALL)
    assert (np.diff(damp) < 0).all()


def test_many_boxes_are_sized_in_one_call() -> None:
    rooms = replace(SMALL, rh_outside=np.array([0.3, 0.4, 0.5]))
    together = np.asarray(holes_for_loss(wanted_ml_per_week=5.0, drilling=rooms))
    alone = [
        holes_for_loss(wanted_ml_per_week=5.0, drilling=replace(SMALL, rh_outside=rh))
        for rh in (0.3, 0.4, 0.5)
    ]
    assert together == pytest.approx(alone, rel=1e-12)
    assert isinstance(alone[0], float)
