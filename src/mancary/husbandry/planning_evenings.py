"""A working evening, and a plan over evenings: the words of the planner, without its numbers."""

from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from mancary.husbandry.tasks import Task

Kept = Mapping[tuple[str, str], frozenset[date]]
"""The evenings on which each care of a box was planned before."""


class Evening(Struct, frozen=True, kw_only=True):
    """A working evening and the minutes offered on it."""

    day: date
    minutes: float


class Planned(Struct, frozen=True, kw_only=True):
    """Each task with its evening, None where none was found; and how good the plan is."""

    evenings: tuple[Evening, ...]
    tasks: tuple[tuple[Task, date | None], ...]
    cost: float
    bound: float
    gap: float | None
