"""What is believed of colonies of twenty visits, against bare matrix products and a Kalman filter."""

from collections.abc import Iterator

import numpy as np

from bench.result import Result, against, median_pair, seconds
from mancary.science.belief import advance, believe, observe
from mancary.science.belief_evidence import Dead, IndexCount, LeftOver, Young
from mancary.science.belief_model import BeliefModel, transition
from mancary.science.belief_state import History, Visit
from mancary.science.risk import below_table, p_below, p_fell

COLONIES = 100
MANY = 10_000
VISITS = 20
TIMES = 3


def colonies(seed: int = 7) -> list[History]:
    """Made-up visits, for the time they take and nothing else."""
    chance = np.random.default_rng(seed)
    return [_colony(chance) for _ in range(COLONIES)]


def _colony(chance: np.random.Generator) -> History:
    weeks = np.cumsum(chance.integers(2, 6, VISITS))
    visits = []
    for week in weeks:
        seen = (IndexCount(int(chance.poisson(6))), Young(bool(chance.random() < 0.6)))
        signs = (Dead(int(chance.poisson(0.4)), 4.0), LeftOver(float(chance.random() < 0.3)))
        visits.append(Visit(week=int(week), evidence=(*seen, *signs)))
    return History(visits=tuple(visits), week=int(weeks[-1]))


def measure() -> Iterator[Result]:
    """The whole, one more visit of one colony and of ten thousand, and whether one has fallen."""
    model, held = BeliefModel(), colonies()
    transition(model)
    below_table(model)
    weeks = sum(one.week for one in held)
    classes, regimes, cells = model.shape
    shares = np.full((regimes, classes, cells), 1.0 / cells, dtype=np.float32)
    kernel = np.array(transition(model))
    ours, floor = median_pair(
        lambda: [p_below(believe(one, model), model) for one in held],
        lambda: [shares @ kernel for _ in range(weeks)],
        times=TIMES,
    )
    name = f"beliefs of {COLONIES} colonies of {VISITS} visits, {weeks:,} weeks"
    yield against(name, ours, floor, "s", "the same weeks as bare numpy matrix products")
    belief, visit = believe(held[0], model), held[0].visits[-1].evidence
    one, floor = median_pair(
        lambda: [observe(advance(belief, model, 4), model, visit) for _ in range(100)],
        lambda: [shares @ kernel for _ in range(400)],
        times=TIMES,
    )
    yield against(
        "one more visit after 4 weeks", one * 10, floor * 10, "ms", "four bare matrix products"
    )
    yield _beside_kalman(held[0], model)
    told = [believe(each, model) for each in held]
    many, floor = median_pair(
        lambda: [p_below(observe(advance(told[n % COLONIES], model, 4), model, visit), model)
                 for n in range(MANY)],
        lambda: [shares @ kernel for _ in range(4 * MANY)],
        times=1,
    )  # fmt: skip
    name = f"one more visit after 4 weeks of {MANY:,} colonies, and their chances"
    yield against(name, many, floor, "s", "four bare matrix products for each")
    fell = seconds(lambda: [p_fell(each, model) for each in held]) / COLONIES
    full = seconds(lambda: [believe(each, model) for each in held]) / COLONIES
    yield against(
        "whether one colony has fallen, summed exactly", fell * 1e3, full * 1e3, "ms", "its belief"
    )


def _beside_kalman(one: History, model: BeliefModel) -> Result:
    """One colony from its start, against statsmodels' local linear trend over the same weeks.

    The rival is handed its noises, takes log counts for normal, has one answer instead of a
    distribution over regimes and shares seen, and knows no signs: it is the floor of such a sum.
    """
    from statsmodels.tsa.statespace.structural import UnobservedComponents

    logs = np.full(one.week + 1, np.nan)
    for visit in one.visits:
        counts = [each.animals for each in visit.evidence if isinstance(each, IndexCount)]
        logs[visit.week] = np.log1p(counts[0])
    rival = UnobservedComponents(logs, level="local linear trend")
    noises = np.array([0.5, 0.0025, 0.0001])
    ours, theirs = median_pair(
        lambda: [p_below(believe(one, model), model) for _ in range(20)],
        lambda: [rival.filter(noises).forecast(12) for _ in range(20)],
        times=TIMES,
    )
    name = f"one colony of {VISITS} visits, {one.week} weeks"
    reference = "statsmodels, Kalman filter of a local linear trend and 12 weeks of forecast"
    return against(name, ours * 50, theirs * 50, "ms", reference)
