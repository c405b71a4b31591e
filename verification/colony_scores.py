"""The watch scored on invented colonies that its filter knows nothing of.

How good is the chance of falling below five animals in twelve weeks, with the weights we began with
and with those learned from 80 other colonies, beside a trend's (``colony_trend``)? How many weeks
ahead does a box stand out? Run: ``python -m verification.colony_scores [--colonies N]``.
"""

import argparse
import sys
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from mancary.science.belief import believe, size
from mancary.science.belief_learning import learned
from mancary.science.belief_model import BeliefModel
from mancary.science.risk import p_below, p_fell
from verification.colony_lead import WEEKS as LEAD_WEEKS
from verification.colony_lead import Lead, leads
from verification.colony_sights import history_of
from verification.colony_trend import by_trend
from verification.colony_world import AHEAD, SETTINGS, Colony, Setting, colonies

Floats = NDArray[np.float64]

TEACHERS = 80
BANDS = np.array([0.0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.7, 1.0])
LEAD_SETTINGS = ("base", "poor detection")


@dataclass(frozen=True)
class Forecasts:
    """By colony, of one model: chance of falling and of having fallen, whether the range held."""

    below: Floats
    fell: Floats
    held: Floats


def forecasts(held: list[Colony], model: BeliefModel) -> Forecasts:
    """What the product says of each colony at its last look."""
    rows = []
    for one in held:
        history = history_of(one)
        belief = believe(history, model)
        told, truth = size(belief), one.truth[one.week]
        within = round(told.low) <= truth <= round(told.high)
        rows.append([p_below(belief, model), p_fell(history, model), within])
    return Forecasts(*np.array(rows, dtype=float).T)


def brier(p: Floats, happened: Floats) -> float:
    """The mean square of what the chance was off by."""
    return float(np.mean((p - happened) ** 2))


def skill(p: Floats, happened: Floats) -> float:
    """Of the Brier score of always saying how often it happened, the part that is saved."""
    spread = float(happened.var())
    return 1 - brier(p, happened) / spread if spread else float("nan")


def ranked(p: Floats, happened: Floats) -> float:
    """How often, of two colonies, the one that fell had the greater chance (AUC); ties half."""
    yes, no = p[happened > 0], p[happened == 0]
    if not len(yes) or not len(no):
        return float("nan")
    more = np.sign(yes[:, None] - no[None, :])
    return float((more + 1).mean() / 2)


def reliability(p: Floats, happened: Floats) -> str:
    """By band: mean chance, how often it happened, and of how many."""
    cells = []
    for low, high in pairwise(BANDS):
        here = (p >= low) & ((p < high) | (high == 1.0))
        if here.any():
            told, met = p[here].mean(), happened[here].mean()
            cells.append(f"{told:.3f}>{met:.3f} ({here.sum()})")
        else:
            cells.append("-")
    return "  ".join(cells)


def line(name: str, p: Floats, happened: Floats, standing: NDArray[np.bool_]) -> str:
    """One row of the table of scores."""
    return (
        f"  {name:<18} {p.mean():6.3f} {brier(p, happened):8.4f} {skill(p, happened):+7.3f}"
        f" {ranked(p, happened):6.3f} {ranked(p[standing], happened[standing]):9.3f}"
    )


def scored(setting: Setting, count: int) -> bool:
    """Prints one setting; False where the learned watch is clearly worse than the trend."""
    held = colonies(setting, count)
    teachers = [history_of(one) for one in colonies(setting, TEACHERS, fresh=1)]
    taught = learned(teachers, BeliefModel())
    happened = np.array([one.falls for one in held], dtype=float)
    fallen = np.array([one.fell for one in held], dtype=float)
    standing = np.array([one.truth[one.week] >= 5 for one in held])
    ours, theirs = forecasts(held, BeliefModel()), forecasts(held, taught.model)
    rival = by_trend(held)
    print(
        f"\n{setting.name}: {count} colonies, seed {setting.seed}; below 5 within {AHEAD} weeks "
        f"{happened.mean():.3f}, of {standing.sum()} that had 5 or more {happened[standing].mean():.3f};"
        f" learned from {taught.colonies}, noise {taught.model.noise_sd:g}, die-offs "
        f"{taught.model.die_off:.4f}"
    )
    print(f"  {'below 5':<18} {'mean':>6} {'Brier':>8} {'skill':>7} {'AUC':>6} {'AUC if >=5':>9}")
    named = [("watch", ours.below), ("watch, learned", theirs.below), ("trend", rival)]
    for name, p in named:
        print(line(name, p, happened, standing))
    print("  chance>happened (colonies) in bands " + ", ".join(f"{one:g}" for one in BANDS))
    for name, p in named:
        print(f"  {name:<18} {reliability(p, happened)}")
    fine = True
    for name, p in named[:2]:
        fine = _beside(name, (p - happened) ** 2 - (rival - happened) ** 2)
    print(
        f"  fewer than {AHEAD} weeks before: happened {fallen.mean():.3f}; 90 % range of the size"
    )
    for name, one in (("watch", ours), ("watch, learned", theirs)):
        print(
            f"  {name:<18} mean {one.fell.mean():.3f}, Brier {brier(one.fell, fallen):.4f}, skill "
            f"{skill(one.fell, fallen):+.3f}, AUC {ranked(one.fell, fallen):.3f}; range held "
            f"{one.held.mean():.3f}, of those with 5 or more {one.held[standing].mean():.3f}"
        )
    if setting.name in LEAD_SETTINGS:
        _led(setting, count, taught.model)
    sys.stdout.flush()
    return fine


def _beside(name: str, gap: Floats) -> bool:
    error = gap.std(ddof=1) / len(gap) ** 0.5
    print(f"  {name} - trend: Brier {gap.mean():+.4f} +- {error:.4f}")
    return bool(gap.mean() < 2 * error)


def _led(setting: Setting, count: int, model: BeliefModel) -> None:
    told = leads(colonies(setting, count, fresh=2, weeks=LEAD_WEEKS), model)
    for name, one in told.items():
        print(f"  {name:<18} {_said(one)}")


def _said(one: Lead) -> str:
    early = [f"{(one.weeks >= weeks).mean():.2f}" for weeks in (1, 4, 8)]
    return (
        f"of {len(one.weeks)} falls told 1, 4, 8 weeks before: {', '.join(early)}; median "
        f"{np.median(one.weeks):.0f} weeks; flagged {one.flagged:.3f} of boxes a week, in half a "
        f"year {one.in_vain:.2f} of those that stood"
    )


def main(arguments: list[str]) -> int:
    """Prints all settings; 1 where the learned watch is clearly worse than the trend in one."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--colonies", type=int, default=300, help="by setting; 1,000 takes longer")
    count = parser.parse_args(arguments).colonies
    fine = [scored(setting, count) for setting in SETTINGS]
    return int(not all(fine))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
