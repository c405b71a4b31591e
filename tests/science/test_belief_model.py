"""A week's chances on the grid: rows, mean, scatter, and growing regimes that reach a species."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import beta

from mancary.science.belief_model import (
    TOP,
    BeliefModel,
    axes,
    class_weights,
    normal_below,
    share_weights,
    sizes,
    transition,
    with_top,
)
from mancary.science.validity import OutsideValidity

QUIET = replace(BeliefModel(), die_off=0.0)


def moments(model: BeliefModel, regime: int, cell: int) -> tuple[float, float]:
    """Mean and variance of the step in ln N from one living cell, none gone."""
    row = transition(model)[regime, cell, 1:].astype(float)
    gone_by = np.linspace(0.0, TOP, len(row)) - np.log(sizes(model.shape[2])[cell])
    mean = float(row @ gone_by / row.sum())
    return mean, float(row @ (gone_by - mean) ** 2 / row.sum())


def owed(model: BeliefModel, regime: int, cell: int) -> float:
    """The variance promised: noise and the luck of animals, or what splitting alone adds."""
    stated = model.noise_sd**2 + model.demographic_sd**2 / sizes(model.shape[2])[cell]
    part = (model.regimes[regime] / model.step) % 1.0
    return max(float(stated), part * (1 - part) * model.step**2)


def test_the_weeks_chances_sum_to_one_and_the_gone_stay_gone() -> None:
    kernel = transition(BeliefModel())
    assert kernel.min() >= 0
    # float32 carries seven figures, and a row adds up to 69 of them
    assert np.abs(kernel.sum(axis=2, dtype=float) - 1).max() < 1e-5
    assert (kernel[:, 0, 0] == 1).all()


MIDDLE = st.integers(18, 58)
"""Cells of 9 to 1,600 animals: four deviations from either end of the grid."""


@given(st.floats(-0.25, 0.2), MIDDLE)
@settings(max_examples=25, deadline=None)
def test_the_mean_moves_by_the_growth_and_strays_as_stated(growth: float, cell: int) -> None:
    """1e-4 a week is a tenth of the slowest regime over a year; 3 % of variance, 1.5 % of sd."""
    model = replace(QUIET, regimes=(growth,), regime_weights=(1.0,))
    mean, var = moments(model, 0, cell)
    assert mean == pytest.approx(growth, abs=1e-4)
    assert var == pytest.approx(owed(model, 0, cell), rel=0.03)


def test_cells_that_were_not_allowed_for_would_be_found_out() -> None:
    model = replace(QUIET, regimes=(0.0,), regime_weights=(1.0,))
    mean, var = moments(model, 0, 30)
    careless = owed(model, 0, 30) + model.step**2 / 6
    assert var != pytest.approx(careless, rel=0.03)
    assert mean != pytest.approx(0.001, abs=1e-4)


def test_a_finer_grid_brings_the_stated_noise_to_every_regime() -> None:
    fine = replace(QUIET, step=0.039)
    for regime, growth in enumerate(fine.regimes):
        mean, var = moments(fine, regime, 120)
        assert mean == pytest.approx(growth, abs=1e-4)
        lucky = fine.demographic_sd**2 / sizes(fine.shape[2])[120]
        assert var == pytest.approx(0.05**2 + lucky, rel=0.03)


def test_a_die_off_takes_a_large_part_with_its_stated_chance() -> None:
    model = replace(BeliefModel(), regimes=(0.0,), regime_weights=(1.0,), noise_sd=0.01)
    model = replace(model, demographic_sd=0.0, die_off=0.1)
    row = transition(model)[0, 50, 1:].astype(float)
    left = np.exp(np.linspace(0.0, TOP, len(row)) - np.log(sizes(model.shape[2])[50]))
    assert row[left < 0.8].sum() == pytest.approx(0.1, abs=0.005)
    # one in ten is a collapse to 0.001 to 0.1, even in the logarithm; a cell is 13 % wide
    assert row[left < 0.085].sum() == pytest.approx(0.01, rel=0.12)
    assert row[left < 0.0095].sum() == pytest.approx(0.005, rel=0.12)
    mean = 0.9 * 0.4 + 0.1 * (0.1 - 0.001) / np.log(100)
    assert row[left < 0.8] @ left[left < 0.8] / 0.1 == pytest.approx(mean, rel=0.03)


def test_sizes_are_even_in_the_logarithm_and_cannot_be_written_on() -> None:
    told = sizes(68)
    assert told[0] == 0
    assert told[1] == 1
    assert np.diff(np.log(told[1:])) == pytest.approx(0.13)
    with pytest.raises(ValueError, match="read-only"):
        told[1] = 2
    with pytest.raises(ValueError, match="read-only"):
        transition(BeliefModel())[0, 0, 0] = 0


def test_weights_of_shares_are_those_of_a_beta() -> None:
    at = (0.03, 0.06, 0.10, 0.16, 0.25, 0.38, 0.55)
    edges = np.concatenate([[0], np.sqrt(np.array(at[1:]) * at[:-1]), [1]])
    assert share_weights(at) == pytest.approx(np.diff(beta.cdf(edges, 2, 7.5)))
    assert share_weights(at) != pytest.approx(np.diff(beta.cdf(edges, 2, 8.5)), rel=0.01)
    assert sum(class_weights(share_weights(at), (0.3, 0.7))) == pytest.approx(1)


def test_detection_runs_slowest_in_the_classes() -> None:
    model = replace(
        BeliefModel(), detection=(0.1, 0.2), dispersion=(1.0, 8.0), class_weights=(0.25,) * 4
    )
    assert axes(model).detection.ravel().tolist() == [0.1, 0.1, 0.2, 0.2]
    assert axes(model).dispersion.ravel().tolist() == [1.0, 8.0, 1.0, 8.0]


def test_the_top_follows_the_species_and_the_falling_regimes_stay() -> None:
    first = BeliefModel()
    fast = with_top(first, 0.12)
    assert fast.regimes[-3:] == pytest.approx((0.024, 0.06, 0.12))
    assert fast.regimes[:4] == first.regimes[:4]
    assert fast.regime_weights == first.regime_weights
    assert with_top(fast, 0.02).regimes[-3:] == pytest.approx((0.004, 0.01, 0.02))


def test_a_top_without_three_growing_regimes_is_refused() -> None:
    few = replace(BeliefModel(), regimes=(-0.1, 0.05), regime_weights=(0.5, 0.5))
    with pytest.raises(ValueError, match="growing regimes"):
        with_top(few, 0.1)
    for best in (0.001, 0.6):
        with pytest.raises(OutsideValidity):
            with_top(BeliefModel(), best)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"regime_weights": (1.0,)}, "regimes"),
        ({"regime_weights": (0.5, 0.5, 0, 0, 0, 0, 0.5)}, "sum to 1"),
        ({"class_weights": (1.0,)}, "classes"),
        ({"step": 0.14}, "divide"),
        ({"switch": 1.5}, "switch"),
        ({"die_off": -0.1}, "die_off"),
        ({"noise_sd": 0.0}, "noise_sd"),
    ],
)
def test_a_model_that_makes_no_sense_is_refused(wrong: dict[str, float], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        replace(BeliefModel(), **wrong)  # type: ignore[arg-type]


def test_the_normal_distribution_is_the_usual_one() -> None:
    told = normal_below(np.array([-40.0, -1.959964, 0.0, 1.959964, 40.0]))
    assert told == pytest.approx([0, 0.025, 0.5, 0.975, 1], abs=1e-7)
