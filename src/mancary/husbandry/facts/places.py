"""Rooms, shelves, positions, and what their thermometers remember."""

from typing import Annotated, ClassVar, Literal

from msgspec import Meta

from mancary.husbandry.codes import Code, Words
from mancary.husbandry.facts.base import Fact, Subject, about

RoomTemperature = Annotated[float, Meta(ge=-40, le=70)]
Humidity = Annotated[float, Meta(ge=0, le=1)]
Air = Literal["cupboard", "room", "draughty"]


class RoomNamed(Fact, frozen=True, kw_only=True):
    """A room that holds shelves."""

    kind: ClassVar[str] = "room_named"
    room: Code
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(room=self.room)


class ShelfPlaced(Fact, frozen=True, kw_only=True):
    """A shelf, its rack and room, and its turn in the walk (lowest first)."""

    kind: ClassVar[str] = "shelf_placed"
    shelf: Code
    room: Code | None = None
    turn: int = 0
    level: int | None = None
    air: Air | None = None
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(shelf=self.shelf, room=self.room or "")


class ShelfRead(Fact, frozen=True, kw_only=True):
    """Highest and lowest temperature of a shelf since the last look, its humidity where told.

    ``rh_lowest`` to ``rh_highest`` and ``rh_mean`` are 0..1 as the instrument showed them, before
    any correction; means come from a logger, which knows every hour.
    """

    kind: ClassVar[str] = "shelf_read"
    shelf: Code
    lowest_c: RoomTemperature
    highest_c: RoomTemperature
    mean_c: RoomTemperature | None = None
    rh_lowest: Humidity | None = None
    rh_highest: Humidity | None = None
    rh_mean: Humidity | None = None
    instrument: Code | None = None
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(shelf=self.shelf)


class Shelved(Fact, frozen=True, kw_only=True):
    """A box stands on a shelf, at a position counted from the left."""

    kind: ClassVar[str] = "shelved"
    box: Code
    shelf: Code
    position: Annotated[int, Meta(ge=1, le=999)] | None = None

    def subjects(self) -> tuple[Subject, ...]:
        return about(box=self.box, shelf=self.shelf)
