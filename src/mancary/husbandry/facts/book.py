"""Facts about the book itself: its opening, what was withdrawn, which sheets came in."""

from typing import Annotated, ClassVar

from msgspec import Meta

from mancary.husbandry.codes import Name, Words
from mancary.husbandry.facts.base import Fact, Subject

FactId = Annotated[
    str, Meta(pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$")
]


class BookOpened(Fact, frozen=True, kw_only=True):
    """Whose book this is, in which zone; ``invented`` marks made-up demonstration data."""

    kind: ClassVar[str] = "book_opened"
    name: Name
    zone: Name
    invented: bool = False
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return ("book:book",)


class Withdrawn(Fact, frozen=True, kw_only=True):
    """An earlier fact was a mistake. It stays readable; ``instead`` replaces it."""

    kind: ClassVar[str] = "withdrawn"
    mistaken: FactId
    why: Words = ""
    instead: FactId | None = None
    touches: tuple[str, ...] = ()

    def subjects(self) -> tuple[Subject, ...]:
        return (f"fact:{self.mistaken}", *self.touches)


class SheetTakenIn(Fact, frozen=True, kw_only=True):
    """A sheet was taken into the book: which file, and what became of its rows."""

    kind: ClassVar[str] = "sheet_taken_in"
    file: Name
    sha256: Annotated[str, Meta(pattern=r"^[0-9a-f]{64}$")]
    rows_read: int
    rows_understood: int
    rows_refused: int
    rows_asked: int
    rows_repeated: int

    def subjects(self) -> tuple[Subject, ...]:
        return ("book:book",)
