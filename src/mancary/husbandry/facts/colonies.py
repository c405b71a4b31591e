"""Colonies: founded, moved, split, joined, ended."""

from typing import Annotated, ClassVar

from msgspec import Meta

from mancary.husbandry.codes import Code, Slug, Words
from mancary.husbandry.facts.base import Fact, Subject, about
from mancary.husbandry.words import EndCause

Animals = Annotated[int, Meta(ge=0, le=1_000_000)]


class Founded(Fact, frozen=True, kw_only=True):
    """A colony begins in a box."""

    kind: ClassVar[str] = "founded"
    colony: Code
    box: Code
    line: Slug
    founders_low: Animals | None = None
    founders_high: Animals | None = None
    as_written: Words = ""
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box, colony=self.colony, line=self.line)


class Moved(Fact, frozen=True, kw_only=True):
    """A whole colony goes into another box: a step-up, or a rescue."""

    kind: ClassVar[str] = "moved"
    colony: Code
    from_box: Code
    to_box: Code
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (f"box:{self.to_box}", f"box:{self.from_box}", f"colony:{self.colony}")


class Split(Fact, frozen=True, kw_only=True):
    """Part of a colony begins a new one in another box."""

    kind: ClassVar[str] = "split"
    colony: Code
    box: Code
    new_colony: Code
    new_box: Code
    taken_low: Animals | None = None
    taken_high: Animals | None = None
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (
            f"box:{self.new_box}",
            f"box:{self.box}",
            f"colony:{self.new_colony}",
            f"colony:{self.colony}",
        )


class Joined(Fact, frozen=True, kw_only=True):
    """A colony is put together with another and ends as one of its own."""

    kind: ClassVar[str] = "joined"
    colony: Code
    box: Code
    into_colony: Code
    into_box: Code
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (
            f"box:{self.into_box}",
            f"box:{self.box}",
            f"colony:{self.into_colony}",
            f"colony:{self.colony}",
        )


class Ended(Fact, frozen=True, kw_only=True):
    """A colony is no more; the cause is what the keeper thinks, or not known."""

    kind: ClassVar[str] = "ended"
    colony: Code
    box: Code
    cause: EndCause = "not_known"
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box, colony=self.colony)


class Taken(Fact, frozen=True, kw_only=True):
    """Animals leave a colony: swapped, sold, given, lent as a backup."""

    kind: ClassVar[str] = "taken"
    colony: Code
    box: Code
    animals: Animals | None = None
    to: Words = ""
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box, colony=self.colony)
