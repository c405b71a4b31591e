"""Stage matrices: what must hold for any, and what is refused."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from mancary.science.matrix import (
    elasticities,
    generation_time,
    growth_rate,
    net_reproduction,
    reproductive_values,
    stable_stages,
    sustainable_share,
)
from mancary.science.validity import OutsideValidity

Matrix = NDArray[np.float64]


@st.composite
def life(draw: st.DrawFn) -> tuple[Matrix, Matrix]:
    """A matrix in which each stage leads to the next and the last to the first, and its young."""
    stages = draw(st.integers(2, 6))
    shares = st.floats(0.05, 0.95)
    whole = np.zeros((stages, stages))
    for stage in range(stages):
        survive, stay = draw(shares), draw(shares)
        whole[stage, stage] = survive * stay
        if stage + 1 < stages:
            whole[stage + 1, stage] = survive * (1 - stay)
    young = np.zeros_like(whole)
    young[0, -1] = draw(st.floats(0.1, 40.0))
    return whole + young, young


@given(made=life())
def test_numbers_end_up_growing_so(made: tuple[Matrix, Matrix]) -> None:
    matrix, _ = made
    rate, stages, values = growth_rate(matrix), stable_stages(matrix), reproductive_values(matrix)
    assert matrix @ stages == pytest.approx(rate * stages, rel=1e-6, abs=1e-9)
    assert values @ matrix == pytest.approx(rate * values, rel=1e-6)
    assert stages.sum() == pytest.approx(1.0)
    assert values[0] == 1.0
    assert (stages >= 0).all()
    assert elasticities(matrix).sum() == pytest.approx(1.0, rel=1e-6)


@given(made=life(), factor=st.floats(1.01, 3.0))
def test_more_of_anything_grows_faster(made: tuple[Matrix, Matrix], factor: float) -> None:
    matrix, young = made
    assert growth_rate(matrix * factor) == pytest.approx(growth_rate(matrix) * factor, rel=1e-9)
    assert growth_rate(matrix + young) >= growth_rate(matrix)
    assert sustainable_share(matrix * factor) >= sustainable_share(matrix)
    assert 0.0 <= sustainable_share(matrix) < 1.0


@given(made=life())
def test_elasticity_is_a_slope(made: tuple[Matrix, Matrix]) -> None:
    """Against a small step of the one element of young, 1e-5 of it; the step errs as much."""
    matrix, young = made
    step = 1e-5
    slope = (growth_rate(matrix + step * young) - growth_rate(matrix - step * young)) / (
        2 * step * growth_rate(matrix)
    )
    assert elasticities(matrix)[0, -1] == pytest.approx(slope, abs=1e-5)


@given(made=life())
def test_growth_and_reproduction_agree(made: tuple[Matrix, Matrix]) -> None:
    matrix, young = made
    born, rate = net_reproduction(matrix, young), growth_rate(matrix)
    if abs(rate - 1) > 1e-6:
        assert (born > 1) == (rate > 1)
        assert generation_time(matrix, young) > 0
    assert net_reproduction(matrix + young, 2 * young) == pytest.approx(2 * born, rel=1e-9)


def test_what_may_go_holds_numbers() -> None:
    matrix = np.array([[0.2, 3.0], [0.4, 0.5]])
    share = sustainable_share(matrix)
    assert growth_rate((1 - share) * matrix) == pytest.approx(1.0)
    assert growth_rate((0.98 - share) * matrix) < 0.99
    assert sustainable_share([[0.9]]) == 0.0


def test_a_first_stage_past_breeding_has_no_value() -> None:
    """The old, listed first, add nothing; the breeders then have the value 1."""
    values = reproductive_values([[0.5, 0.3], [0.0, 1.2]])
    assert values == pytest.approx([0.0, 1.0])


@pytest.mark.parametrize("matrix", [[[0.5, -0.1], [0.2, 0.3]], [[math.nan]], [[math.inf]]])
def test_refused_elements(matrix: list[list[float]]) -> None:
    with pytest.raises(OutsideValidity):
        growth_rate(matrix)


@pytest.mark.parametrize(
    ("matrix", "why"),
    [
        ([[0.5, 0.1]], "square"),
        ([1.0, 2.0], "square"),
        (np.zeros((0, 0)), "square"),
        ([[0.0, 0.0], [0.7, 0.0]], "dies out"),
        ([[0.0, 0.3, 0.2], [0.0, 0.0, 0.6], [0.0, 0.0, 0.0]], "dies out"),
        (np.zeros((3, 3)), "dies out"),
    ],
)
def test_refused_matrices(matrix: Matrix, why: str) -> None:
    for sum_of in (growth_rate, stable_stages, sustainable_share, elasticities):
        with pytest.raises(ValueError, match=why):
            sum_of(matrix)


def test_two_lines_that_grow_alike_have_no_stable_stages() -> None:
    assert growth_rate(np.eye(2)) == 1.0
    with pytest.raises(ValueError, match="equally fast"):
        stable_stages(np.eye(2))


def test_refused_young() -> None:
    matrix = np.array([[0.2, 3.0], [0.4, 0.5]])
    with pytest.raises(OutsideValidity, match="fecundity"):
        net_reproduction(matrix, np.array([[0.0, 4.0], [0.0, 0.0]]))
    with pytest.raises(OutsideValidity, match="survival"):
        net_reproduction(matrix, np.zeros((2, 2)))
    with pytest.raises(ValueError, match="shape"):
        net_reproduction(matrix, [[1.0]])
    with pytest.raises(ValueError, match="never left"):
        net_reproduction([[0.0, 2.0], [0.5, 1.0]], [[0.0, 2.0], [0.0, 0.0]])
    with pytest.raises(ValueError, match="stand still"):
        generation_time([[0.0, 2.0], [0.5, 0.0]], [[0.0, 2.0], [0.0, 0.0]])
