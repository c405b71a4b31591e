"""The random model against its own matrix, and what a colony may and may not do."""

from dataclasses import fields, replace

import numpy as np
import pytest

from mancary.science.matrix import growth_rate, stable_stages
from mancary.science.stage_draws import draw_rates
from mancary.science.stage_matrix import best_per_week, growth_per_week, mean_matrix, settled
from mancary.science.stage_model import arrivals, simulate
from mancary.science.stage_paths import Founders, Paths, without_young
from mancary.science.stage_rates import MALES, STAGES, Rates
from mancary.science.validity import Floats, OutsideValidity
from tests.science.growing import CALM, CONDITIONS, RATES, TRAITS, with_rates

ERRORS = 4.5
"""Errors of the mean that a stage may be off: among 19 stages once in some seven thousand."""


def many(rates: Rates, runs: int) -> Rates:
    return Rates(**{one.name: np.full(runs, getattr(rates, one.name)) for one in fields(Rates)})


def after(weeks: int, temp: float, *, rates: Rates = RATES, runs: int = 20_000) -> Paths:
    start = np.repeat(np.arange(1, STAGES + 1)[:, np.newaxis], runs, axis=1)
    return simulate(
        rates=many(rates, runs), conditions=CALM, start=start, weeks=weeks,
        temps_c=np.full(weeks, temp), floor_m2=0.06, seed=7,
    )  # fmt: skip


def errors(paths: Paths, mean: Floats) -> Floats:
    found = paths.stages.astype(float)
    error = found.std(axis=1) / np.sqrt(found.shape[1])
    return np.asarray(np.abs(found.mean(axis=1) - mean) / error)


@pytest.mark.parametrize(("weeks", "temp"), [(1, 22.0), (12, 22.0), (30, 19.0), (8, 30.0)])
def test_the_mean_of_the_runs_is_the_matrix(weeks: int, temp: float) -> None:
    """No crowding, weather or crash, and males in every run: every one of the 19 stages."""
    start = np.arange(1, STAGES + 1.0)
    mean = np.linalg.matrix_power(mean_matrix(RATES, CALM, temp), weeks) @ start
    assert errors(after(weeks, temp), mean).max() < ERRORS


@pytest.mark.parametrize(
    "changed", [{"manca_survival": 0.57}, {"brood_young": 15.4}, {"rest_weeks": 5.3}]
)
def test_another_matrix_is_told_apart(changed: dict[str, float]) -> None:
    """The sibling: a rate a twentieth off is seen in twelve weeks."""
    start = np.arange(1, STAGES + 1.0)
    other = np.linalg.matrix_power(mean_matrix(with_rates(**changed), CALM, 22.0), 12) @ start
    assert errors(after(12, 22.0), other).max() > ERRORS


def test_losses_beside_take_their_share_of_every_stage() -> None:
    start = np.repeat(np.arange(1, STAGES + 1)[:, np.newaxis], 20_000, axis=1)
    paths = simulate(
        rates=many(RATES, 20_000), conditions=CALM, start=start, weeks=6,
        temps_c=np.full(6, 22.0), floor_m2=0.06, seed=7, losses=0.1,
    )  # fmt: skip
    mean = np.linalg.matrix_power(mean_matrix(RATES, CALM, 22.0), 6) @ start[:, 0].astype(float)
    # a brood is let go only by those that lived, so that every stage meets every week's losses
    assert errors(paths, mean * 0.9**6).max() < ERRORS
    assert errors(paths, mean * 0.895**6).max() > ERRORS


def test_matrices_of_many_runs_are_those_of_each() -> None:
    rates = draw_rates(TRAITS, 5, np.random.default_rng(1))
    together = mean_matrix(rates, CONDITIONS, 21.0)
    growth = growth_per_week(rates, CONDITIONS, 21.0)
    for run in range(5):
        one = Rates(
            **{f.name: float(np.asarray(getattr(rates, f.name))[run]) for f in fields(Rates)}
        )
        alone = mean_matrix(one, CONDITIONS, 21.0)
        assert together[run] == pytest.approx(alone)
        assert growth[run] == pytest.approx(np.log(growth_rate(alone)), abs=1e-6)


def test_growth_goes_with_warmth_and_ends_with_cold() -> None:
    at = [best_per_week(TRAITS, CONDITIONS, temp) for temp in (5.0, 18.0, 22.0, 26.0, 33.0)]
    assert at[0] == pytest.approx(0.0, abs=1e-9)
    assert 0 < at[1] < at[2] < at[3]
    assert at[4] < 0
    with pytest.raises(OutsideValidity):
        best_per_week(TRAITS, CONDITIONS, 50.0)


def founded(
    founders: Founders,
    *,
    weeks: int = 40,
    rates: Rates = RATES,
    runs: int = 400,
    temp: float = 22.0,
) -> Paths:
    return simulate(
        rates=many(rates, runs), conditions=CONDITIONS, start=founders, weeks=weeks,
        temps_c=np.full(weeks, temp), floor_m2=0.06, seed=3,
    )  # fmt: skip


def test_founders_are_unsexed_unless_told() -> None:
    stages = arrivals(Founders(adults=10, half_grown=5, mancas=4), 0.5, 100_000, 1)
    assert (stages.sum(axis=0) == 19).all()
    assert stages[7].mean() == pytest.approx(5.0, abs=0.02)
    assert stages[7].var() == pytest.approx(2.5, rel=0.03)
    sexed = arrivals(Founders(adults=10, adult_females=3), 0.5, 50, 1)
    assert (sexed[7] == 3).all()
    assert (sexed[MALES] == 7).all()
    for wrong in ({"adults": -1}, {"adults": 2, "adult_females": 3}):
        with pytest.raises(ValueError, match=r"founders|females"):
            Founders(**wrong)


def test_without_females_no_young_and_without_males_only_for_a_time() -> None:
    males = founded(Founders(adults=6, adult_females=0), weeks=80)
    assert np.isnan(males.first_young_week).all()
    assert (males.grown[-1] <= 6).all()
    widows = founded(Founders(adults=6, adult_females=6), weeks=20)
    assert np.isfinite(widows.first_young_week).mean() > 0.8
    short = replace(CONDITIONS, sperm_weeks=1.0)
    dry = simulate(
        rates=many(RATES, 400), conditions=short, start=Founders(adults=6, adult_females=6),
        weeks=20, temps_c=np.full(20, 22.0), floor_m2=0.06, seed=3,
    )  # fmt: skip
    assert np.isnan(dry.first_young_week).all()


def test_an_all_female_line_needs_no_males() -> None:
    clones = founded(Founders(adults=1), weeks=150, rates=with_rates(female_share=1.0))
    assert (clones.stages[MALES] == 0).all()
    assert (clones.grown[-1] > 20).mean() > 0.3
    lone = founded(Founders(adults=1), weeks=150, rates=with_rates(female_share=0.5))
    assert (lone.grown[-1] > 20).mean() < (clones.grown[-1] > 20).mean()


def test_nobody_lays_while_settling_or_out_of_season() -> None:
    warm = founded(Founders(adults=20, adult_females=10))
    assert np.nanmin(warm.first_young_week) > CONDITIONS.settling_weeks + 1
    closed = simulate(
        rates=many(RATES, 200), conditions=CONDITIONS, start=Founders(adults=20), weeks=30,
        temps_c=np.full(30, 22.0), floor_m2=0.06, seed=3, breeding=np.zeros(30),
    )  # fmt: skip
    assert np.isnan(closed.first_young_week).all()


def test_quiet_runs_are_those_without_young_so_far() -> None:
    paths = founded(Founders(adults=6, half_grown=4))
    quiet = without_young(paths, 10)
    assert 0.05 < quiet.mean() < 0.95
    assert (paths.young[:11, quiet] == 0).all()
    assert (paths.young[:11, ~quiet].max(axis=0) > 0).mean() > 0.95
    later = np.nanmedian(paths.first_young_week[quiet])
    assert later > np.nanmedian(paths.first_young_week)


def test_small_floors_hold_fewer() -> None:
    runs = 400
    floors = np.where(np.arange(runs) < runs // 2, 0.01, 0.1)
    paths = simulate(
        rates=many(RATES, runs), conditions=CONDITIONS, start=Founders(adults=8, half_grown=8),
        weeks=100, temps_c=np.full(100, 23.0), floor_m2=floors, seed=5,
    )  # fmt: skip
    small, large = paths.grown[-1, : runs // 2], paths.grown[-1, runs // 2 :]
    assert np.median(large) > 2 * np.median(small)
    assert paths.biomass_g[-1, 0] > 0


def test_the_same_seed_gives_the_same_runs_and_no_run_can_go_under_nothing() -> None:
    one, two = founded(Founders(adults=10)), founded(Founders(adults=10))
    assert (one.grown == two.grown).all()
    assert min(one.grown.min(), one.young.min(), one.stages.min()) >= 0
    assert (one.grown[-1] + one.young[-1] == one.stages.sum(axis=0)).all()
    other = simulate(
        rates=many(RATES, 400), conditions=CONDITIONS, start=Founders(adults=10), weeks=40,
        temps_c=np.full(40, 22.0), floor_m2=0.06, seed=4,
    )  # fmt: skip
    assert (one.grown != other.grown).any()


def test_no_weeks_leave_the_start() -> None:
    paths = founded(Founders(adults=4, half_grown=3, mancas=2), weeks=0)
    assert (paths.grown == 7).all()
    assert (paths.young == 2).all()


def test_what_is_refused() -> None:
    with pytest.raises(OutsideValidity):
        founded(Founders(adults=3), temp=60.0)
    with pytest.raises(ValueError, match="each week"):
        simulate(
            rates=many(RATES, 2), conditions=CONDITIONS, start=Founders(adults=3), weeks=4,
            temps_c=np.full(3, 22.0), floor_m2=0.06, seed=1,
        )  # fmt: skip
    with pytest.raises(OutsideValidity):
        simulate(
            rates=many(RATES, 2), conditions=CONDITIONS, start=Founders(adults=3), weeks=1,
            temps_c=[22.0], floor_m2=0.0, seed=1,
        )  # fmt: skip


def test_settled_colonies_have_the_stable_stages() -> None:
    runs, size = 20_000, 60
    rates = many(RATES, runs)
    stages = settled(np.full(runs, size), rates, CALM, 22.0, np.random.default_rng(2))
    assert (stages[2:].sum(axis=0) == size).all()
    share = stable_stages(mean_matrix(RATES, CALM, 22.0))
    expected = size * share / share[2:].sum()
    assert expected[6] == stages[6].sum() == 0  # nobody matures into a whole first rest
    held = np.flatnonzero(expected)
    spread = stages[held].std(axis=1) / np.sqrt(runs)
    off = np.abs(stages[held].mean(axis=1) - expected[held]) / spread
    assert off.max() < ERRORS
    tilted = expected[held] * np.linspace(0.97, 1.03, len(held))
    assert (np.abs(stages[held].mean(axis=1) - tilted) / spread).max() > ERRORS


def test_settled_colonies_go_on_growing_as_the_matrix_says() -> None:
    runs = 4000
    rates = many(RATES, runs)
    start = settled(np.full(runs, 200), rates, CALM, 22.0, np.random.default_rng(2))
    paths = simulate(rates=rates, conditions=CALM, start=start, weeks=12,
                     temps_c=np.full(12, 22.0), floor_m2=1.0, seed=1)  # fmt: skip
    found = np.log(paths.grown[12].mean() / 200) / 12
    best = best_per_week(TRAITS, CALM, 22.0)
    assert found == pytest.approx(best, rel=0.03)
    assert found != pytest.approx(best * 1.1, rel=0.03)


def test_settled_in_a_cold_box_and_of_nothing() -> None:
    rates = many(RATES, 3)
    cold = settled(np.array([0, 1, 50]), rates, CONDITIONS, 6.0, np.random.default_rng(2))
    assert cold[2:].sum(axis=0).tolist() == [0, 1, 50]
    assert cold[:2, 0].sum() == 0
    assert 0 < cold[6:, 2].sum() < 50
    for wrong in ([-1, 2, 3], [1.5, 2, 3]):
        with pytest.raises(ValueError, match="whole"):
            settled(np.array(wrong), rates, CONDITIONS, 20.0, np.random.default_rng(2))


def test_ranges_hold_the_truth_as_often_as_they_say() -> None:
    """Rates drawn, a simulated truth from other draws: the 90 % range holds 85 to 95 % of them.

    300 truths: a range that truly holds 90 % leaves these bounds once in three hundred. The
    sibling: of the middle half the truths are out far more often.
    """
    ours = simulate(
        rates=draw_rates(TRAITS, 2000, np.random.default_rng(1)), conditions=CONDITIONS,
        start=Founders(adults=5, half_grown=5), weeks=52, temps_c=np.full(52, 21.0),
        floor_m2=0.06, seed=2,
    )  # fmt: skip
    truths = simulate(
        rates=draw_rates(TRAITS, 300, np.random.default_rng(91)), conditions=CONDITIONS,
        start=Founders(adults=5, half_grown=5), weeks=52, temps_c=np.full(52, 21.0),
        floor_m2=0.06, seed=92,
    )  # fmt: skip
    for week in (13, 26, 52):
        low, quarter, three, high = np.quantile(ours.grown[week], [0.05, 0.25, 0.75, 0.95])
        true = truths.grown[week]
        assert 0.85 <= ((true >= low) & (true <= high)).mean() <= 0.95
        assert ((true >= quarter) & (true <= three)).mean() < 0.75
