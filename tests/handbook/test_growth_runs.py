"""What the archetypes grow to: against the project's own notes, the few papers, and keepers' facts."""

from functools import cache

import numpy as np
import pytest

from mancary.handbook import growth
from mancary.science.stage_draws import draw_rates
from mancary.science.stage_matrix import best_per_week
from mancary.science.stage_model import simulate
from mancary.science.stage_paths import Founders, Paths

MONTH_WEEKS = 365.25 / 12 / 7
NAMES = tuple(growth.archetypes())

# Growth. The notes' numbers are our own, made beforehand by another program of the same model.

OURS_AT_22 = {
    "pruinosus": 0.0168, "trichorhina": 0.0166, "murina": 0.0139, "laevis": 0.0134,
    "scaber": 0.0094, "vulgare": 0.0074, "iberian": 0.0054, "cave": 0.0046,
}  # fmt: skip


def daily(name: str, temp_c: float) -> float:
    return best_per_week(growth.archetypes()[name].traits, growth.conditions(), temp_c) / 7


@pytest.mark.parametrize("name", NAMES)
def test_growth_a_day_is_that_of_the_notes(name: str) -> None:
    """Ours, not a check of the world: to half the last figure."""
    assert daily(name, 22.0) == pytest.approx(OURS_AT_22[name], abs=0.51e-4)
    assert daily(name, 22.3) != pytest.approx(OURS_AT_22[name], abs=0.51e-4)


def test_scaber_against_the_published_matrix() -> None:
    """1.285 a month (Kammenga, van Gestel and Hornung 2001; matrix seen, its temperature not told,
    20 °C likely). The rates were tuned to it, so this is no independent check. Within 0.05: a
    polluted group of the same study bred faster than the control."""
    monthly = np.exp(daily("scaber", 20.0) * 30.4)
    assert monthly == pytest.approx(1.285, abs=0.05)
    assert np.exp(daily("scaber", 18.0) * 30.4) != pytest.approx(1.285, abs=0.05)
    assert np.exp(daily("laevis", 20.0) * 30.4) != pytest.approx(1.285, abs=0.05)


def test_vulgare_against_field_life_tables() -> None:
    """0.0067 and 0.0102 a day in two forests of Texas (a thesis, seen). Within 30 %, for the ages
    were taken as standing; the woods' warmth is not ours, so between the two is all it can be."""
    low, high = 0.7 * 0.0067, 1.3 * 0.0102
    for temp in (20.0, 22.0):
        assert low < daily("vulgare", temp) < high
    assert not low < daily("vulgare", 15.0) < high
    assert not low < daily("pruinosus", 20.0) < high


@cache
def founded(
    name: str, founders: Founders, temp_c: float = 22.0, weeks: int = 78, runs: int = 2000
) -> Paths:
    found = growth.archetypes()[name]
    chance = np.random.default_rng(1)
    return simulate(
        rates=draw_rates(found.traits, runs, chance), conditions=growth.conditions(),
        start=founders, weeks=weeks, temps_c=np.full(weeks, temp_c),
        floor_m2=0.2 if name == "iberian" else 0.06, seed=chance,
    )  # fmt: skip


MIXED = Founders(adults=5, half_grown=5)
HALF_GROWN = Founders(adults=0, half_grown=10)

TEN_FOUNDERS = {
    "pruinosus": (62, 198, 1092, 1870),
    "scaber": (30, 58, 160, 318),
    "vulgare": (27, 53, 117, 206),
    "cave": (13, 22, 35, 52),
    "iberian": (17, 34, 55, 82),
}


@pytest.mark.parametrize("name", TEN_FOUNDERS)
def test_ten_founders_are_those_of_the_notes(name: str) -> None:
    """Ours: medians of all animals at 3, 6, 12 and 18 months, 22 °C. Within a fifth: the notes do
    not print the stages of the half-grown nor the masses of the young, and those move them so."""
    paths = founded(name, MIXED)
    total = paths.grown + paths.young
    medians = [float(np.median(total[week])) for week in (13, 26, 52, 78)]
    assert medians == pytest.approx(TEN_FOUNDERS[name], rel=0.2)
    cool = founded(name, MIXED, temp_c=18.0)
    cooled = [float(np.median((cool.grown + cool.young)[week])) for week in (13, 26, 52, 78)]
    assert cooled != pytest.approx(TEN_FOUNDERS[name], rel=0.2)


@pytest.mark.parametrize(
    ("name", "median"), [("trichorhina", 1618), ("murina", 454), ("laevis", 394)]
)
def test_the_other_medians_at_a_year(name: str, median: float) -> None:
    """Ours; within 30 %, for P. laevis comes out a quarter lower than in the notes: their masses of
    half-grown animals are not printed, and it is the one that a mass of 120 mg crowds first."""
    paths = founded(name, MIXED, weeks=52)
    found = float(np.median((paths.grown + paths.young)[52]))
    assert found == pytest.approx(median, rel=0.3)
    cool = founded(name, MIXED, temp_c=18.0, weeks=52)
    assert float(np.median((cool.grown + cool.young)[52])) != pytest.approx(median, rel=0.3)


def test_months_to_a_hundred_are_those_of_the_notes() -> None:
    """Ours: 6.0, 11.7 and 14.5 months to 100 juveniles and adults, within 15 %."""
    for name, months in (("pruinosus", 6.0), ("scaber", 11.7), ("vulgare", 14.5)):
        reached = founded(name, MIXED).grown >= 100
        weeks = np.where(reached.any(axis=0), reached.argmax(axis=0), np.inf)
        found = np.quantile(weeks, 0.5, method="inverted_cdf") / MONTH_WEEKS
        assert found == pytest.approx(months, rel=0.15)
        assert found != pytest.approx(months * 1.4, rel=0.15)


# First young. Common practice, no source: after 1-2 months (fast), 3-6 (most), 6-12 (cave forms,
# giant Porcellio) in a starter group of part-grown animals. The model's are let go then, and are
# seen some weeks later; how much later nobody has told.


def first_young_months(name: str, founders: Founders) -> tuple[float, float, float]:
    weeks = founded(name, founders, weeks=104).first_young_week
    months = np.where(np.isnan(weeks), np.inf, weeks) / MONTH_WEEKS
    low, mid, high = np.quantile(months, [0.1, 0.5, 0.9], method="inverted_cdf")
    return float(low), float(mid), float(high)


@pytest.mark.parametrize("name", ["pruinosus", "trichorhina"])
def test_fast_ones_have_young_within_one_to_two_months(name: str) -> None:
    """From mixed founders eight of ten runs lie within; a week's grace, for weeks are whole."""
    low, _, high = first_young_months(name, MIXED)
    assert 1.0 <= low < high <= 2.0 + 1 / MONTH_WEEKS
    assert first_young_months("scaber", MIXED)[2] > 2.0 + 1 / MONTH_WEEKS


@pytest.mark.parametrize(
    ("name", "middle"), [("laevis", 3.0), ("scaber", 4.5), ("vulgare", 4.5), ("iberian", 9.0)]
)
def test_the_keepers_middle_falls_inside_for_part_grown_starters(name: str, middle: float) -> None:
    """The middle of the keepers' months (2 to 4 for P. laevis by its page) inside the 10 to 90 %
    from ten half-grown founders."""
    low, _, high = first_young_months(name, HALF_GROWN)
    assert low < middle < high
    quick = first_young_months("trichorhina", HALF_GROWN)
    assert not quick[0] < middle < quick[2]


def test_cave_forms_come_out_quicker_than_keepers_say_unless_the_starters_are_small() -> None:
    """Where the model and the trade differ, said in docs/science/growth.md: from half-grown founders
    the 10 to 90 % reach only into the first half of 6 to 12 months; with half of the founders mere
    young, the keepers' middle of 9 months is inside."""
    low, _, high = first_young_months("cave", HALF_GROWN)
    assert low < 6.0 < high < 9.0
    low, _, high = first_young_months("cave", Founders(adults=0, half_grown=5, mancas=5))
    assert low < 9.0 < high


def test_grown_founders_have_young_sooner_than_keepers_say() -> None:
    """From ten grown ones not even the latest tenth comes near the keepers' middle."""
    for name, middle in (("scaber", 4.5), ("vulgare", 4.5), ("cave", 9.0), ("iberian", 9.0)):
        _, mid, high = first_young_months(name, Founders(adults=10))
        assert high < middle
        assert first_young_months(name, HALF_GROWN)[1] > 1.3 * mid
