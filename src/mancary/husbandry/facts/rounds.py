"""Rounds: the plan a keeper accepted, so that it changes only where something changed."""

from typing import Annotated, ClassVar

from msgspec import Meta, Struct

from mancary.husbandry.codes import Code
from mancary.husbandry.facts.base import Fact, Subject
from mancary.husbandry.words import Care

BareDay = Annotated[str, Meta(pattern=r"^\d{4}-\d{2}-\d{2}$")]


class AcceptedStop(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One box and the cares planned for it on one evening."""

    box: Code
    cares: tuple[Care, ...]


class AcceptedEvening(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One evening, the minutes it offers, and its stops."""

    day: BareDay
    minutes: Annotated[float, Meta(ge=0, le=1440)]
    stops: tuple[AcceptedStop, ...] = ()


class RoundAccepted(Fact, frozen=True, kw_only=True):
    """The plan of the weeks ahead as the keeper accepted it; the first evening is the round."""

    kind: ClassVar[str] = "round_accepted"
    evenings: Annotated[tuple[AcceptedEvening, ...], Meta(min_length=1, max_length=60)]
    gap: Annotated[float, Meta(ge=0)] | None = None

    def subjects(self) -> tuple[Subject, ...]:
        return (f"round:{self.evenings[0].day}",)


class RoundTimed(Fact, frozen=True, kw_only=True):
    """How long an evening's work at the boxes took, from the first lid to the last."""

    kind: ClassVar[str] = "round_timed"
    day: BareDay
    minutes: Annotated[float, Meta(gt=0, le=1440)]

    def subjects(self) -> tuple[Subject, ...]:
        return (f"round:{self.day}",)
