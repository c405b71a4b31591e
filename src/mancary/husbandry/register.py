"""The register: which rooms, shelves, boxes, lines and colonies there are. A fold over facts."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import tzinfo

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    BatchEnded,
    BatchMade,
    BookOpened,
    BoxDescribed,
    BoxRetired,
    Ended,
    FigureChosen,
    Founded,
    Joined,
    LineNamed,
    LineRenamed,
    Moved,
    PageOpened,
    Quarantined,
    QuarantineEnded,
    RoomNamed,
    ShelfPlaced,
    Shelved,
    Split,
    Withdrawn,
)
from mancary.husbandry.moments import Moment
from mancary.husbandry.order import keyed
from mancary.husbandry.states import Batch, Box, Colony, Line, Quarantine, Shelf

REGISTER_KINDS: tuple[str, ...] = tuple(
    fact.kind
    for fact in (
        BookOpened,
        Withdrawn,
        RoomNamed,
        ShelfPlaced,
        Shelved,
        BoxDescribed,
        BoxRetired,
        Quarantined,
        QuarantineEnded,
        LineNamed,
        LineRenamed,
        PageOpened,
        FigureChosen,
        Founded,
        Moved,
        Split,
        Joined,
        Ended,
        BatchMade,
        BatchEnded,
    )
)
"""The kinds of fact that ``read_register`` needs."""


@dataclass(slots=True)
class Register:
    """What stands where. Made by ``read_register``; changed by nothing else."""

    opened: BookOpened | None = None
    rooms: dict[str, str] = field(default_factory=dict)
    shelves: dict[str, Shelf] = field(default_factory=dict)
    boxes: dict[str, Box] = field(default_factory=dict)
    lines: dict[str, Line] = field(default_factory=dict)
    colonies: dict[str, Colony] = field(default_factory=dict)
    pages: dict[str, PageOpened] = field(default_factory=dict)
    figures: dict[tuple[str, str, str], FigureChosen] = field(default_factory=dict)
    batches: dict[str, Batch] = field(default_factory=dict)

    def colony_in(self, box: str) -> Colony | None:
        """The colony that lives in the box now, if any."""
        state = self.boxes.get(box)
        return self.colonies.get(state.colony) if state and state.colony else None

    def line_in(self, box: str) -> Line | None:
        """The line that lives in the box now, if any."""
        colony = self.colony_in(box)
        return self.lines.get(colony.line) if colony else None

    def take(self, entry: Entry, key: str) -> None:
        """Adds what one entry says; entries come in the order in which they happened."""
        match entry.fact:
            case RoomNamed() | ShelfPlaced() | Shelved() | BoxDescribed() | BoxRetired():
                self._take_place(entry, key)
            case Quarantined() | QuarantineEnded():
                self._take_quarantine(entry)
            case LineNamed() | LineRenamed() | PageOpened() | FigureChosen():
                self._take_name(entry)
            case Founded() | Moved() | Split() | Joined() | Ended():
                self._take_colony(entry, key)
            case BatchMade() | BatchEnded() as fact:
                known = self.batches.setdefault(fact.batch, Batch(fact.batch))
                if isinstance(fact, BatchMade):
                    known.made, known.made_on = fact, entry.happened
                else:
                    known.ended_on = entry.happened
            case BookOpened() as fact:
                self.opened = fact

    def _box(self, code: str, happened: Moment) -> Box:
        return self.boxes.setdefault(code, Box(code, first_told=happened))

    def _take_place(self, entry: Entry, key: str) -> None:
        match entry.fact:
            case RoomNamed(room=room, note=note):
                self.rooms[room] = note
            case ShelfPlaced() as fact:
                self.shelves[fact.shelf] = Shelf(
                    fact.shelf, fact.room or "", fact.turn, fact.level, fact.air or "", fact.note
                )
            case Shelved() as fact:
                self.shelves.setdefault(fact.shelf, Shelf(fact.shelf, turn=len(self.shelves) + 1))
                box = self._box(fact.box, entry.happened)
                box.shelf, box.position = fact.shelf, fact.position
                box.stood.append((fact.shelf, key))
            case BoxDescribed() as fact:
                self._box(fact.box, entry.happened).describe(fact)
            case BoxRetired() as fact:
                box = self._box(fact.box, entry.happened)
                box.retired_on, box.retired_key = entry.happened, key

    def _take_quarantine(self, entry: Entry) -> None:
        match entry.fact:
            case Quarantined() as fact:
                state = Quarantine(entry.happened, fact.until, fact.why)
                self._box(fact.box, entry.happened).quarantine = state
            case QuarantineEnded() as fact:
                self._box(fact.box, entry.happened).quarantine = None

    def _take_name(self, entry: Entry) -> None:
        match entry.fact:
            case LineNamed() as fact:
                self.lines[fact.line] = Line(
                    fact.line, fact.species, fact.as_bought, fact.morph, fact.locality, fact.source
                )
            case LineRenamed() as fact if line := self.lines.get(fact.line):
                line.formerly.append((line.species, line.morph, fact.by, entry.happened))
                line.species, line.morph = fact.species, fact.morph or line.morph
            case PageOpened() as fact:
                self.pages[fact.species] = fact
            case FigureChosen() as fact:
                key = (fact.scope, fact.code, fact.figure)
                self.figures.pop(key, None)
                if fact.low is not None or fact.high is not None:
                    self.figures[key] = fact

    def _take_colony(self, entry: Entry, key: str) -> None:
        match entry.fact:
            case Founded() as fact:
                self._settle(
                    Colony(
                        fact.colony, fact.box, fact.line, entry.happened,
                        fact.founders_low, fact.founders_high,
                    ),
                    key,
                )  # fmt: skip
            case Split() as fact:
                parent = self.colonies.get(fact.colony)
                self._settle(
                    Colony(
                        fact.new_colony, fact.new_box, parent.line if parent else "",
                        entry.happened, fact.taken_low, fact.taken_high, came_from=fact.colony,
                    ),
                    key,
                )  # fmt: skip
            case Moved() as fact:
                self._leave(fact.from_box, fact.colony)
                colony = self.colonies.get(fact.colony)
                if colony:
                    colony.box = fact.to_box
                    colony.moved_on = entry.happened
                    colony.stays.append((fact.to_box, key))
                    self._box(fact.to_box, entry.happened).colony = fact.colony
            case Joined() as fact:
                self._end(fact.colony, fact.box, entry, key, "joined")
            case Ended() as fact:
                self._end(fact.colony, fact.box, entry, key, fact.cause)

    def _settle(self, colony: Colony, key: str) -> None:
        self.colonies[colony.code] = colony
        colony.stays.append((colony.box, key))
        self._box(colony.box, colony.founded).colony = colony.code

    def _leave(self, box: str, colony: str) -> None:
        state = self.boxes.get(box)
        if state and state.colony == colony:
            others = (c for c in self.colonies.values() if c.box == box and c.code != colony)
            state.colony = next((c.code for c in others if c.ended is None), "")

    def _end(self, code: str, box: str, entry: Entry, key: str, cause: str) -> None:
        self._leave(box, code)
        if colony := self.colonies.get(code):
            colony.ended, colony.ended_key, colony.cause = entry.happened, key, cause


def read_register(entries: Iterable[Entry], zone: tzinfo) -> Register:
    """The register of these entries, withdrawn ones left out."""
    register = Register()
    for key, _, entry in keyed(entries, zone):
        register.take(entry, key)
    return register
