"""What thirty colonies teach, that twenty-nine are refused, and that order is of no account."""

from dataclasses import replace

import numpy as np
import pytest

from mancary.science.belief import believe
from mancary.science.belief_evidence import Evidence, FullCount, IndexCount
from mancary.science.belief_learning import DIE_OFFS, FEWEST_COLONIES, NOISES, Learned, learned
from mancary.science.belief_model import BeliefModel
from mancary.science.belief_state import History, Visit

MODEL = BeliefModel()


def colony(seed: int, seen: float, drift: float = 0.0) -> History:
    """A colony of 100 that drifts, counted six times under its hide (k of 2.5)."""
    chance = np.random.default_rng([3, seed])
    visits = []
    for week in range(4, 28, 4):
        mean = 100 * np.exp(drift * week) * seen
        count = int(chance.poisson(chance.gamma(2.5, mean / 2.5)))
        visits.append(Visit(week=week, evidence=(IndexCount(count),)))
    return History(visits=tuple(visits), week=24, founders=(100, 100))


def mean_seen(model: BeliefModel) -> float:
    each = np.repeat(model.detection, len(model.dispersion))
    return float(each @ np.array(model.class_weights))


def taught(seen: float, drift: float = 0.0) -> Learned:
    return learned([colony(seed, seen, drift) for seed in range(FEWEST_COLONIES)], MODEL)


def test_too_few_colonies_teach_nothing_and_that_is_said() -> None:
    many = [colony(seed, 0.06) for seed in range(FEWEST_COLONIES - 1)]
    told = learned(many, MODEL)
    assert told == Learned(model=MODEL, colonies=FEWEST_COLONIES - 1, enough=False)


def test_colonies_hardly_looked_at_do_not_count() -> None:
    short = History(visits=colony(0, 0.06).visits[:3], week=24, founders=(100, 100))
    blank = tuple(Visit(week=one.week) for one in colony(0, 0.06).visits)
    empty = History(visits=blank, week=24, founders=(100, 100))
    told = learned([short] * 40 + [empty] * 40, MODEL)
    assert told == Learned(model=MODEL, colonies=0, enough=False)


@pytest.mark.parametrize("seen", [0.05, 0.40])
def test_how_much_of_them_is_seen_is_learned(seen: float) -> None:
    """Twelve made-up colonies against thirty: more than half of the way, never past it."""
    told = taught(seen)
    assert told.enough
    assert told.colonies == FEWEST_COLONIES
    before, after = mean_seen(MODEL), mean_seen(told.model)
    assert 0.5 < (after - before) / (seen - before) < 1.2
    assert sum(told.model.class_weights) == pytest.approx(1)
    assert sum(told.model.regime_weights) == pytest.approx(1)
    assert min(told.model.class_weights) > 0
    assert told.model.noise_sd in NOISES
    assert min(DIE_OFFS) <= told.model.die_off <= max(DIE_OFFS)


def test_growth_and_decline_are_learned() -> None:
    def mean_growth(model: BeliefModel) -> float:
        return float(np.array(model.regimes) @ np.array(model.regime_weights))

    down, up = taught(0.16, -0.05).model, taught(0.16, 0.05).model
    assert mean_growth(down) < mean_growth(MODEL) - 0.005
    assert mean_growth(up) > mean_growth(MODEL) + 0.005


def struck(seed: int) -> History:
    """A steady colony of 100 that falls to a fifth between two counts, at a week of its own."""
    blow = 4 * (1 + seed % 5)
    visits = tuple(
        Visit(week=week, evidence=(FullCount(93 if week <= blow else 19),))
        for week in range(4, 28, 4)
    )
    return History(visits=visits, week=24, founders=(100, 100))


def test_sudden_die_offs_are_learned_of_and_so_is_their_want() -> None:
    blows = learned([struck(seed) for seed in range(FEWEST_COLONIES)], MODEL).model
    none = taught(0.16).model
    assert none.die_off < MODEL.die_off < blows.die_off


def swift(seed: int) -> History:
    """A colony that grows by 0.12 of ln N a week from 15, counted whole every four weeks."""
    chance = np.random.default_rng([4, seed])
    visits = tuple(
        Visit(week=week, evidence=(FullCount(int(chance.poisson(14 * np.exp(0.12 * week)))),))
        for week in range(4, 28, 4)
    )
    return History(visits=visits, week=24, founders=(15, 15))


def test_fast_species_teach_shares_of_their_best_and_not_their_pace() -> None:
    many = [swift(seed) for seed in range(FEWEST_COLONIES)]
    told = learned(many, MODEL, tops=[0.12] * len(many)).model
    assert told.regimes == MODEL.regimes
    assert told.regime_weights[-1] > 0.4 > MODEL.regime_weights[-1]
    assert learned(many, MODEL, tops=[0.3] * len(many)).model.regime_weights[-1] < 0.4
    with pytest.raises(ValueError, match="shorter"):
        learned(many, MODEL, tops=[0.12])


def test_the_order_of_the_colonies_is_of_no_account() -> None:
    many: list[History] = [colony(seed, 0.1) for seed in range(FEWEST_COLONIES)]
    shuffled = [many[n] for n in np.random.default_rng(1).permutation(len(many))]
    one, other = learned(many, MODEL), learned(shuffled, MODEL)
    assert one == other
    changed = learned([*many[1:], colony(99, 0.4)], MODEL)
    assert changed != one


def test_what_was_learned_makes_the_next_colony_likelier() -> None:
    told = taught(0.05).model
    fresh = [colony(seed, 0.05) for seed in range(100, 110)]
    gain = [believe(one, told).log_evidence - believe(one, MODEL).log_evidence for one in fresh]
    assert np.mean(gain) > 0


def test_a_colony_all_gone_breaks_no_sum() -> None:
    nought: tuple[Evidence, ...] = (IndexCount(0),)
    visits = tuple(Visit(week=week, evidence=nought, taken=1.0) for week in (0, 1, 2, 3))
    gone = replace(colony(0, 0.1), visits=visits, founders=(1, 1))
    told = learned([gone] * FEWEST_COLONIES, MODEL)
    assert told.enough
    assert np.isfinite(told.model.regime_weights).all()
