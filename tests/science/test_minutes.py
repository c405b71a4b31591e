"""Minutes learned from evenings: against plain least squares, and against the truth they were
drawn from."""

import numpy as np
import pytest

from mancary.science.minutes import learned_minutes

PRIOR = np.array([0.3, 0.3, 1.5, 20.0])
SPREAD = np.array([0.1, 0.1, 0.5, 6.0])


def evenings(count: int, seed: int, truth: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    chance = np.random.default_rng(seed)
    counts = chance.integers([20, 5, 0, 0], [60, 40, 10, 3], (count, 4)).astype(float)
    return counts, counts @ truth + chance.normal(0, 4, count)


def test_with_a_vague_prior_it_is_plain_least_squares() -> None:
    """numpy's own least squares as the reference; the prior's weight is a millionth."""
    counts, minutes = evenings(40, 1, np.array([0.4, 0.5, 1.2, 18.0]))
    found = learned_minutes(counts, minutes, PRIOR, SPREAD * 1e4, 4.0)
    reference = np.linalg.lstsq(counts, minutes, rcond=None)[0]
    np.testing.assert_allclose(found.estimate, reference, rtol=1e-4)
    assert not np.allclose(
        learned_minutes(counts, minutes, PRIOR, SPREAD, 4.0).estimate, reference, rtol=1e-4
    )


def test_without_evenings_the_prior_and_its_range_stand() -> None:
    found = learned_minutes(np.zeros((0, 4)), np.zeros(0), PRIOR, SPREAD, 4.0)
    np.testing.assert_allclose(found.estimate, PRIOR)
    np.testing.assert_allclose(found.high - PRIOR, 1.6449 * SPREAD, rtol=1e-3)


def test_no_work_takes_less_than_nothing() -> None:
    counts, _ = evenings(10, 2, PRIOR)
    found = learned_minutes(counts, np.zeros(10), PRIOR, SPREAD, 4.0)
    assert (found.estimate >= 0).all()
    assert (found.low >= 0).all()


def test_ranges_hold_about_nine_truths_in_ten() -> None:
    """Truths drawn from the prior itself: of 4 x 300 ranges 85-95 % hold theirs; the binomial
    spread of that share is under one per cent."""
    chance = np.random.default_rng(7)
    held = []
    for seed in range(300):
        truth = chance.normal(PRIOR, SPREAD)
        counts, minutes = evenings(12, seed, truth)
        found = learned_minutes(counts, minutes, PRIOR, SPREAD, 4.0)
        held.append((found.low <= truth) & (truth <= found.high))
    assert 0.85 <= np.mean(held) <= 0.95


def test_a_spread_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above zero"):
        learned_minutes(np.zeros((1, 4)), np.zeros(1), PRIOR, SPREAD, 0.0)
