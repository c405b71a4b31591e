"""Which line a name and a morph in a sheet mean; what is not certain is asked."""

from collections.abc import Sequence
from typing import Protocol

from msgspec import Struct

from mancary import handbook
from mancary.handbook import Proposal
from mancary.husbandry.codes import slug
from mancary.husbandry.facts import LineNamed, PageOpened
from mancary.sheets.faults import LEAVE_OUT, Choice
from mancary.sheets.plain import bare_words, plain
from mancary.usecases.take_in.known import Known

_SETTLED = 0.96
"""Ours: exact names (1.0) and trade names of one page alone (0.97) need no asking."""
_MOST_PROPOSALS = 4
_WILD = frozenset({"", "wild", "wild type", "wildtype", "wildtyp", "wildform", "normal", "vild"})


class NameFinder(Protocol):
    """What is asked of the handbook."""

    def find(self, text: str, own: Sequence[tuple[str, str]] = ()) -> tuple[Proposal, ...]: ...

    def guess_group(self, text: str) -> tuple[tuple[str, float, str], ...]: ...

    def group_names(self) -> dict[str, str]: ...


class Handbook:
    """The handbook itself."""

    def find(self, text: str, own: Sequence[tuple[str, str]] = ()) -> tuple[Proposal, ...]:
        return handbook.find(text, own)

    def guess_group(self, text: str) -> tuple[tuple[str, float, str], ...]:
        return tuple(
            (group, confidence, why) for group, confidence, why in handbook.guess_group(text)
        )

    def group_names(self) -> dict[str, str]:
        return {group.slug: group.name for group in handbook.groups()}


class Form(Struct, frozen=True, kw_only=True):
    """A name settled: its species page, the line, the page to open if it is the keeper's own."""

    line: LineNamed
    page: PageOpened | None = None
    said: str = ""


class Doubt(Struct, frozen=True, kw_only=True):
    """A name that is asked about."""

    key: str
    why: str
    choices: tuple[Choice, ...]


class Names:
    """Settles names, each text once."""

    def __init__(self, finder: NameFinder, known: Known) -> None:
        self._finder = finder
        self._known = known
        self._found: dict[str, Proposal | Doubt] = {}

    def settle(
        self, name: str, morph: str, *, answer: str | None, source: str, locality: str
    ) -> Form | Doubt:
        """The form of a name and morph as written, or the question about it."""
        page = self._page(name, answer)
        if page is not None:
            return Form(
                line=_line(page.species, name, page.name, morph, source, locality),
                page=page,
                said=f"'{name}' gets a page of your own in the care group {page.care_group}",
            )
        found = self._proposal(name, answer)
        if isinstance(found, Doubt):
            return found
        return Form(
            line=_line(found.slug, name, found.name, morph or found.morph, source, locality),
            said="" if plain(found.name) == plain(name) else f"'{name}' is {found.name}",
        )

    def _page(self, name: str, answer: str | None) -> PageOpened | None:
        """The keeper's own page, where he answered with a care group."""
        what, _, group = (answer or "").partition(":")
        if what != "page" or group not in self._finder.group_names():
            return None
        return PageOpened(species=slug(name), name=name, care_group=group)

    def _proposal(self, name: str, answer: str | None) -> Proposal | Doubt:
        key = plain(name)
        if key not in self._found:
            self._found[key] = self._find(name)
        found = self._found[key]
        if isinstance(found, Doubt) and answer and answer.startswith("species:"):
            wanted = answer.removeprefix("species:")
            chosen = next((p for p in self._proposals(name) if p.slug == wanted), None)
            return chosen or found
        return found

    def _proposals(self, name: str) -> tuple[Proposal, ...]:
        return self._finder.find(name, tuple(self._known.pages.items()))

    def _find(self, name: str) -> Proposal | Doubt:
        proposals = self._proposals(name)
        if proposals and proposals[0].confidence >= _SETTLED:
            return proposals[0]
        confirmed = self._known.species_of.get(plain(name))
        for proposal in proposals:
            if proposal.slug == confirmed:
                return proposal
        return self._doubt(name, proposals)

    def _doubt(self, name: str, proposals: Sequence[Proposal]) -> Doubt:
        likely = tuple(
            Choice(
                value=f"species:{one.slug}",
                words=f"{one.name}{f', {one.morph}' if one.morph else ''} ({one.how})",
                likelihood=one.confidence,
            )
            for one in proposals[:_MOST_PROPOSALS]
        )
        why = "this name is not certain" if likely else "this name is in no page of the handbook"
        left = max(0.0, 1 - sum(choice.likelihood for choice in likely))
        return Doubt(
            key=f"name:{bare_words(name) or plain(name)}",
            why=f"{why}; which form is it?",
            choices=(
                *likely,
                *self._own_pages(name, left),
                Choice(value=LEAVE_OUT, words="leave this row out", likelihood=0.02),
            ),
        )

    def _own_pages(self, name: str, left: float) -> tuple[Choice, ...]:
        names = self._finder.group_names()
        guesses = {group: share for group, share, _ in self._finder.guess_group(name)}
        spare = max(0.0, 1 - sum(guesses.values())) / max(1, len(names) - len(guesses))
        ranked = sorted(names, key=lambda group: guesses.get(group, spare), reverse=True)
        return tuple(
            Choice(
                value=f"page:{group}",
                words=f"a page of your own in the care group {names[group]}",
                likelihood=left * guesses.get(group, spare),
            )
            for group in ranked
        )


def _line(
    species: str, as_bought: str, name: str, morph: str, source: str, locality: str
) -> LineNamed:
    same = plain(morph) in plain(name) or plain(morph) in _WILD
    return LineNamed(
        line=species if same else slug(f"{species} {morph}"),
        species=species,
        as_bought=as_bought,
        morph=morph,
        source=source,
        locality=locality,
    )
