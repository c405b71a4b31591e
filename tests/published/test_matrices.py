"""Stage matrices against published growth rates, stages, values and elasticities.

Matrices second-hand unless said, in programs that quote the papers; each tolerance is half the
last printed figure and a hair.
"""

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from mancary.science.matrix import (
    elasticities,
    generation_time,
    growth_rate,
    net_reproduction,
    reproductive_values,
    stable_stages,
    sustainable_share,
)
from tests.published.checks import Check, How, Tolerance, can_fail, said

Matrix = NDArray[np.float64]


def staged(
    young: dict[int, float], staying: dict[int, float], growing: list[float], stages: int
) -> Matrix:
    made = np.diag([staying.get(stage, 0.0) for stage in range(stages)])
    made[np.arange(1, stages), np.arange(stages - 1)] = growing
    for stage, many in young.items():
        made[0, stage] = many
    return made


LOGGERHEAD = staged(
    {4: 127, 5: 4, 6: 80},
    {1: 0.7370, 2: 0.6610, 3: 0.6907, 6: 0.8089},
    [0.6747, 0.0486, 0.0147, 0.0518, 0.8091, 0.8091],
    7,
)

KILLER_WHALE = np.array(
    [[0, 0.0043, 0.1132, 0], [0.9775, 0.9111, 0, 0], [0, 0.0736, 0.9534, 0], [0, 0, 0.0452, 0.9804]]
)

TEASEL = np.array(
    [
        [0, 0, 0, 0, 0, 322.388],
        [0.966, 0, 0, 0, 0, 0],
        [0.013, 0.010, 0.125, 0, 0, 3.488],
        [0.007, 0, 0.125, 0.238, 0, 30.170],
        [0.008, 0, 0.038, 0.245, 0.167, 0.862],
        [0, 0, 0, 0.023, 0.750, 0],
    ]
)

TORTOISE = staged(
    {5: 1.30, 6: 1.98, 7: 2.57},
    dict(enumerate([0.567, 0.567, 0.604, 0.560, 0.678, 0.851, 0.860], start=1)),
    [0.716, 0.149, 0.149, 0.235, 0.225, 0.249, 0.016],
    8,
)

SCABER = staged(
    {3: 12, 5: 12},
    {0: 0.1584, 1: 0.5451, 2: 0.539, 3: 0.1615, 4: 0.008, 5: 0.136, 6: 0.8},
    [0.7216, 0.2449, 0.231, 0.7885, 0.792, 0.664],
    7,
)
"""Porcellio scaber, a month a step, females: the control of Kammenga, van Gestel and Hornung 2001,
as kept in COMADRE 3.0.1 (seen there). Its temperature is not told."""

RATES: list[tuple[str, How, Matrix, float, float]] = [
    ("Crouse and others 1987, loggerhead", "second-hand", LOGGERHEAD, 0.945, 1e-3),
    ("Brault and Caswell 1993, killer whale", "memory", KILLER_WHALE, 1.0254, 1e-4),
    ("Caswell 2001 ex. 5.2, teasel", "memory", TEASEL, 2.334, 1e-3),
    ("Doak and others 1994, tortoise", "memory", TORTOISE, 0.958, 1e-3),
    ("R popbio, killer whale", "computed", KILLER_WHALE, 1.025441326, 1e-9),
    ("R popbio, teasel", "computed", TEASEL, 2.3340059, 1e-7),
    ("R popbio, tortoise", "computed", TORTOISE, 0.9580592, 1e-7),
    ("Kammenga and others 2001, P. scaber", "computed", SCABER, 1.28492, 1e-5),
]


@pytest.mark.parametrize("row", RATES, ids=lambda row: row[0])
def test_growth_rates(row: tuple[str, How, Matrix, float, float]) -> None:
    source, how, matrix, value, step = row
    ours = growth_rate(matrix)
    check = Check(source, how, 0, value, Tolerance(0.51 * step / value, "as printed"))
    assert check.holds(ours), said(check)
    can_fail(check, ours)


def all_near(ours: Matrix, printed: list[float], step: float) -> None:
    """Each to half the last figure; each moved by two halves is told apart."""
    got = ours[: len(printed)]
    assert got == pytest.approx(np.array(printed), abs=0.51 * step)
    for moved in range(len(printed)):
        wrong = got.copy()
        wrong[moved] += 1.1 * step
        assert wrong != pytest.approx(np.array(printed), abs=0.51 * step)


def test_loggerhead_stages_and_values() -> None:
    """As second-hand code prints them; the shares after the third are smaller than 0.007. The
    third is 0.1146, printed 0.115, the last value 587.67. r is -0.0565."""
    all_near(stable_stages(LOGGERHEAD), [0.207, 0.670, 0.115, 0.007], 0.001)
    values = reproductive_values(LOGGERHEAD)
    all_near(values[:3], [1.0, 1.40, 6.00], 0.01)
    all_near(values[3:], [115.8, 568.8, 507.4, 587.7], 0.1)
    assert math.log(growth_rate(LOGGERHEAD)) == pytest.approx(-0.0565, abs=0.000051)


def test_killer_whale() -> None:
    """R popbio and a second program (computed, both alike)."""
    all_near(stable_stages(KILLER_WHALE), [0.0370, 0.3161, 0.3229, 0.3240], 0.0001)
    assert elasticities(KILLER_WHALE)[2, 2] == pytest.approx(0.5386, abs=0.000051)
    assert elasticities(KILLER_WHALE)[1, 1] != pytest.approx(0.5386, abs=0.000051)
    young = np.zeros_like(KILLER_WHALE)
    young[0, 1:3] = KILLER_WHALE[0, 1:3]
    assert net_reproduction(KILLER_WHALE, young) == pytest.approx(2.013, abs=0.00051)
    assert generation_time(KILLER_WHALE, young) == pytest.approx(27.85, abs=0.0051)
    half = net_reproduction(KILLER_WHALE - young / 2, young / 2)
    assert half == pytest.approx(2.013 / 2, abs=0.00051)
    assert half != pytest.approx(2.013, abs=0.00051)


def test_teasel_elasticities() -> None:
    """By young, staying and growing (computed, R popbio): 0.3437, 0.0501, 0.6063."""
    ours = elasticities(TEASEL)
    young, staying = float(ours[:, 5].sum()), float(np.trace(ours))
    growing = float(np.tril(ours, -1)[:, :5].sum())
    all_near(np.array([young, staying, growing]), [0.3437, 0.0501, 0.6063], 0.0001)


def test_scaber() -> None:
    """Worked out from the matrix beforehand (computed): stages, R0 5.72 and some seven months a
    generation. A month is 30.4 days: 0.0082 a day, doubling in 84. The fifth share was noted as
    0.017; it is 0.01647, and the noted shares sum to 1.001, so it is not held to."""
    young = np.zeros_like(SCABER)
    young[0, [3, 5]] = 12
    stages = stable_stages(SCABER)
    all_near(stages[:4], [0.405, 0.395, 0.130, 0.027], 0.001)
    all_near(stages[5:], [0.011, 0.016], 0.001)
    assert stages[4] != pytest.approx(0.017, abs=0.00051)
    born = net_reproduction(SCABER, young)
    assert born == pytest.approx(5.72, abs=0.0051)
    assert born + 0.011 != pytest.approx(5.72, abs=0.0051)
    assert generation_time(SCABER, young) == pytest.approx(7.0, abs=0.051)
    daily = math.log(growth_rate(SCABER)) / 30.4
    assert daily == pytest.approx(0.0082, abs=0.000051)
    assert math.log(2) / daily == pytest.approx(84, abs=0.51)
    assert math.log(2) / (daily * 1.02) != pytest.approx(84, abs=0.51)


def test_scaber_survival() -> None:
    """Stage survival 0.88 0.79 0.77 0.95 0.80 0.80 0.80 (seen): the columns without the young."""
    young = np.zeros_like(SCABER)
    young[0, [3, 5]] = 12
    all_near((SCABER - young).sum(axis=0), [0.88, 0.79, 0.77, 0.95, 0.80, 0.80, 0.80], 0.0002)


VULGARE = {"tallow forest": (7.59, 245, 0.01020), "oak forest": (7.46, 337, 0.00669)}
"""Armadillidium vulgare in Texas, a thesis (seen): R0, days a generation, printed r."""


@pytest.mark.parametrize("forest", VULGARE)
def test_vulgare(forest: str) -> None:
    """All young on the last of the days, a day a step: r = ln R0/T, within 30 % of the printed
    one, for the ages were counted at one time and taken as a standing age structure. Printed as
    "per 50 days"; were it so, it would be fifty times off."""
    born, days, printed = VULGARE[forest]
    daily = np.zeros((days, days))
    daily[np.arange(1, days), np.arange(days - 1)] = 1.0
    daily[0, -1] = born
    ours = math.log(growth_rate(daily))
    assert ours == pytest.approx(math.log(born) / days, rel=1e-6)
    check = Check(forest, "seen", days, printed, Tolerance(0.30, "a standing age structure"))
    assert check.holds(ours)
    assert not check.holds(ours * 50)
    assert not check.holds(ours * 2)


def test_what_may_go() -> None:
    """1 - 1/lambda: 0.222 of the woodlice a month, and nothing of what falls."""
    share = sustainable_share(SCABER)
    assert share == pytest.approx(1 - 1 / 1.28492, abs=1e-5)
    assert growth_rate((1 - share) * SCABER) == pytest.approx(1.0, rel=1e-9)
    assert growth_rate((1 - share - 0.01) * SCABER) < 1.0 - 1e-3
    assert sustainable_share(LOGGERHEAD) == 0.0
    assert sustainable_share(TORTOISE) == 0.0
