"""All that the boxes want in the weeks ahead, and the evenings there are for it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, tzinfo

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.planning_evenings import Evening
from mancary.husbandry.register import Register
from mancary.husbandry.standing import Standing
from mancary.husbandry.tasks import Task, tasks_of
from mancary.usecases.round_minutes import evenings_from
from mancary.usecases.round_shelves import ShelfTask, shelf_tasks
from mancary.usecases.standings import carried_along, register_of, standings_of
from mancary.usecases.timed import efforts_known
from mancary.usecases.wants import box_wants, walking_order
from mancary.usecases.zone import zone_of

WEEKS_AHEAD = 4


@dataclass(frozen=True, slots=True)
class Ahead:
    """The register, the walk through the boxes with a colony, the evenings, and the tasks."""

    register: Register
    walk: tuple[str, ...]
    evenings: tuple[Evening, ...]
    tasks: tuple[Task, ...]
    shelves: tuple[ShelfTask, ...]
    opening_minutes: float
    minutes_basis: str


def look_ahead(book: Book, *, on: date, named: bool, minutes: float | None) -> Ahead:
    """What is to be shared out from an evening on, four weeks ahead."""
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    evenings = evenings_from(register, on, weeks=WEEKS_AHEAD, named=named, minutes=minutes)
    standings = standings_of(book, zone, until=on)
    efforts, opening_minutes, basis = efforts_known(book)
    living = [box.code for box in register.boxes.values() if box.colony and not box.retired_on]
    walk = walking_order(register, living)
    tasks = [
        task
        for box in walk
        for task in _tasks(
            book, register, standings.get(box, Standing(box)), efforts, evenings, zone
        )
    ]
    shelves = shelf_tasks(book, register, on=evenings[0].day)
    return Ahead(
        register, tuple(walk), tuple(evenings), tuple(tasks), shelves, opening_minutes, basis
    )


def _tasks(
    book: Book,
    register: Register,
    standing: Standing,
    efforts: Mapping[str, handbook.Effort],
    evenings: Sequence[Evening],
    zone: tzinfo,
) -> list[Task]:
    start, end = evenings[0].day, evenings[-1].day
    standing = carried_along(book, register.colony_in(standing.box), standing, zone)
    wants = box_wants(register, standing, on=start, zone=zone)
    species = wants.species
    known = species is not None and species.slug in handbook.species_slugs()
    page = (species.slug if known else species.care_group) if species else ""
    return tasks_of(
        standing,
        wants.wants,
        efforts,
        species=page,
        start=start,
        end=end,
        zone=zone,
    )
