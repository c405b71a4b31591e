"""Boxes: what they are made of, in use or spare, in quarantine or not."""

from typing import Annotated, ClassVar, Literal

from msgspec import Meta, Struct

from mancary.husbandry.codes import Code, Words
from mancary.husbandry.facts.base import Fact, Subject, about
from mancary.husbandry.moments import Moment

Litres = Annotated[float, Meta(gt=0, le=2000)]
Centimetres = Annotated[float, Meta(gt=0, le=500)]
Share = Annotated[float, Meta(ge=0, le=1)]


class Vent(Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """A row of equal holes, or of equal mesh windows. Diameter (or width) in mm.

    ``end`` is the end of the floor it stands over, where it is all at one.
    """

    count: Annotated[int, Meta(ge=1, le=5000)]
    size_mm: Annotated[float, Meta(gt=0, le=1000)] | None = None
    make: Literal["hole", "mesh"] = "hole"
    place: Literal["lid", "high", "low", "side", "not_said"] = "not_said"
    mesh: Literal["fine", "coarse", "not_said"] = "not_said"
    end: Literal["damp", "dry", "not_said"] = "not_said"


class BoxDescribed(Fact, frozen=True, kw_only=True):
    """What a box is. Told again, the newer figures stand and the rest stay.

    ``moss_share`` is the share of the floor under moss; ``warmer_c`` how much warmer the box is
    than its shelf, by a mat or by what stands below it.
    """

    kind: ClassVar[str] = "box_described"
    box: Code
    litres: Litres | None = None
    length_cm: Centimetres | None = None
    width_cm: Centimetres | None = None
    height_cm: Centimetres | None = None
    wall_mm: Annotated[float, Meta(gt=0, le=50)] | None = None
    vents: tuple[Vent, ...] | None = None
    vents_as_written: Words = ""
    damp_share: Share | None = None
    substrate_cm: Centimetres | None = None
    litter_cm: Annotated[float, Meta(ge=0, le=500)] | None = None
    moss_share: Share | None = None
    warmer_c: Annotated[float, Meta(ge=0, le=15)] | None = None
    make: Words = ""
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box)


class BoxRetired(Fact, frozen=True, kw_only=True):
    """A box is taken out of use for good: cracked, given away, thrown."""

    kind: ClassVar[str] = "box_retired"
    box: Code
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box)


class Quarantined(Fact, frozen=True, kw_only=True):
    """A box is set apart: new, sick or contaminated. Seen last on the round, with its own tools."""

    kind: ClassVar[str] = "quarantined"
    box: Code
    why: Literal["new", "sick", "contaminated", "not_said"] = "not_said"
    until: Moment | None = None
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box)


class QuarantineEnded(Fact, frozen=True, kw_only=True):
    """A box comes back to its place."""

    kind: ClassVar[str] = "quarantine_ended"
    box: Code
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box)
