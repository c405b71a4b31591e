"""What a shelf, a box, a line, a colony and a batch are at one moment."""

from dataclasses import dataclass, field

from mancary.husbandry.facts import BatchMade, BoxDescribed, Vent
from mancary.husbandry.moments import Moment


@dataclass(slots=True)
class Shelf:
    code: str
    room: str = ""
    turn: int = 0
    level: int | None = None
    air: str = ""
    note: str = ""


@dataclass(slots=True)
class Quarantine:
    since: Moment
    until: Moment | None
    why: str


@dataclass(slots=True)
class Box:
    """A box as last described; ``colony`` is empty for a spare one."""

    code: str
    first_told: Moment
    litres: float | None = None
    length_cm: float | None = None
    width_cm: float | None = None
    height_cm: float | None = None
    wall_mm: float | None = None
    vents: tuple[Vent, ...] | None = None
    vents_as_written: str = ""
    damp_share: float | None = None
    substrate_cm: float | None = None
    litter_cm: float | None = None
    moss_share: float | None = None
    warmer_c: float | None = None
    make: str = ""
    note: str = ""
    shelf: str = ""
    position: int | None = None
    stood: list[tuple[str, str]] = field(default_factory=list)
    """The shelves it has stood on, each with the order key of the moment it came there."""
    colony: str = ""
    quarantine: Quarantine | None = None
    retired_on: Moment | None = None
    retired_key: str = ""

    @property
    def is_spare(self) -> bool:
        return not self.colony and self.retired_on is None

    def describe(self, fact: BoxDescribed) -> None:
        """Takes over what the fact says and keeps the rest.

        Vents told in words that are not understood do away with the holes known before, and
        holes told without words do away with the words.
        """
        if fact.vents is not None or fact.vents_as_written:
            self.vents, self.vents_as_written = fact.vents, fact.vents_as_written
        for name in fact.__struct_fields__:
            told = getattr(fact, name)
            if name != "box" and told not in (None, ""):
                setattr(self, name, told)


@dataclass(slots=True)
class Line:
    """A line; ``formerly`` holds (species, morph, who renamed it, when)."""

    slug: str
    species: str
    as_bought: str
    morph: str = ""
    locality: str = ""
    source: str = ""
    formerly: list[tuple[str, str, str, Moment]] = field(default_factory=list)


@dataclass(slots=True)
class Colony:
    code: str
    box: str
    line: str
    founded: Moment
    founders_low: int | None = None
    founders_high: int | None = None
    came_from: str = ""
    moved_on: Moment | None = None
    ended: Moment | None = None
    cause: str = ""
    ended_key: str = ""
    stays: list[tuple[str, str]] = field(default_factory=list)
    """The boxes it has lived in, each with the order key of the moment it came there."""


@dataclass(slots=True)
class Batch:
    code: str
    made: BatchMade | None = None
    made_on: Moment | None = None
    ended_on: Moment | None = None
