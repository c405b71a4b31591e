"""The diffusion estimate against the grizzlies of Yellowstone, and the trap it is for a keeper."""

import numpy as np
import pytest

from mancary.science.belief import believe
from mancary.science.belief_evidence import IndexCount
from mancary.science.belief_model import BeliefModel
from mancary.science.belief_state import History, Visit
from mancary.science.risk import p_below
from mancary.science.trend import diffusion, first_passage

# Adult females of Yellowstone, 1959 to 1997: Morris and Doak, "Quantitative Conservation Biology"
# (2002), table 3.1. Counts seen in the dataset `grizzly` of the R package popbio.
GRIZZLY = (
    44, 47, 46, 44, 46, 45, 46, 40, 39, 39, 42, 39, 41, 40, 33, 36, 34, 39, 35, 34, 38, 36, 37, 41,
    39, 51, 47, 57, 48, 60, 65, 74, 69, 65, 57, 70, 81, 99, 99,
)  # fmt: skip


def test_grizzlies_of_yellowstone() -> None:
    """mu 0.0213 (-0.0162 to 0.0589), sigma2 0.01305 (0.00867 to 0.02184): the book, from memory.

    Tolerance: half of the last figure printed.
    """
    told = diffusion(counts=GRIZZLY)
    assert told.mu == pytest.approx(0.0213, abs=5e-5)
    assert told.mu_low == pytest.approx(-0.0162, abs=5e-5)
    assert told.mu_high == pytest.approx(0.0589, abs=5e-5)
    assert told.sigma2 == pytest.approx(0.01305, abs=5e-6)
    assert told.sigma2_low == pytest.approx(0.00867, abs=5e-6)
    assert told.sigma2_high == pytest.approx(0.02184, abs=5e-6)


def test_one_year_left_out_is_told_from_it() -> None:
    assert diffusion(counts=GRIZZLY[:-1]).mu != pytest.approx(0.0213, abs=5e-5)


def test_uneven_steps_are_weighted() -> None:
    """Every second year of a steady growth tells the same growth a year."""
    steady = [10 * 1.1**year for year in (0, 1, 3, 6, 10)]
    told = diffusion(counts=steady, times=(0, 1, 3, 6, 10))
    assert told.mu == pytest.approx(np.log(1.1), rel=1e-9)  # exact but for rounding


@pytest.mark.parametrize(("now", "chance"), [(99, 1.84617e-3), (46, 0.0496293)])
def test_first_passage_as_another_program_has_it(now: float, chance: float) -> None:
    """popbio's extCDF in R (Morris and Doak, box 3.3) at mu 0.02134, sigma2 0.01305, 50 years.

    Six figures of it were noted; mu and sigma2 are those of the grizzlies, unrounded.
    """
    told = diffusion(counts=GRIZZLY)
    found = first_passage(mu=told.mu, sigma2=told.sigma2, now=now, down_to=20, steps=50)
    assert found == pytest.approx(chance, rel=1e-5)
    assert found != pytest.approx(
        first_passage(mu=told.mu, sigma2=told.sigma2, now=now, down_to=20, steps=49), rel=1e-5
    )


def test_a_great_fall_does_not_overflow() -> None:
    assert first_passage(mu=-0.5, sigma2=1e-3, now=1e4, down_to=1, steps=200) == 1.0


def test_the_trap_on_counts_under_a_hide_it_cries_ruin() -> None:
    """Steady colonies of 100, a fifth of them under the hide, k 2.5: nothing is failing.

    The textbook takes the scatter for luck; the watch knows that counts scatter. Means of 40
    invented series.
    """
    chance = np.random.default_rng(11)
    textbook, watch = [], []
    for _ in range(40):
        counts = chance.negative_binomial(2.5, 2.5 / (2.5 + 20), 12)
        told = diffusion(counts=[max(float(count), 0.5) for count in counts])
        textbook.append(
            first_passage(mu=told.mu, sigma2=told.sigma2, now=max(counts[-1] / 0.2, 6),
                          down_to=5, steps=3)
        )  # fmt: skip
        visits = tuple(
            Visit(week=4 * n, evidence=(IndexCount(int(count)),)) for n, count in enumerate(counts)
        )
        model = BeliefModel()
        watch.append(p_below(believe(History(visits=visits, week=44), model), model))
    assert np.mean(textbook) > 0.1
    assert np.mean(watch) < 0.05
