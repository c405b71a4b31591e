"""The quick draws against the exact distributions they stand for."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from mancary.science.stage_draws import NORMAL_FROM, binomial, broods, draw_rates
from mancary.science.stage_rates import Traits
from tests.science.growing import TRAITS

DRAWS = 1_000_000
NOISE = 1.95 / np.sqrt(DRAWS)
"""Greatest distance of an empirical distribution from its own: exceeded once in a thousand."""
OFF = 0.002
"""What the draws promise."""

Cumulated = NDArray[np.float64]


def drawn(number: int, share: float, seed: int = 1) -> NDArray[np.float32]:
    count = np.full((1, DRAWS), number, dtype=np.float32)
    shares = np.full((1, DRAWS), share)
    chance = np.random.default_rng(seed)
    return np.asarray(binomial(count, shares, chance, np.zeros(1, dtype=np.intp))[0])


def distance(found: NDArray[np.float32], exact: Cumulated) -> float:
    many = np.bincount(found.astype(int), minlength=len(exact))[: len(exact)]
    return float(np.abs(np.cumsum(many) / len(found) - exact).max())


@pytest.mark.parametrize(
    ("number", "share"),
    [
        (1, 0.3), (3, 0.02), (7, 0.5), (12, 0.31), (15, 0.93), (40, 0.1), (41, 0.1), (90, 0.045),
        (20, 0.45), (60, 0.88), (200, 0.021), (1000, 0.3), (100_000, 0.01), (5, 1.0), (5, 0.0),
    ],
)  # fmt: skip
def test_binomial_is_the_exact_one(number: int, share: float) -> None:
    exact = stats.binom.cdf(np.arange(number + 1), number, share)
    found = drawn(number, share)
    assert distance(found, exact) < OFF + NOISE
    assert found.min() >= 0
    assert found.max() <= number
    if 0 < share < 1:
        other = stats.binom.cdf(np.arange(number + 1), number, share + 0.02 * share * (1 - share))
        if number * share > 1:
            assert distance(found, other) > distance(found, exact)


def test_a_plain_rounded_normal_would_be_told_apart() -> None:
    """The sibling: just above `NORMAL_FROM` without skewness it is four times as far off."""
    number, share = 80, NORMAL_FROM * 1.05 / 80
    spread = np.sqrt(number * share * (1 - share))
    normal = np.random.default_rng(1).standard_normal(DRAWS)
    plain = np.clip(np.rint(number * share + spread * normal), 0, number).astype(np.float32)
    exact = stats.binom.cdf(np.arange(number + 1), number, share)
    assert distance(drawn(number, share), exact) < OFF + NOISE
    assert distance(plain, exact) > 4 * (OFF + NOISE)


@pytest.mark.parametrize(("number", "share"), [(30, 0.13), (31, 0.14), (200, 0.5), (8, 0.97)])
def test_mean_and_variance_are_kept(number: int, share: float) -> None:
    """Within four errors of the mean, and a hundredth of the variance: weeks add up."""
    found = drawn(number, share, seed=4).astype(float)
    variance = number * share * (1 - share)
    assert abs(found.mean() - number * share) < 4 * np.sqrt(variance / DRAWS) + 2e-3 * variance**0.5
    assert found.var() == pytest.approx(variance, rel=0.01)
    assert found.var() != pytest.approx(number * share, rel=0.01)


def test_each_stage_has_the_share_of_its_class() -> None:
    count = np.full((3, 200_000), 50.0, dtype=np.float32)
    shares = np.stack([np.full(200_000, 0.1), np.full(200_000, 0.8)])
    made = binomial(count, shares, np.random.default_rng(2), np.array([1, 0, 1]))
    assert made.mean(axis=1) == pytest.approx([40, 5, 40], rel=0.01)
    assert abs(np.asarray(np.corrcoef(made))[0, 2]) < 0.01


@pytest.mark.parametrize(
    ("released", "young"), [(1, 6.0), (1, 25.0), (3, 9.0), (20, 40.0), (2, 0.4)]
)
def test_broods_are_negative_binomial(released: int, young: float) -> None:
    """Several broods together: spread times as many, mean times as many."""
    spread = 8.0
    number = np.full(DRAWS, released, dtype=np.float32)
    mean = np.full(DRAWS, young, dtype=np.float32)
    found = broods(number, mean, spread, np.random.default_rng(3))
    top = int(found.max()) + 1
    exact = stats.nbinom.cdf(np.arange(top), spread * released, spread / (spread + young))
    assert distance(found, exact) < OFF + NOISE
    poisson = stats.poisson.cdf(np.arange(top), released * young)
    if young > 5:
        assert distance(found, poisson) > 10 * OFF
    assert found.mean() == pytest.approx(released * young, rel=0.005)


def test_no_brood_no_young() -> None:
    number = np.array([0, 0, 3], dtype=np.float32)
    young = np.array([5, 0, 0], dtype=np.float32)
    assert not broods(number, young, 8.0, np.random.default_rng(1)).any()


def test_rates_are_log_triangular_within_their_ends() -> None:
    rates = draw_rates(TRAITS, 100_000, np.random.default_rng(5))
    for name in Traits.__slots__:
        known, values = getattr(TRAITS, name), np.asarray(getattr(rates, name))
        assert values.min() >= known.low * (1 - 1e-12)
        assert values.max() <= known.high * (1 + 1e-12)
        if known.low < known.high:
            low, high = np.log(known.low), np.log(known.high)
            shape = stats.triang((np.log(known.mode) - low) / (high - low), low, high - low)
            assert stats.kstest(np.log(values[:20_000]), shape.cdf).pvalue > 1e-4
            even = stats.uniform(low, high - low)
            assert stats.kstest(np.log(values[:20_000]), even.cdf).pvalue < 1e-6
