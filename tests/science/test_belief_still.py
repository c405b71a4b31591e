"""Weeks in which a starter cannot grow yet, glances, and sights kept for many colonies."""

from dataclasses import replace

import numpy as np
import pytest

from mancary.science.belief import advance, believe, size, start
from mancary.science.belief_evidence import Glance, IndexCount
from mancary.science.belief_model import BeliefModel, sizes
from mancary.science.belief_state import History, Visit
from mancary.science.risk import p_below, p_fell

MODEL = BeliefModel()
SIZES = sizes(MODEL.shape[2])
BANDS = [(0, 0), (1, 9), (10, 49), (50, 199), (200, None)]


def test_a_starter_does_not_grow_before_it_can() -> None:
    begun = start(MODEL, (10, 10))
    still, free = (size(advance(begun, MODEL, 12, still=still)) for still in (12, 0))
    assert still.mid < free.mid
    # a week's own noise goes both ways: twelve weeks of it, 1.64 times sqrt(12 (0.05^2 + 0.3^2/10))
    assert still.high < 10 * np.exp(1.64 * np.sqrt(12 * (0.05**2 + 0.3**2 / 10)) + 0.13)


def test_once_over_the_still_weeks_leave_no_trace_in_the_way_of_going() -> None:
    begun = start(MODEL, (10, 10))
    by_parts = advance(advance(begun, MODEL, 8, still=8), MODEL, 5)
    at_once = advance(begun, MODEL, 13, still=8)
    # single precision, normed once or twice
    assert np.allclose(by_parts.shares, at_once.shares, atol=1e-7)
    assert not np.allclose(by_parts.shares, advance(begun, MODEL, 13).shares, atol=1e-7)


def test_a_colony_that_cannot_grow_is_more_at_risk() -> None:
    belief = start(MODEL, (8, 8))
    assert p_below(belief, MODEL, still=12) > p_below(belief, MODEL, still=0) + 0.02
    assert p_below(belief, MODEL, still=40) == p_below(belief, MODEL, still=12)


def test_that_it_fell_is_reckoned_with_the_still_weeks() -> None:
    visits = (Visit(week=10, evidence=(IndexCount(4),)),)
    free = History(visits=visits, week=16, founders=(10, 10))
    still = replace(free, still=16)
    assert p_fell(still, MODEL) > p_fell(free, MODEL)
    brute = believe(still, MODEL)
    assert size(brute).mid < size(believe(free, MODEL)).mid


def test_one_of_the_bands_is_taken_at_a_glance() -> None:
    chances = sum(Glance(low, high).likelihood(MODEL)[0, 0] ** 2 for low, high in BANDS)
    assert np.allclose(chances, 1.0, atol=1e-9)  # squares: each counts as half a sight


@pytest.mark.parametrize(("band", "likeliest"), [((1, 9), 3), ((10, 49), 31), ((50, 199), 143)])
def test_a_glance_points_at_its_band(band: tuple[int, int], likeliest: int) -> None:
    """The band's geometric middle over 0.7; cells of 13 %, and the lowest is one animal."""
    told = Glance(*band).likelihood(MODEL)[0, 0]
    middle = float(np.exp((np.log(SIZES[1:]) * told[1:] ** 8).sum() / (told[1:] ** 8).sum()))
    assert middle == pytest.approx(likeliest, rel=0.35)
    assert (told > 0).all()


def test_none_at_a_glance_points_to_few() -> None:
    told = Glance(0, 0).likelihood(MODEL)[0, 0]
    assert told[0] == told.max()
    assert (np.diff(told) <= 1e-12).all()
