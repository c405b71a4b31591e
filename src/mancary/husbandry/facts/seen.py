"""What was seen, counted, weighed and noted."""

from typing import Annotated, ClassVar, Literal

from msgspec import Meta

from mancary.husbandry.codes import Code, Words
from mancary.husbandry.facts.base import Fact, Subject, about
from mancary.husbandry.facts.colonies import Animals
from mancary.husbandry.words import Band, Seen


class SeenInBox(Fact, frozen=True, kw_only=True):
    """A word of the trade for what met the eye or the nose; a number where one was counted.

    ``share`` is the part left over, 0 to 1, for food not eaten.
    """

    kind: ClassVar[str] = "seen"
    box: Code
    word: Seen
    animals: Animals | None = None
    share: Annotated[float, Meta(ge=0, le=1)] | None = None
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (f"box:{self.box}",)


class Counted(Fact, frozen=True, kw_only=True):
    """A number of animals, a range, or a size band, and how it was come by.

    ``low`` alone means "at least"; ``low`` = ``high`` an exact count of what was looked at.
    ``samples`` are the animals in scoops of ``share`` of the box each, ``catches`` those of passes
    one after the other, none put back; ``marked`` were let go before, and of those then ``caught``
    so many were ``recaptured``.
    """

    kind: ClassVar[str] = "counted"
    box: Code
    how: Literal["full", "one_hide", "scoop", "removals", "marks", "band", "guess", "not_said"] = (
        "not_said"
    )
    low: Animals
    high: Animals | None = None
    band: Band | None = None
    share: Annotated[float, Meta(gt=0, le=1)] | None = None
    samples: tuple[Animals, ...] = ()
    catches: tuple[Animals, ...] = ()
    marked: Animals | None = None
    caught: Animals | None = None
    recaptured: Animals | None = None
    as_written: Words = ""
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (f"box:{self.box}",)


class Weighed(Fact, frozen=True, kw_only=True):
    """The whole box on a scale, lid on. ``mark`` says when its damp end was just right."""

    kind: ClassVar[str] = "weighed"
    box: Code
    gross_g: Annotated[float, Meta(gt=0, le=200_000)]
    mark: Literal["just_right", "too_dry", "too_wet"] | None = None
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (f"box:{self.box}",)


class Pictured(Fact, frozen=True, kw_only=True):
    """A picture of a box, kept as a file beside the book; ``picture`` is its name there.

    The name is the SHA-256 of the file, so the fact also says what the file must hold. Where and
    with what it was taken is taken out of the file before it is kept.
    """

    kind: ClassVar[str] = "pictured"
    box: Code
    picture: Annotated[str, Meta(pattern=r"^[0-9a-f]{64}\.jpg$")]
    width_px: Annotated[int, Meta(ge=1, le=20_000)]
    height_px: Annotated[int, Meta(ge=1, le=20_000)]
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return (f"box:{self.box}",)


class Noted(Fact, frozen=True, kw_only=True):
    """Words of the keeper's own about one thing."""

    kind: ClassVar[str] = "noted"
    what: Literal["box", "colony", "line", "species", "shelf", "room", "batch", "book"]
    code: Annotated[str, Meta(max_length=96)] = ""
    text: Annotated[str, Meta(min_length=1, max_length=4000)]

    def subjects(self) -> tuple[Subject, ...]:
        return about(**{self.what: self.code or "book"})
