"""Springtail cultures against the life table and the warmth they are worked out from."""

import numpy as np
import pytest

from mancary.handbook.culture import culture_growth


def test_springtails_grow_as_their_life_table_says() -> None:
    """Folsomia candida at 20 °C: 104 eggs a female by day 26 after hatching, 220 by 40, 452 by 60,
    657 by 80, hatching after 9 days (through a database: Crommentuijn and others; seen). All are
    females. Each lot is put to the middle of its days: within a tenth."""
    lots = np.array([104, 116, 232, 205.0])
    days = np.array([21.0, 33.0, 50.0, 70.0]) + 9
    rates = np.linspace(0.05, 0.3, 2501)
    sums = (lots * np.exp(-np.outer(rates, days))).sum(axis=1)
    table = float(rates[np.argmin(np.abs(sums - 1.0))])
    ours = culture_growth(20.0)
    assert ours.r_mode == pytest.approx(table, rel=0.1)
    assert culture_growth(15.0).r_mode != pytest.approx(table, rel=0.1)
    assert culture_growth(20.0, seldom_fed=True).r_mode < ours.r_mode


def test_springtails_and_warmth_as_published() -> None:
    """Days to hatching 15 at 15 °C and 9 at 20 °C (through a database): speed 0.6. Within 15 %;
    a threshold of 10 °C would give a half."""
    ratio = culture_growth(15.0).r_mode / culture_growth(20.0).r_mode
    assert ratio == pytest.approx(9 / 15, rel=0.15)
    with_ten = (15 - 10) / (20 - 10)
    assert with_ten != pytest.approx(9 / 15, rel=0.15)
    assert culture_growth(25.0).r_mode == culture_growth(20.0).r_mode
    for dead in (2.0, 28.0, 35.0):
        assert culture_growth(dead).r_high == 0
        assert culture_growth(dead).weekly_share == 0
        assert culture_growth(dead).doubling_days == (np.inf, np.inf)


def test_springtail_shares() -> None:
    good = culture_growth(20.0)
    assert good.bearable_share == pytest.approx(0.65, abs=0.01)
    assert good.weekly_share == pytest.approx(0.3)
    assert good.kind == "published"
    soonest, latest = good.doubling_days
    assert 4.0 < soonest < 4.7 < latest < 5.1
    cool = culture_growth(12.0)
    assert 0 < cool.weekly_share < 0.3
    assert cool.weekly_share <= cool.bearable_share / 2
    assert cool.kind == "ours"
    assert cool.r_low < cool.r_mode < cool.r_high
    assert "analogy" in culture_growth(20.0, species="sinella-curviseta").basis
    with pytest.raises(ValueError, match="not a springtail"):
        culture_growth(20.0, species="porcellio-scaber")
    with pytest.raises(ValueError, match="number"):
        culture_growth(float("nan"))
