"""Chances of falling: against random walks and sums over every path, and which way they lean."""

from dataclasses import replace
from math import exp, log, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mancary.science.belief import believe, likelihood, start
from mancary.science.belief_evidence import Evidence, FullCount, IndexCount, Young
from mancary.science.belief_model import TOP, BeliefModel, normal_below, sizes, transition
from mancary.science.belief_state import History, Visit
from mancary.science.belief_taking import departure
from mancary.science.risk import below_table, p_below, p_fell
from mancary.science.validity import Floats, OutsideValidity

WALKS = 400_000
BEGIN, UNDER, WEEKS = 19.9, 5.0, 12
MODEL = BeliefModel()


def plain(growth: float, sd: float, step: float) -> BeliefModel:
    """One regime, no die-off and no luck of single animals."""
    return BeliefModel(
        regimes=(growth,),
        regime_weights=(1.0,),
        switch=0.0,
        die_off=0.0,
        noise_sd=sd,
        demographic_sd=0.0,
        detection=(0.2,),
        dispersion=(2.5,),
        class_weights=(1.0,),
        step=step,
    )


def on_grid(growth: float, sd: float, step: float) -> float:
    """The table read at 19.9 animals, straight between cells."""
    table = below_table(plain(growth, sd, step), UNDER, WEEKS)[0, 1:]
    return float(np.interp(log(BEGIN), np.linspace(0.0, TOP, len(table)), table))


def walked(growth: float, sd: float) -> float:
    """The share of random walks under 5 in one of 12 weeks."""
    steps = np.random.default_rng(11).normal(growth, sd, (WALKS, WEEKS)).cumsum(axis=1)
    return float((log(BEGIN) + steps < log(UNDER)).any(axis=1).mean())


def unbroken(growth: float, sd: float) -> float:
    """The same where it is looked at all the time (Dennis and others 1991, eq. 16, from memory)."""
    far, scatter = log(BEGIN / UNDER), sd * sqrt(WEEKS)
    ways = normal_below(np.array([-far - growth * WEEKS, -far + growth * WEEKS]) / scatter)
    return float(ways[0] + exp(-2 * growth * far / sd**2) * ways[1])


CASES = [(-0.03, 0.15), (0.0, 0.2), (0.02, 0.25)]
ERRORS = 4 * sqrt(0.05 * 0.95 / WALKS)
COARSE, FINE = 0.0025, 0.0008
"""A cell of 0.13 holds 4.7 and 5.3 animals for one; its error falls with the cell."""


@pytest.mark.parametrize(("growth", "sd"), CASES)
def test_the_table_is_that_of_a_weekly_walk(growth: float, sd: float) -> None:
    """Acceptance (i)."""
    met = walked(growth, sd)
    assert on_grid(growth, sd, 0.13) == pytest.approx(met, abs=ERRORS + COARSE)
    assert on_grid(growth, sd, 0.039) == pytest.approx(met, abs=ERRORS + FINE)


@pytest.mark.parametrize(("growth", "sd"), CASES)
def test_a_little_more_noise_or_looking_all_the_time_is_told_from_it(
    growth: float, sd: float
) -> None:
    met = walked(growth, sd)
    assert on_grid(growth, sd * 1.1, 0.13) != pytest.approx(met, abs=ERRORS + COARSE)
    assert unbroken(growth, sd) != pytest.approx(met, abs=ERRORS + COARSE)


SMALL = BeliefModel(
    regimes=(-0.3, 0.2),
    regime_weights=(0.4, 0.6),
    switch=0.1,
    noise_sd=0.4,
    detection=(0.1, 0.3),
    dispersion=(2.0,),
    class_weights=(0.3, 0.7),
    step=TOP / 6,
)
STATES = 2 * 8


def one_step(model: BeliefModel) -> Floats:
    """Chances from each regime and cell to each, in one square."""
    turn = (1 - model.switch) * np.eye(2) + model.switch * np.array(model.regime_weights)
    moved = transition(model).astype(float)
    told = np.einsum("rnm,rs->rnsm", moved, turn).reshape(STATES, STATES)
    return np.asarray(told, dtype=float)


def enumerated(history: History, weeks: int) -> Floats:
    """Cells then (rows) and now (columns), by summing over every path class by class."""
    square, since = one_step(SMALL), history.week - weeks
    told = np.zeros((8, 8))
    for kind, weight in enumerate(SMALL.class_weights):
        first = start(SMALL, history.founders).shares[kind].astype(float).reshape(STATES)
        path = np.diag(first / first.sum() * weight)
        for week in range(history.week + 1):
            path = path @ square if week else path
            for visit in (one for one in history.visits if one.week == week):
                factor = likelihood(SMALL, visit.evidence)
                if factor is not None:
                    path = path * np.broadcast_to(factor, SMALL.shape)[kind].reshape(STATES)
                gone = departure(8, visit.taken, uncounted=visit.uncounted)
                path = path if gone is None else path @ np.kron(np.eye(2), gone.astype(float))
            if week == since:
                path = np.diag(path.sum(axis=0))
        told += path.reshape(2, 8, 2, 8).sum(axis=(0, 2))
    return np.asarray(told / told.sum(), dtype=float)


def fell(history: History, weeks: int, *, same: float = 0.5) -> float:
    """Fewer now than then and what was taken since; ``same`` where both lie in one cell."""
    joint = enumerated(history, weeks)
    taken = sum(one.taken for one in history.visits if one.week > history.week - weeks)
    at = np.log(sizes(8)[1:])
    total = 0.0
    for then in range(1, 8):
        bound = sizes(8)[then] - taken
        total += joint[then, 0] * (bound >= 0.5)
        for now in range(1, 8):
            gap = (log(max(bound, 1e-9)) - at[now - 1]) / SMALL.step
            total += joint[then, now] * (same if gap == 0 else min(1.0, max(0.0, gap + 0.5)))
    return total


def looked(*told: tuple[int, tuple[Evidence, ...], float], week: int) -> History:
    visits = tuple(Visit(week=at, evidence=seen, taken=taken) for at, seen, taken in told)
    return History(visits=visits, week=week)


QUIET = looked((1, (IndexCount(4),), 0.0), (4, (IndexCount(2), Young(seen=True)), 0.0), week=6)
SOLD = looked((1, (FullCount(60),), 0.0), (3, (), 15.0), (5, (IndexCount(1),), 0.0), week=6)


@pytest.mark.parametrize("history", [QUIET, SOLD])
@pytest.mark.parametrize("weeks", [1, 3, 5])
def test_having_fallen_is_the_sum_over_every_path(history: History, weeks: int) -> None:
    """A thousandth may be left out."""
    assert p_fell(history, SMALL, weeks=weeks) == pytest.approx(fell(history, weeks), abs=1e-3)
    if weeks == 3:
        assert p_fell(history, SMALL, weeks=weeks) != pytest.approx(fell(history, 4), abs=1e-3)
        all_told = fell(history, weeks, same=1.0)
        assert p_fell(history, SMALL, weeks=weeks) != pytest.approx(all_told, abs=1e-3)


@pytest.mark.parametrize("weeks", [1, 4, 9])
def test_the_chance_of_falling_is_the_sum_over_every_path(weeks: int) -> None:
    """Forward, week by week, what is not yet under; the table was made backward. Float32."""
    belief = believe(QUIET, SMALL)
    left = belief.shares.sum(axis=0, dtype=float).reshape(STATES)
    above = np.tile(
        np.append(0.0, np.clip((np.log(sizes(8)[1:]) - log(5)) / SMALL.step + 0.5, 0, 1)), 2
    )
    for _ in range(weeks):
        left = (left @ one_step(SMALL)) * above
    met = p_below(belief, SMALL, weeks=weeks)
    assert met == pytest.approx(1 - left.sum(), abs=1e-5)
    assert met != pytest.approx(1 - (left @ one_step(SMALL) * above).sum(), abs=1e-3)


def test_what_was_taken_out_is_no_fall() -> None:
    counted = ((2, (FullCount(200),), 0.0), (14, (FullCount(150),), 0.0))
    fallen = p_fell(looked(*counted, week=14), MODEL)
    sold = looked(counted[0], (8, (), 60.0), counted[1], week=14)
    assert fallen > 0.7
    assert p_fell(sold, MODEL) < 0.5


def test_having_fallen_needs_so_many_weeks() -> None:
    with pytest.raises(OutsideValidity):
        p_fell(looked((2, (FullCount(20),), 0.0), week=8), MODEL)
    with pytest.raises(OutsideValidity):
        p_fell(looked((2, (FullCount(20),), 0.0), week=8), MODEL, weeks=0)


@given(st.floats(2.0, 60.0), st.integers(1, 20))
@settings(max_examples=10, deadline=None)
def test_the_table_leans_the_right_way(threshold: float, weeks: int) -> None:
    table = below_table(MODEL, threshold, weeks)
    assert table.min() >= 0
    assert table.max() <= 1 + 1e-6
    assert (np.diff(table[:, 1:], axis=1) <= 1e-6).all(), "greater colonies"
    # cells add a little scatter to some regimes and none to others, which shows in the tails
    assert (np.diff(table, axis=0) <= 0.01).all(), "growing regimes"
    assert (table[0] >= table[-1] - 1e-6).all(), "the two ends"
    assert (below_table(MODEL, threshold, weeks + 1) >= table - 1e-9).all(), "more weeks"
    assert (below_table(MODEL, threshold * 1.5, weeks) >= table - 1e-9).all(), "a higher line"
    assert table[:, 0] == pytest.approx(1.0)


def test_a_crash_shows_and_a_thriving_colony_is_left_in_peace() -> None:
    def told(counts: list[int]) -> float:
        each = [(4 * n, (FullCount(count),), 0.0) for n, count in enumerate(counts)]
        history = looked(*each, week=4 * len(counts) - 4)
        return p_below(believe(history, MODEL), MODEL)

    assert told([80, 90, 100, 110]) < 0.02
    assert told([80, 40, 20, 9]) > 0.5
    assert told([80, 40, 20, 9]) < 1.0


def test_grown_ones_alone_are_a_threshold_of_their_own() -> None:
    belief = believe(looked((0, (FullCount(30),), 0.0), week=2), MODEL)
    few, many = (p_below(belief, MODEL, threshold=line) for line in (5.0, 15.0))
    assert few < many


def test_a_threshold_outside_the_grid_is_refused() -> None:
    for wrong in (0.5, 9000.0):
        with pytest.raises(OutsideValidity):
            below_table(replace(MODEL), wrong)
    with pytest.raises(OutsideValidity):
        below_table(MODEL, 5.0, 0)
