"""Species and lines: what was bought under which name, and what it is called now."""

from typing import Annotated, ClassVar, Literal

from msgspec import Meta

from mancary.husbandry.codes import Name, Slug, Words
from mancary.husbandry.facts.base import Fact, Subject, about

ChosenNumber = Annotated[float, Meta(gt=0, le=3660)]


class LineNamed(Fact, frozen=True, kw_only=True):
    """A line comes into the room. ``species`` is a page's slug; ``as_bought`` never changes."""

    kind: ClassVar[str] = "line_named"
    line: Slug
    species: Slug
    as_bought: Name
    morph: Words = ""
    locality: Words = ""
    source: Words = ""
    generation: Words = ""
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(line=self.line, species=self.species)


class LineRenamed(Fact, frozen=True, kw_only=True):
    """A line is now held to be another species or morph; who says so is kept."""

    kind: ClassVar[str] = "line_renamed"
    line: Slug
    species: Slug
    by: Name
    morph: Words = ""
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(line=self.line, species=self.species)


class PageOpened(Fact, frozen=True, kw_only=True):
    """The keeper's own page for a form the handbook does not hold, in a care group he chose."""

    kind: ClassVar[str] = "page_opened"
    species: Slug
    name: Name
    care_group: Slug
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(species=self.species)


class FigureChosen(Fact, frozen=True, kw_only=True):
    """A figure of the keeper's own, for everything or for one thing; the nearest wins.

    ``figure`` is a handbook figure's name, unit included. A figure chosen with neither low nor high
    gives it back to the handbook.
    """

    kind: ClassVar[str] = "figure_chosen"
    scope: Literal["all", "care_group", "species", "line", "box"]
    code: Annotated[str, Meta(max_length=96)] = ""
    figure: Slug | Annotated[str, Meta(pattern=r"^[a-z][a-z0-9_]{0,63}$")]
    low: ChosenNumber | None = None
    high: ChosenNumber | None = None
    why: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(**{self.scope: self.code}) or ("figure:all",)
