"""The round's plan at a hundred, a thousand and ten thousand boxes, as the product makes it."""

import random
from collections.abc import Iterator
from datetime import date, timedelta

from bench.result import Result, seconds
from mancary import handbook
from mancary.husbandry.planning import plan_tasks
from mancary.husbandry.planning_evenings import Evening, Planned
from mancary.husbandry.tasks import CHANGES, Task

START, EVENINGS, FITS = date(2026, 11, 1), 8, 0.6
OPENING = handbook.opening().minutes
_CARES = tuple(handbook.efforts().values())
_TASKS_A_BOX = 24


def room(boxes: int, seed: int = 5) -> list[Task]:
    """Made-up tasks of four weeks: any care, any day, one box in eight with a half change."""
    chance = random.Random(seed)
    found = []
    for number in range(boxes):
        efforts = chance.choices([one for one in _CARES if one.care not in CHANGES], k=_TASKS_A_BOX)
        if number % 8 == 0:
            efforts.append(handbook.efforts()["substrate_half"])
        found += [_task(chance, f"{number:05}", effort) for effort in efforts]
    return found


def _task(chance: random.Random, box: str, effort: handbook.Effort) -> Task:
    due = START + timedelta(days=chance.randint(-6, 24))
    return Task(
        box=box,
        care=effort.care,
        due=due,
        latest=due + timedelta(days=chance.randint(1, 12)),
        minutes=effort.minutes * chance.uniform(0.8, 1.2),
        harm=effort.harm * chance.uniform(0.5, 1.6),
        why="made up",
        risk=effort.risk,
        every_days=228.5 if effort.care in CHANGES else 0.0,
    )


def evenings(tasks: list[Task]) -> list[Evening]:
    """Two a week, with minutes for about six tenths of what is wanted."""
    minutes = sum(task.minutes for task in tasks) * FITS / EVENINGS
    days = (START + timedelta(days=7 * number / 2) for number in range(EVENINGS))
    return [Evening(day=day, minutes=minutes) for day in days]


def measure() -> Iterator[Result]:
    """Time and gap; the bound is one for the whole room at every size."""
    for boxes in (100, 1_000, 10_000):
        tasks = room(boxes)
        offered = evenings(tasks)
        found: list[Planned] = []
        took = seconds(
            lambda tasks=tasks, offered=offered, found=found: found.append(  # type: ignore[misc]
                plan_tasks(tasks, offered, opening_minutes=OPENING)
            )
        )
        planned = found[0]
        yield Result(
            name=f"plan of {boxes:,} boxes, {len(tasks):,} tasks, {EVENINGS} evenings, time",
            value=took,
            unit="s",
            reference="no other planner of this problem is at hand",
            ratio=None,
        )
        yield Result(
            name=f"plan of {boxes:,} boxes, {EVENINGS} evenings, cost over the proven bound",
            value=planned.gap or 0.0,
            unit="1",
            reference="the bound proven for the whole room by prices on minutes",
            ratio=planned.cost / max(planned.bound, 1.0),
        )
