"""Openings: limits, order, crowding against a matrix of point sources, mesh, seam, refusals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.science.air import vapour_diffusivity_m2_s
from mancary.science.validity import OutsideValidity
from mancary.science.vents import (
    approach_resistance_s_m3,
    crowding,
    end_length,
    group_conductance_m3_s,
    hole_conductance_m3_s,
    mesh_conductance_m3_s,
    mesh_row,
    seam_conductance_m3_s,
)

D = float(vapour_diffusivity_m2_s(temp_c=22.0))

diameters = st.floats(0.001, 0.010)
walls = st.floats(0.0, 0.004)
counts = st.integers(1, 200)
spacings = st.floats(3.0, 20.0)
films = st.floats(0.001, 1.0) | st.just(math.inf)


def hole(diameter_m: float, wall_m: float) -> float:
    return float(hole_conductance_m3_s(diameter_m=diameter_m, wall_m=wall_m, temp_c=22.0))


def group(
    count: float, diameter_m: float, wall_m: float, apart: float, film_m: float = math.inf
) -> float:
    return float(
        group_conductance_m3_s(
            count=count,
            diameter_m=diameter_m,
            wall_m=wall_m,
            spacing_m=apart * diameter_m,
            temp_c=22.0,
            film_m=film_m,
        )
    )


@given(diameters, walls, walls)
def test_a_thicker_wall_lets_less_through(diameter: float, one: float, other: float) -> None:
    thin, thick = sorted((one, other))
    assert hole(diameter, thin) >= hole(diameter, thick)


@given(diameters, diameters, walls)
def test_a_wider_hole_lets_more_through(one: float, other: float, wall: float) -> None:
    narrow, wide = sorted((one, other))
    assert hole(narrow, wall) <= hole(wide, wall)


@given(diameters, walls)
def test_a_hole_lies_between_its_two_limits(diameter: float, wall: float) -> None:
    """Never more than the orifice alone, nor than the tube alone; never less than both in a row
    with the longest end correction."""
    a = diameter / 2
    tube = D * math.pi * a**2 / wall if wall else math.inf
    assert hole(diameter, wall) <= min(2 * D * a, tube) * (1 + 1e-12)
    assert hole(diameter, wall) >= D * math.pi * a**2 / (wall + 2 * 0.82168 * a) * (1 - 1e-12)


def test_a_long_tube_forgets_its_ends() -> None:
    """Ends of 0.8 a each in 1000 a: 0.16 %."""
    tube = D * math.pi * 5e-5**2 / 0.05
    assert hole(1e-4, 0.05) == pytest.approx(tube, rel=2e-3, abs=0)
    assert hole(1e-4, 0.005) != pytest.approx(10 * tube, rel=2e-3, abs=0)


@given(st.floats(0, 100), st.floats(0, 100))
def test_the_end_grows_from_thin_to_thick(one: float, other: float) -> None:
    thin, thick = sorted((one, other))
    lengths = [float(end_length(wall_over_radius=ratio)) for ratio in (thin, thick)]
    assert math.pi / 4 <= lengths[0] <= lengths[1] <= 0.82168


@given(diameters, walls, spacings, films)
def test_one_hole_stands_alone(diameter: float, wall: float, apart: float, film: float) -> None:
    assert group(1, diameter, wall, apart, film) == pytest.approx(
        hole(diameter, wall), rel=1e-12, abs=0
    )


@given(counts, diameters, walls, spacings, films)
def test_a_group_is_never_more_than_its_holes(
    count: int, diameter: float, wall: float, apart: float, film: float
) -> None:
    together = group(count, diameter, wall, apart, film)
    assert together <= count * hole(diameter, wall) * (1 + 1e-12)
    assert together >= hole(diameter, wall) * (1 - 1e-12)


@given(counts, diameters, walls, spacings, films)
def test_one_hole_more_lets_more_through(
    count: int, diameter: float, wall: float, apart: float, film: float
) -> None:
    fewer, more = (group(n, diameter, wall, apart, film) for n in (count, count + 1))
    assert more > fewer


@given(counts, diameters, walls, spacings, spacings, films)
def test_wider_apart_they_hinder_each_other_less(
    count: int, diameter: float, wall: float, one: float, other: float, film: float
) -> None:
    near, far = sorted((one, other))
    assert group(count, diameter, wall, near, film) <= group(count, diameter, wall, far, film) * (
        1 + 1e-12
    )


@given(counts, diameters, walls, spacings, st.floats(0.001, 0.5))
def test_moving_room_air_helps(
    count: int, diameter: float, wall: float, apart: float, film: float
) -> None:
    still = group(count, diameter, wall, apart)
    assert still <= group(count, diameter, wall, apart, film) * (1 + 1e-12)


def matrix_of_points(side: int, diameter: float, wall: float, spacing: float) -> float:
    """Each hole is a point source for all others in the half space outside: q/(2 pi D s)."""
    x, y = np.meshgrid(np.arange(side), np.arange(side))
    places = spacing * np.column_stack([x.ravel(), y.ravel()])
    apart = np.linalg.norm(places[:, None] - places[None], axis=2)
    np.fill_diagonal(apart, 1.0)
    hindering = 1 / (2 * math.pi * D * apart)
    np.fill_diagonal(hindering, 1 / hole(diameter, wall))
    return float(np.linalg.solve(hindering, np.ones(side**2)).sum())


@pytest.mark.parametrize("side", [3, 4, 5, 6])
@pytest.mark.parametrize("apart", [3.0, 5.0, 8.0, 13.0])
def test_a_group_against_a_matrix_of_points(side: int, apart: float) -> None:
    """An independent sum, still air, 3 mm through 1.5 mm: stated to agree within 0.6 % for 9-36
    holes 3-13 diameters apart. Without crowding it would be 4-40 % off."""
    reference = matrix_of_points(side, 0.003, 0.0015, apart * 0.003)
    together = group(side**2, 0.003, 0.0015, apart)
    assert together == pytest.approx(reference, rel=0.006, abs=0)
    assert side**2 * hole(0.003, 0.0015) != pytest.approx(reference, rel=0.006, abs=0)
    assert together * 1.013 != pytest.approx(reference, rel=0.006, abs=0)


def test_no_hole_lets_nothing_out() -> None:
    assert group(0, 0.003, 0.0015, 8.0) == 0.0


def test_boxes_are_reckoned_in_one_call() -> None:
    many = np.asarray(
        group_conductance_m3_s(
            count=np.array([0.0, 1.0, 10.0, 40.0]),
            diameter_m=np.array([0.003, 0.003, 0.003, 0.005]),
            wall_m=0.0015,
            spacing_m=np.array([0.0, 0.001, 0.025, 0.02])[:, None].T + 1e-6,
            temp_c=np.array([[20.0], [22.0]]),
            film_m=math.inf,
        )
    )
    assert many.shape == (2, 4)
    assert many[1, 2] == pytest.approx(group(10, 0.003, 0.0015, 0.025001 / 0.003), rel=1e-12, abs=0)
    assert (many[1] >= many[0]).all()
    assert type(hole_conductance_m3_s(diameter_m=0.003, wall_m=0.001, temp_c=22)) is float


def mesh(
    open_fraction: float, aperture_m: float, outside_m_s: float = 0.0, across: float = 0.05
) -> float:
    return float(
        mesh_conductance_m3_s(
            diameter_m=across,
            open_fraction=open_fraction,
            aperture_m=aperture_m,
            thickness_m=aperture_m * 0.7,
            temp_c=22.0,
            outside_m_s=outside_m_s,
        )
    )


def test_a_mesh_has_the_openings_of_its_open_area() -> None:
    row = mesh_row(diameter_m=0.05, open_fraction=0.36, aperture_m=3e-4, thickness_m=2e-4)
    area = float(row.count) * math.pi * float(row.diameter_m) ** 2 / 4
    assert area == pytest.approx(0.36 * math.pi * 0.025**2)


@given(st.floats(0.05, 0.7), st.floats(0.05, 0.7), st.floats(1e-4, 3e-3), st.floats(0, 0.05))
def test_a_mesh_lets_less_through_than_the_open_window(
    one: float, other: float, aperture: float, outside: float
) -> None:
    """The more open the more; and never as much as the air around the bare window alone."""
    close, loose = (mesh(share, aperture, outside) for share in sorted((one, other)))
    k = max(4 * D / (math.pi * 0.025), outside)
    bare = 1 / (1 / (k * math.pi * 0.025**2) + 1 / (4 * D * 0.025))
    assert close <= loose * (1 + 1e-12)
    assert loose < bare


@pytest.mark.parametrize("share", [0.05, 0.36, 0.64])
def test_a_mesh_without_thickness_is_its_openings_and_the_air_around(share: float) -> None:
    """Put together again from single holes without wall, their ends shortened by crowding."""
    row = mesh_row(diameter_m=0.05, open_fraction=share, aperture_m=1e-3, thickness_m=0.0)
    openings = float(row.count) * hole(float(row.diameter_m), 0.0)
    openings /= float(crowding(open_fraction=share))
    around = 1 / (4 * D * 0.025) + 1 / (0.003 * math.pi * 0.025**2)
    ours = mesh_conductance_m3_s(
        diameter_m=0.05,
        open_fraction=share,
        aperture_m=1e-3,
        thickness_m=0.0,
        temp_c=22.0,
        outside_m_s=0.003,
    )
    assert ours == pytest.approx(1 / (1 / openings + around), rel=1e-12, abs=0)


def test_a_thick_mesh_is_air_in_its_share_of_the_window() -> None:
    """5 mm of 0.1 mm openings: the ends are 1 % of the way. Resistances in series."""
    ours = mesh_conductance_m3_s(
        diameter_m=0.05, open_fraction=0.36, aperture_m=1e-4, thickness_m=0.005, temp_c=22.0
    )
    window = math.pi * 0.025**2
    way = 0.005 / (D * 0.36 * window) + 1 / (4 * D * 0.025) + math.pi * 0.025 / (4 * D * window)
    assert ours == pytest.approx(1 / way, rel=5e-3, abs=0)
    assert ours != pytest.approx(2 / way, rel=5e-3, abs=0)


def test_room_air_over_a_mesh_helps() -> None:
    assert mesh(0.36, 3e-4, 0.003) > 1.2 * mesh(0.36, 3e-4)
    assert mesh(0.36, 3e-4, 1e-6) == mesh(0.36, 3e-4)


@given(st.floats(0.1, 5), st.floats(0, 0.002), st.floats(0.001, 0.1))
def test_a_seam_goes_with_its_gap(perimeter: float, gap: float, depth: float) -> None:
    ours = seam_conductance_m3_s(perimeter_m=perimeter, gap_m=gap, depth_m=depth, temp_c=22.0)
    assert ours == pytest.approx(D * perimeter * gap / depth, rel=1e-12, abs=0)


def test_the_way_to_the_vents() -> None:
    """H/(3 D l W): 8 cm over 20 x 12.5 cm hold back 1 % of what twenty holes do."""
    way = float(
        approach_resistance_s_m3(headspace_m=0.08, length_m=0.2, width_m=0.125, temp_c=22.0)
    )
    assert way == pytest.approx(0.08 / (3 * D * 0.025))
    assert way * 20 * hole(0.003, 0.0015) == pytest.approx(0.0380, abs=5e-4)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"diameter_m": 3.0}, "diameter_m is 3; it must lie between 5e-05 and 0.06"),
        ({"diameter_m": 0.0}, "diameter_m"),
        ({"wall_m": -0.001}, "wall_m"),
        ({"wall_m": 1.5}, "wall_m is 1.5; it must lie between 0 and 0.05"),
        ({"temp_c": 295.0}, "temp_c"),
        ({"pressure_pa": 1013.25}, "pressure_pa"),
        ({"spacing_m": 0.008}, "spacing_m is 0.008; it must lie between 0.009 and 10"),
        ({"count": -1}, "count"),
        ({"film_m": 0.0}, "film_m is 0; it must lie between 0.001 and inf"),
    ],
)
def test_outside_its_range_a_group_is_refused(wrong: dict[str, float], said: str) -> None:
    right = {"count": 9, "diameter_m": 0.003, "wall_m": 0.0015, "spacing_m": 0.009, "temp_c": 22.0}
    assert group_conductance_m3_s(**right) > 0
    with pytest.raises(OutsideValidity, match=said):
        group_conductance_m3_s(**(right | wrong))


def test_outside_its_range_a_mesh_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="open_fraction is 36"):
        mesh(36.0, 3e-4)
    with pytest.raises(OutsideValidity, match="aperture_m"):
        mesh(0.36, 0.3)
    with pytest.raises(OutsideValidity, match="diameter_m"):
        mesh(0.36, 3e-4, across=0.5)
