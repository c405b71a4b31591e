"""The round: which box to open on which evening, and what to do there tonight."""

import datetime as dt
from collections.abc import Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from mancary.book import Book
from mancary.husbandry.facts import RoundAccepted
from mancary.husbandry.planning_evenings import Evening, Kept, Planned
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Quarantine
from mancary.husbandry.tasks import Task
from mancary.husbandry.words import AT_HAND
from mancary.usecases.pen import Pen
from mancary.usecases.quietly import quietly
from mancary.usecases.round_ahead import Ahead, look_ahead
from mancary.usecases.round_kept import accept_round, accepted_round, kept_days
from mancary.usecases.round_shelves import ShelfTask
from mancary.usecases.species_names import species_name
from mancary.usecases.tray import TrayItem, amount_of, tray_of


class StopTask(Struct, frozen=True, kw_only=True):
    """One care at one stop; ``amount`` in ``unit`` is a range's middle, said in ``said``."""

    care: str
    due: date
    latest: date
    amount: float | None
    unit: str
    said: str
    why: str


class Stop(Struct, frozen=True, kw_only=True):
    """One box opened tonight, with its tasks, the minutes they take together, and a word on it.

    ``apart``: in quarantine, or something catching was seen in it; opened last, with own tools.
    """

    box: str
    shelf: str
    position: int | None
    species: str
    quarantined: bool
    apart: bool
    minutes: float
    tasks: tuple[StopTask, ...]
    words: str


class PutOff(Struct, frozen=True, kw_only=True):
    """A care that is due and not done tonight: until when, and what that risks."""

    box: str
    care: str
    until: date | None
    late_days: int
    risk: str


class Round(Struct, frozen=True, kw_only=True):
    """Tonight's round in walking order, and what it leaves for later.

    ``minutes_needed`` is all that is due by then, ``minutes_planned`` what fits; ``bound_gap`` says
    how far the plan of the weeks ahead may be from the best there is, as a share of its cost.
    """

    date: dt.date
    minutes_offered: float
    minutes_needed: float
    minutes_planned: float
    bound_gap: float | None
    planned_until: dt.date
    tray: tuple[TrayItem, ...]
    shelves: tuple[ShelfTask, ...]
    stops: tuple[Stop, ...]
    put_off: tuple[PutOff, ...]
    basis: str
    invented: bool


BASIS = tell(
    "Minutes are estimates and the harm of lateness is ours (see the handbook's"
    " page on work); rhythms are common practice unless they are yours."
)


def plan_round(book: Book, *, on: date, named: bool, minutes: float | None = None) -> Round:
    """The round of an evening: of ``on`` where it is ``named``, else of the next working evening.

    A plan accepted for that evening is told as it stands, less what was done since. ``minutes``
    offers so many for that evening instead of the weekday's own, and plans anew.
    """
    return told_round(*planned_round(book, on=on, named=named, minutes=minutes))


def planned_round(
    book: Book, *, on: date, named: bool, minutes: float | None = None
) -> tuple[Ahead, Planned]:
    """What ``plan_round`` puts in words: what is wanted, and on which evening."""
    ahead = look_ahead(book, on=on, named=named, minutes=minutes)
    accepted = accepted_round(book, ahead.evenings[0].day) if minutes is None else None
    if accepted:
        return ahead, planned_as_accepted(ahead, accepted)
    return ahead, planned_anew(ahead, kept_days(book))


def accept_plan(
    book: Book, *, on: date, named: bool, minutes: float | None = None, pen: Pen
) -> Round:
    """Plans the weeks ahead anew, near what was accepted before, and keeps the plan as a fact."""
    ahead = look_ahead(book, on=on, named=named, minutes=minutes)
    planned = planned_anew(ahead, kept_days(book))
    accept_round(book, planned, pen=pen)
    return told_round(ahead, planned)


def planned_anew(ahead: Ahead, kept: Kept) -> Planned:
    """The best plan of the weeks ahead that stays near the one accepted before."""
    from mancary.husbandry.planning import plan_tasks  # scipy is slow to import

    opening = ahead.opening_minutes
    tonight, *later = ahead.evenings
    at_shelves = sum(one.minutes for one in ahead.shelves)
    left = replace(tonight, minutes=max(0.0, tonight.minutes - at_shelves))
    with quietly():
        planned = plan_tasks(ahead.tasks, [left, *later], opening_minutes=opening, kept=kept)
    return replace(planned, evenings=tuple(ahead.evenings))


def planned_as_accepted(ahead: Ahead, accepted: RoundAccepted) -> Planned:
    """The accepted plan over the tasks that are still to be done."""
    days: dict[tuple[str, str], list[date]] = {}
    for evening in accepted.evenings:
        for stop in evening.stops:
            for care in stop.cares:
                days.setdefault((stop.box, care), []).append(date.fromisoformat(evening.day))
    placed = []
    for task in ahead.tasks:
        waiting = days.get((task.box, task.care), [])
        while waiting and waiting[0] < task.due:  # done on that evening, or since
            waiting.pop(0)
        placed.append((task, waiting.pop(0) if waiting else None))
    evenings = tuple(
        Evening(day=date.fromisoformat(evening.day), minutes=evening.minutes)
        for evening in accepted.evenings
    )
    return Planned(evenings=evenings, tasks=tuple(placed), cost=0.0, bound=0.0, gap=accepted.gap)


def told_round(ahead: Ahead, planned: Planned) -> Round:
    """The first evening of a plan, in walking order, and what it leaves for later."""
    register, walk, tasks = ahead.register, ahead.walk, ahead.tasks
    tonight = planned.evenings[0]
    opening = ahead.opening_minutes
    here = [task for task, day in planned.tasks if day == tonight.day]
    here.sort(key=lambda task: AT_HAND.index(task.care))
    stops = [
        _stop(ahead, box, [task for task in here if task.box == box], tonight.day)
        for box in walk
        if any(task.box == box for task in here)
    ]
    due = [task for task in tasks if task.due <= tonight.day]
    at_shelves = sum(one.minutes for one in ahead.shelves)
    needed = sum(task.minutes for task in due) + opening * len({task.box for task in due})
    return Round(
        date=tonight.day,
        minutes_offered=tonight.minutes,
        minutes_needed=round(needed + at_shelves, 1),
        minutes_planned=round(sum(stop.minutes for stop in stops) + at_shelves, 1),
        bound_gap=planned.gap,
        planned_until=planned.evenings[-1].day,
        tray=tray_of((task.care, task.amount, task.unit) for stop in stops for task in stop.tasks),
        shelves=ahead.shelves,
        stops=tuple(stops),
        put_off=tuple(_put_off(planned, tonight.day)),
        basis=tell("Minutes %(minutes_basis)s. %(basis)s", ahead, basis=BASIS)
        if ahead.minutes_basis
        else BASIS,
        invented=bool(register.opened and register.opened.invented),
    )


def _stop(ahead: Ahead, box: str, tasks: Sequence[Task], tonight: date) -> Stop:
    register = ahead.register
    state = register.boxes[box]
    line = register.line_in(box)
    told = []
    for task in tasks:
        amount = amount_of(task, state.litres)
        told.append(
            StopTask(
                care=task.care,
                due=task.due,
                latest=task.latest,
                amount=amount.middle if amount else None,
                unit=amount.unit if amount else "",
                said=amount.said if amount else task.said,
                why=task.why,
            )
        )
    return Stop(
        box=box,
        shelf=state.shelf,
        position=state.position,
        species=species_name(register, line.species).name if line else "",
        quarantined=state.quarantine is not None,
        apart=state.quarantine is not None or box in ahead.catching,
        minutes=round(ahead.opening_minutes + sum(task.minutes for task in tasks), 2),
        tasks=tuple(told),
        words=_quarantine_said(state.quarantine, tonight)
        if state.quarantine
        else ahead.catching.get(box, ""),
    )


def _quarantine_said(quarantine: Quarantine, tonight: date) -> str:
    until = quarantine.until
    if until and until <= tonight.isoformat():
        return tell(
            "quarantine may end: no losses for two weeks, no strangers on three looks,"
            " feeding seen (common practice, from memory)"
        )
    return (
        tell("quarantine until %(until)s, own tools", until=until)
        if until
        else tell("quarantine, own tools")
    )


def _put_off(planned: Planned, tonight: date) -> list[PutOff]:
    found = [
        PutOff(
            box=task.box,
            care=task.care,
            until=day,
            late_days=max(0, ((day or planned.evenings[-1].day) - task.latest).days),
            risk=_risk(task, day, planned.evenings[-1].day),
        )
        for task, day in planned.tasks
        if task.due <= tonight and day != tonight
    ]
    return sorted(found, key=lambda one: (-one.late_days, one.box, one.care))


def _risk(task: Task, day: date | None, end: date) -> str:
    if day is None and task.latest > end:
        return tell("none: in its window until %(latest)s", task)
    if day is None:
        return tell("no evening up to %(end)s has the minutes: %(risk)s", task, end=end)
    if day <= task.latest:
        return tell("none: in its window until %(latest)s", task)
    return tell("%(days)s days past its window: %(risk)s", task, days=(day - task.latest).days)
