"""Boxes of one make share what their weighings teach: simulated makes, limits, refusals."""

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from mancary.science.validity import OutsideValidity
from mancary.science.weighing import PRIOR_FACTOR, PRIOR_SPREAD, loss_factor, pooled

SCALE_SD_G = 0.6
"""Of a scale that shows whole grams."""


def makes(
    boxes: int, model: float, count: int, sd_times: float = 1.0
) -> tuple[float, float, float, float]:
    """Shares held of boxes' and of makes' truths; root mean square errors pooled and alone."""
    chance = np.random.default_rng(7)
    part = np.log(PRIOR_SPREAD) * 0.5**0.5
    slope_sd = np.full(boxes, SCALE_SD_G / 24.5**0.5)
    held, held_make, off, off_alone = [], [], [], []
    for _ in range(count):
        middle = np.log(PRIOR_FACTOR) + chance.normal(0, part)
        truth = np.exp(middle + chance.normal(0, abs(chance.normal(0, part)), boxes))
        slope = truth * model + chance.normal(0, slope_sd)
        told = pooled(
            slope_g_per_day=slope,
            slope_sd_g_per_day=slope_sd * sd_times,
            model_g_per_day=np.full(boxes, model),
        )
        held.append((told.low <= truth) & (truth <= told.high))
        held_make.append(told.make_low <= np.exp(middle) <= told.make_high)
        off.append(np.log(told.estimate / truth))
        alone = [
            loss_factor(
                days=[0, 7],
                gross_g=[100, 100 - 7 * b],
                added_g=[0, 0],
                model_g_per_day=model,
                scale_sd_g=SCALE_SD_G,
            ).estimate
            for b in slope
        ]
        off_alone.append(np.log(np.array(alone) / truth))
    return (
        float(np.mean(held)),
        float(np.mean(held_make)),
        float(np.mean(np.square(off))) ** 0.5,
        float(np.mean(np.square(off_alone))) ** 0.5,
    )


@pytest.mark.parametrize(("boxes", "model"), [(2, 0.3), (6, 0.3), (6, 0.76)])
def test_pooled_ranges_hold_nine_truths_in_ten_and_err_less(boxes: int, model: float) -> None:
    """300 makes: the standard error is 0.017 for a make, less for the boxes together."""
    held, held_make, off, off_alone = makes(boxes, model, 300)
    assert 0.85 < held < 0.95
    assert 0.84 < held_make < 0.96
    assert off < off_alone


def test_pooling_with_the_scale_overrated_is_found_out() -> None:
    assert makes(6, 0.76, 100, sd_times=0.2)[0] < 0.85


def together(slopes: Sequence[float], sd: float = 0.05) -> Any:
    count = len(slopes)
    return pooled(
        slope_g_per_day=slopes,
        slope_sd_g_per_day=[sd] * count,
        model_g_per_day=[1.0] * count,
    )


def test_boxes_alike_pull_a_silent_box_along() -> None:
    told = together([2.0, 2.1, 1.9, 2.05, 0.02], sd=0.05)
    silent = pooled(
        slope_g_per_day=[2.0, 2.1, 1.9, 2.05, 0.02],
        slope_sd_g_per_day=[0.05, 0.05, 0.05, 0.05, 20.0],
        model_g_per_day=[1.0] * 5,
    )
    assert list(told.heard) == [True, True, True, True, False]
    assert silent.estimate[-1] == pytest.approx(2.0, rel=0.1)
    assert silent.between_spread < told.between_spread


def test_boxes_that_differ_keep_their_own_figures() -> None:
    told = together([0.5, 1.0, 2.0, 4.0], sd=0.02)
    assert told.estimate == pytest.approx([0.5, 1.0, 2.0, 4.0], rel=0.02)
    assert told.between_spread > 1.8


def test_a_faint_box_is_drawn_further_than_a_clear_one() -> None:
    told = pooled(
        slope_g_per_day=[2.0, 2.0, 2.0, 4.0, 4.0],
        slope_sd_g_per_day=[0.1, 0.1, 0.1, 0.1, 1.0],
        model_g_per_day=[1.0] * 5,
    )
    assert 2.0 < told.estimate[4] < told.estimate[3] < 4.0


def test_one_box_pooled_is_nearly_that_box_alone() -> None:
    alone = loss_factor(
        days=[0, 7],
        gross_g=[1500, 1493],
        added_g=[0, 0],
        model_g_per_day=0.76,
        scale_sd_g=SCALE_SD_G,
    )
    one = together([1.0 / 0.76], sd=SCALE_SD_G / 24.5**0.5 / 0.76)
    # ranges from two moments and a normal logarithm, where the box alone has the whole shape
    assert one.estimate[0] == pytest.approx(alone.estimate, rel=0.03)
    assert one.high[0] / one.low[0] == pytest.approx(alone.high / alone.low, rel=0.05)


def test_pooling_refuses_lengths_that_differ() -> None:
    with pytest.raises(ValueError, match="length"):
        pooled(slope_g_per_day=[1, 2], slope_sd_g_per_day=[0.1], model_g_per_day=[1, 1])
    with pytest.raises(OutsideValidity):
        together([1.0], sd=0.0)
