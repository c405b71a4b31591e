"""Plans against enumeration, against each other, and against their own bounds."""

import itertools

import numpy as np
import pytest

from mancary.science.box_choices import Choices, Floats, Work, best_choices
from mancary.science.evenings import share_out
from mancary.science.evenings_exact import share_out_exactly
from mancary.science.evenings_plan import LEVELLING, Plan


def made_up(boxes: int, tasks: int, evenings: int, seed: int) -> Work:
    """Invented work, for the planner's own sake: lateness costs more the later it is."""
    chance = np.random.default_rng(seed)
    minutes = chance.uniform(0.1, 1.5, (boxes, tasks))
    due = chance.uniform(-3, 24, (boxes, tasks))
    harm = chance.uniform(0.1, 3, (boxes, tasks))
    late = np.linspace(0, 28, evenings, endpoint=False) - due[:, :, None]
    cost = np.where(late < -4, np.inf, harm[:, :, None] * np.maximum(late, 0) + minutes[:, :, None])
    return Work(minutes, cost, harm * np.maximum(28 - due, 0) + 2, np.full(boxes, 0.8))


def offered(work: Work, share: float) -> Floats:
    evenings = work.cost.shape[2]
    return np.full(evenings, work.minutes.sum() / evenings * share)


def every_way(work: Work, box: int) -> list[tuple[float, Floats]]:
    """Cost and minutes of all that can be done with one box, one by one."""
    _, tasks, evenings = work.cost.shape
    ways = []
    for chosen in itertools.product(range(-1, evenings), repeat=tasks):
        cost, used = 0.0, np.zeros(evenings)
        for task, evening in enumerate(chosen):
            if evening < 0:
                cost += work.left_out[box, task]
            else:
                cost += work.cost[box, task, evening]
                used[evening] += work.minutes[box, task]
        for evening in set(chosen) - {-1}:
            cost += work.opening_minutes[box]
            used[evening] += work.opening_minutes[box]
        if np.isfinite(cost):
            ways.append((float(cost), used))
    return ways


def least_of_all(work: Work, limit: Floats) -> float:
    boxes = range(len(work.minutes))
    return min(
        sum(way[0] for way in ways)
        for ways in itertools.product(*(every_way(work, box) for box in boxes))
        if (sum(way[1] for way in ways) <= limit + 1e-9).all()
    )


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("share", [0.5, 0.9])
def test_a_small_plan_is_the_best_of_all_that_are_possible(seed: int, share: float) -> None:
    work = made_up(3, 3, 3, seed)
    limit = offered(work, share)
    best = least_of_all(work, limit)
    # the solver's own tolerance on a cost of some hundred minutes is a millionth of it
    assert share_out_exactly(work, limit).cost == pytest.approx(best, rel=1e-6)


def test_the_comparison_with_enumeration_can_fail() -> None:
    work = made_up(3, 3, 3, 0)
    limit = offered(work, 0.7)
    assert share_out_exactly(work, limit * 0.8).cost > least_of_all(work, limit) * (1 + 1e-6)


@pytest.mark.parametrize("seed", range(8))
def test_one_boxs_choice_under_prices_is_the_best_of_all_its_ways(seed: int) -> None:
    work = made_up(4, 3, 4, seed)
    prices = np.random.default_rng(seed).uniform(0, 3, 4)
    choices = best_choices(work, prices)
    for box in range(4):
        best = min(cost + float(used @ prices) for cost, used in every_way(work, box))
        assert choices.priced[box] == pytest.approx(best)
        spent = choices.cost[box] + float(choices.used[box] @ prices)
        assert spent == pytest.approx(best)


def cost_of(work: Work, plan: Plan) -> tuple[float, Floats]:
    """Cost and minutes of a plan, added up from its evenings alone."""
    boxes, tasks, evenings = work.cost.shape
    cost, used = 0.0, np.zeros(evenings)
    for box in range(boxes):
        for task in range(tasks):
            evening = plan.evening[box, task]
            if evening < 0:
                cost += work.left_out[box, task]
            else:
                cost += work.cost[box, task, evening]
                used[evening] += work.minutes[box, task]
        for evening in set(plan.evening[box].tolist()) - {-1}:
            cost += work.opening_minutes[box]
            used[evening] += work.opening_minutes[box]
    return cost, used


@pytest.mark.parametrize("share", [0.3, 0.6, 2.0])
def test_a_room_of_a_hundred_is_planned_within_the_minutes_and_near_the_bound(
    share: float,
) -> None:
    work = made_up(100, 30, 8, 5)
    limit = offered(work, share)
    plan = share_out(work, limit)
    cost, used = cost_of(work, plan)
    assert (used <= limit + 1e-6).all()
    np.testing.assert_allclose(used, plan.used, atol=1e-6)
    levelling = LEVELLING * work.minutes.sum()  # never more than this is added for levelling
    assert cost - 1e-6 <= plan.cost <= cost + levelling
    assert plan.bound <= plan.cost
    assert plan.gap <= 0.05  # what the issue asks of a hundred boxes


def test_the_same_work_gives_the_same_plan() -> None:
    work = made_up(24, 8, 5, 9)
    limit = offered(work, 0.5)
    first, second = share_out(work, limit), share_out(work, limit)
    np.testing.assert_array_equal(first.evening, second.evening)


def test_the_bound_is_below_the_proven_best() -> None:
    for seed in range(6):
        work = made_up(5, 3, 3, seed)
        limit = offered(work, 0.8)
        best = share_out_exactly(work, limit).cost
        plan = share_out(work, limit)
        slack = LEVELLING * work.minutes.sum()
        assert plan.bound <= best + slack
        assert plan.cost >= best - 1e-6


def test_with_no_minutes_nothing_is_done_and_with_no_boxes_nothing_is_planned() -> None:
    work = made_up(4, 3, 3, 1)
    plan = share_out(work, np.zeros(3))
    assert (plan.evening == -1).all()
    nobody = Work(np.empty((0, 3)), np.empty((0, 3, 3)), np.empty((0, 3)), np.empty(0))
    assert share_out(nobody, np.ones(3)).cost == 0.0


def test_too_many_evenings_are_refused() -> None:
    with pytest.raises(ValueError, match="too many"):
        best_choices(made_up(1, 1, 13, 1), np.zeros(13))


def test_choices_are_taken_in_parts_without_a_difference(monkeypatch: pytest.MonkeyPatch) -> None:
    work, prices = made_up(9, 3, 3, 4), np.full(3, 0.5)
    whole = best_choices(work, prices)
    monkeypatch.setattr("mancary.science.box_choices._CHUNK_CELLS", 48)
    parts: Choices = best_choices(work, prices)
    np.testing.assert_array_equal(whole.evening, parts.evening)
    np.testing.assert_allclose(whole.priced, parts.priced)
