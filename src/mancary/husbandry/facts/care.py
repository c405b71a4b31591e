"""Care given to a box, and the batches it came from."""

from typing import Annotated, ClassVar, Literal

from msgspec import Meta, Struct

from mancary.husbandry.codes import Code, Words
from mancary.husbandry.facts.base import Fact, Subject, about
from mancary.husbandry.words import Care

Unit = Literal[
    "g", "mL", "L", "animals", "piece", "slice", "pinch", "handful", "spoon", "squirt", "not_said"
]


class Amount(Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """How much, as the keeper said it: a range where he gave one, his own words beside it."""

    low: Annotated[float, Meta(ge=0, le=1e7)]
    high: Annotated[float, Meta(ge=0, le=1e7)] | None = None
    unit: Unit = "not_said"
    as_written: Words = ""


class CareGiven(Fact, frozen=True, kw_only=True):
    """One kind of care was given to one box."""

    kind: ClassVar[str] = "care_given"
    box: Code
    care: Care
    amount: Amount | None = None
    what: Words = ""
    batch: Code | None = None
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        box = f"box:{self.box}"
        return (box, f"batch:{self.batch}") if self.batch else (box,)


class CareSkipped(Fact, frozen=True, kw_only=True):
    """A care that was due was left out on purpose, and why."""

    kind: ClassVar[str] = "care_skipped"
    box: Code
    care: Care
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box)


class BatchMade(Fact, frozen=True, kw_only=True):
    """One sack, mixing, tin or culture: where it came from, when, and what was done to it."""

    kind: ClassVar[str] = "batch_made"
    batch: Code
    what: Literal["leaves", "wood", "substrate", "feed", "springtails", "calcium", "other"]
    name: Words = ""
    source: Words = ""
    place: Words = ""
    treatment: Literal["as_found", "heat", "boil", "freeze", "aged", "bought_clean", "not_said"] = (
        "not_said"
    )
    amount: Amount | None = None
    made_from: tuple[Code, ...] = ()
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (f"batch:{self.batch}", *(f"batch:{part}" for part in self.made_from))


class BatchEnded(Fact, frozen=True, kw_only=True):
    """A batch is used up or thrown away."""

    kind: ClassVar[str] = "batch_ended"
    batch: Code
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(batch=self.batch)
