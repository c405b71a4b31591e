"""All that the boxes want in the weeks ahead, and the evenings there are for it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta, tzinfo

from msgspec.structs import replace

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import BookOpened, CareSkipped, RoundTimed, Withdrawn
from mancary.husbandry.moments import last_day
from mancary.husbandry.order import in_order
from mancary.husbandry.planning_evenings import Evening
from mancary.husbandry.register import REGISTER_KINDS, Register
from mancary.husbandry.sentences import tell
from mancary.husbandry.standing import Standing, pack
from mancary.husbandry.tasks import Task, tasks_of
from mancary.husbandry.water_due import MistDue
from mancary.husbandry.words import said
from mancary.usecases.round_minutes import evenings_from
from mancary.usecases.round_shelves import ShelfTask, shelf_tasks
from mancary.usecases.round_watch import with_watch
from mancary.usecases.standings import carried_along, register_of, standings_of
from mancary.usecases.timed import efforts_known
from mancary.usecases.unchanged import Unchanged
from mancary.usecases.wants import box_wants, walking_order
from mancary.usecases.zone import zone_of

WEEKS_AHEAD = 4
CATCHING = ("mites", "violet_sheen", "ants")
"""Carried from box to box on tools and hands: opened last (common practice, from memory)."""

CATCHING_DAYS = 28
"""Ours: so long after it was last seen a box still counts as one that may pass it on."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """The register, the walk through the boxes with a colony, the evenings, and the tasks.

    ``catching`` says of boxes that are not in quarantine what was seen in them that may spread.
    """

    register: Register
    walk: tuple[str, ...]
    evenings: tuple[Evening, ...]
    tasks: tuple[Task, ...]
    shelves: tuple[ShelfTask, ...]
    opening_minutes: float
    minutes_basis: str
    catching: Mapping[str, str]


def look_ahead(book: Book, *, on: date, named: bool, minutes: float | None) -> Ahead:
    """What is to be shared out from an evening on, four weeks ahead."""
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    evenings = evenings_from(register, on, weeks=WEEKS_AHEAD, named=named, minutes=minutes)
    standings = standings_of(book, zone, until=on)
    efforts, opening_minutes, basis = efforts_known(book)
    living = [box.code for box in register.boxes.values() if box.colony and not box.retired_on]
    catching = _catching(register, standings, evenings[0].day, zone)
    walk = sorted(walking_order(register, living), key=lambda box: _place(register, box, catching))
    since = _opened_on(book, zone)
    asked = (evenings[0].day, evenings[-1].day, zone, since, on)
    kept = _TASKS.get(book, asked, None, dict)
    tasks = [
        task
        for box in walk
        for task in _kept_tasks(
            kept, book, register, standings.get(box, Standing(box)), efforts, evenings, zone, since
        )
    ]
    looked = _looked(standings, evenings[0].day, zone)
    tasks = with_watch(book, tasks, walk, efforts, on=evenings[0].day, looked=looked)
    skipped = _skipped(book, evenings[0].day, zone)
    tasks = [
        _not_tonight(task, evenings[0].day) if _key(task) in skipped else task for task in tasks
    ]
    shelves = shelf_tasks(book, register, on=evenings[0].day)
    return Ahead(
        register,
        tuple(walk),
        tuple(evenings),
        tuple(tasks),
        shelves,
        opening_minutes,
        basis,
        catching,
    )


def _looked(standings: Mapping[str, Standing], on: date, zone: tzinfo) -> set[str]:
    """The boxes that were given a look within a week."""
    since = on - timedelta(weeks=1)
    return {
        box
        for box, standing in standings.items()
        if "look" in standing.given and last_day(standing.given["look"], zone) > since
    }


def _key(task: Task) -> tuple[str, str]:
    return task.box, task.care


def _skipped(book: Book, on: date, zone: tzinfo) -> set[tuple[str, str]]:
    """The cares left out on purpose that evening; they are not asked for again before the next."""
    told = in_order(book.entries_of((CareSkipped.kind, Withdrawn.kind)), zone)
    return {
        (entry.fact.box, entry.fact.care)
        for entry in told
        if isinstance(entry.fact, CareSkipped) and last_day(entry.happened, zone) == on
    }


def _not_tonight(task: Task, on: date) -> Task:
    return replace(task, due=on + timedelta(days=1)) if task.due <= on else task


def _place(register: Register, box: str, catching: Mapping[str, str]) -> int:
    """Boxes free of all that spreads first, then those where it was seen, then quarantine."""
    return 2 if register.boxes[box].quarantine else int(box in catching)


def _catching(
    register: Register, standings: Mapping[str, Standing], on: date, zone: tzinfo
) -> dict[str, str]:
    found = {}
    for code, standing in standings.items():
        days = {
            word: last_day(seen.happened, zone)
            for word, seen in standing.seen.items()
            if word in CATCHING
        }
        recent = {word: day for word, day in days.items() if (on - day).days <= CATCHING_DAYS}
        box = register.boxes.get(code)
        if recent and box and not box.quarantine:
            word, day = max(recent.items(), key=lambda one: one[1])
            found[code] = tell(
                "%(word)s seen %(day)s: last, with own tools", word=said(word), day=day
            )
    return found


def box_ahead(book: Book, box: str, *, on: date, weeks: int) -> list[Task]:
    """The tasks of one box whose window opens within the weeks, in the order of their due days."""
    zone = zone_of(book)
    register = register_of(book, zone, until=on)
    efforts, _, _ = efforts_known(book)
    evenings = [Evening(day=on, minutes=0), Evening(day=on + timedelta(weeks=weeks), minutes=0)]
    standing = standings_of(book, zone, until=on).get(box, Standing(box))
    standing = carried_along(book, register.colony_in(box), standing, zone)
    tasks = _tasks(book, register, standing, efforts, evenings, zone, _opened_on(book, zone))
    looked = _looked({box: standing}, on, zone)
    tasks = with_watch(book, tasks, [box], efforts, on=on, looked=looked)
    skipped = _skipped(book, on, zone)
    return [_not_tonight(task, on) if _key(task) in skipped else task for task in tasks]


_TASKS: Unchanged[None, dict[str, tuple[bytes, list[Task]]]] = Unchanged(
    states=4, kinds=(*REGISTER_KINDS, RoundTimed.kind)
)
"""The tasks of each box with the standing they were made from."""


def _kept_tasks(
    kept: dict[str, tuple[bytes, list[Task]]],
    book: Book,
    register: Register,
    standing: Standing,
    efforts: Mapping[str, handbook.Effort],
    evenings: Sequence[Evening],
    zone: tzinfo,
    since: date | None,
) -> list[Task]:
    """As ``_tasks``, made anew where the box's standing is another one.

    What the scale says rests on shelves and other boxes too, and is worked out each time.
    """
    standing = carried_along(book, register.colony_in(standing.box), standing, zone)
    if standing.just_right:
        return _tasks(book, register, standing, efforts, evenings, zone, since)
    packed = pack(standing)
    if standing.box not in kept or kept[standing.box][0] != packed:
        kept[standing.box] = (
            packed,
            _tasks(book, register, standing, efforts, evenings, zone, since),
        )
    return kept[standing.box][1]


def _tasks(
    book: Book,
    register: Register,
    standing: Standing,
    efforts: Mapping[str, handbook.Effort],
    evenings: Sequence[Evening],
    zone: tzinfo,
    since: date | None,
) -> list[Task]:
    start, end = evenings[0].day, evenings[-1].day
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
        known_since=since,
        by_scale=_by_scale(book, register, standing, start, zone),
    )


def _by_scale(
    book: Book, register: Register, standing: Standing, on: date, zone: tzinfo
) -> MistDue | None:
    """The misting that weighings call for; only boxes with a weight marked just right are asked."""
    if not standing.just_right:
        return None
    from mancary.usecases.water import mist_by_scale  # numpy is slow to import

    return mist_by_scale(book, register, standing, on=on, zone=zone)


def _opened_on(book: Book, zone: tzinfo) -> date | None:
    """The day the book was begun: cares without a record get their first days from then on."""
    opened = book.entries_of((BookOpened.kind,))
    return last_day(opened[0].typed, zone) if opened else None
