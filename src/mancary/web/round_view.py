"""The round as its page shows it: every shelf as it stands, what is to be opened, what is done."""

from collections.abc import Iterable
from datetime import date, tzinfo

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.moments import last_day
from mancary.husbandry.register import Register
from mancary.usecases.round_kept import accepted_round
from mancary.usecases.round_plan import Round, Stop
from mancary.usecases.round_watch import WITH_A_COUNT
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import register_of, standings_of
from mancary.web.drawing.standing_on import shelf_said, standing_on
from mancary.web.drawing.strip import Standing, Strip, foremost, strips, tag_of
from mancary.web.tongue import _


class StopView(Struct, frozen=True, kw_only=True):
    """One box to open; ``late`` is the care past its window that its tag names, if any is."""

    stop: Stop
    species: SpeciesName | None
    late: str


class ShelfPart(Struct, frozen=True, kw_only=True):
    """A shelf, or the boxes set apart: its pictures, its stops, and the boxes done."""

    number: int
    shelf: str
    apart: bool
    name: str
    strips: list[Strip]
    drawn: int
    stops: list[StopView]
    done: list[str]
    minutes: float
    read: bool

    @property
    def names(self) -> tuple[str, str]:
        """By what a form names it: its number, and its shelf."""
        return f"part {self.number}", f"shelf {self.shelf}"


class RoundView(Struct, frozen=True, kw_only=True):
    """All parts in walking order; ``begun`` where something of the round is written."""

    parts: list[ShelfPart]
    done: int
    stops: int

    @property
    def begun(self) -> bool:
        return bool(self.done)


def round_view(book: Book, told: Round, *, zone: tzinfo) -> RoundView:
    """The parts of a round: the shelves as they stand, then the boxes opened last."""
    register = register_of(book, zone, until=told.date)
    done = done_on(book, told, zone=zone)
    apart = [stop.box for stop in told.stops if stop.apart]
    apart += [box for box in done if register.boxes[box].quarantine and box not in apart]
    shelves = [
        (shelf, False, boxes)
        for shelf in _shelves(register)
        if (boxes := standing_on(shelf, register))
        and any(register.boxes[box].colony for box in boxes)
    ]
    wanted = [*shelves, *([("", True, apart)] if apart else [])]
    parts = [
        _part(number, *one, register=register, told=told, done=done)
        for number, one in enumerate(wanted, start=1)
    ]
    return RoundView(parts=parts, done=len(done), stops=len(told.stops))


def _shelves(register: Register) -> list[str]:
    turns = {shelf.code: shelf.turn for shelf in register.shelves.values()}
    named = {box.shelf for box in register.boxes.values() if box.colony and not box.retired_on}
    return sorted(named, key=lambda shelf: (turns.get(shelf, 10**6), not shelf, shelf))


def _part(
    number: int,
    shelf: str,
    apart: bool,  # noqa: FBT001
    boxes: list[str],
    *,
    register: Register,
    told: Round,
    done: list[str],
) -> ShelfPart:
    here = [
        _stop(register, stop, told.date)
        for stop in told.stops
        if stop.apart == apart and (apart or stop.shelf == shelf)
    ]
    forward = {one.stop.box: one for one in here}
    return ShelfPart(
        number=number,
        shelf=shelf,
        apart=apart,
        name=_("Last, with own tools") if apart else shelf_said(shelf, apart=False),
        strips=strips([_standing(register, box, forward.get(box), done) for box in boxes]),
        drawn=len(boxes),
        stops=here,
        done=[box for box in boxes if box in done],
        minutes=sum(one.stop.minutes for one in here),
        read=not apart and any(one.shelf == shelf for one in told.shelves),
    )


def _stop(register: Register, stop: Stop, on: date) -> StopView:
    line = register.line_in(stop.box)
    late = [task for task in stop.tasks if task.latest < on]
    late.sort(key=lambda task: task.latest)
    return StopView(
        stop=stop,
        species=species_name(register, line.species) if line else None,
        late=foremost([task.care for task in late]),
    )


def _standing(register: Register, box: str, stop: StopView | None, done: Iterable[str]) -> Standing:
    here = register.boxes[box]
    if stop is None:
        return Standing(box=here, tag=_("done") if box in done else "")
    if stop.late:
        return Standing(box=here, state="late", tag=tag_of(stop.late))
    watched = any(task.said == WITH_A_COUNT for task in stop.stop.tasks)
    return Standing(box=here, state="due", tag=_("watch") if watched else "")


def done_on(book: Book, told: Round, *, zone: tzinfo) -> list[str]:
    """The boxes of the accepted round that have nothing left of it and were seen to that day."""
    accepted = accepted_round(book, told.date)
    if accepted is None:
        return []
    left = {stop.box for stop in told.stops}
    planned = [stop.box for one in accepted.evenings[:1] for stop in one.stops]
    standings = standings_of(book, zone, until=told.date)
    return [
        box
        for box in planned
        if box not in left
        and box in standings
        and any(last_day(at, zone) == told.date for at in standings[box].given.values())
    ]
