"""Which line a name and a morph in a sheet mean; what is not certain is asked."""

from collections.abc import Sequence
from typing import Protocol

from msgspec import Struct

from mancary import handbook
from mancary.handbook import Proposal
from mancary.husbandry.codes import slug
from mancary.husbandry.facts import LineNamed, PageOpened
from mancary.sheets.faults import LEAVE_OUT, Choice
from mancary.sheets.mends import Mends
from mancary.sheets.plain import bare_words, plain
from mancary.usecases.take_in.known import Known
from mancary.usecases.take_in.mixed import two_species

_SETTLED = 0.96
"""Ours: exact names (1.0) and trade names of one page alone (0.97) need no asking."""
_MOST_PROPOSALS = 4
WILD = frozenset({"", "wild", "wild type", "wildtype", "wildtyp", "wildform", "normal", "vild"})


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
    asked_before: str = ""
    """The key under which the name was asked about, where the keeper answered it before."""


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
        self._confirmed: dict[str, str] = {}

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
            asked_before=self._confirmed.get(plain(name), ""),
        )

    def typed(self, text: str) -> str | None:
        """An answer typed in the keeper's own way, as a choice's value, where it is certain.

        A page's plain name, a care group for a page of his own, or a name that is settled.
        """
        what, colon, told = text.partition(":")
        if what == "page" and told in self._finder.group_names():
            return text
        if what == "species" and colon:
            return f"species:{told}" if self._page_name(told) else None
        if self._page_name(text):
            return f"species:{text}"
        proposals = self._proposals(text)
        sure = bool(proposals) and proposals[0].confidence >= _SETTLED
        return f"species:{proposals[0].slug}" if sure else None

    def hold_to(self, mends: Mends, form: Form) -> None:
        """Tells an answer that says otherwise than the book, which has the name already."""
        answer = mends.get(form.asked_before)
        wanted = self.typed(answer) if answer else None
        if wanted and wanted.startswith("species:") and wanted[8:] != form.line.species:
            mends.wrong(
                form.asked_before,
                f"the book has this name as {form.line.species} already; rename the line instead",
            )

    def _page_name(self, species: str) -> str:
        """The name of a page, by its plain name; empty where there is none."""
        if species in self._known.pages:
            return self._known.pages[species]
        return handbook.page(species).name if species in handbook.species_slugs() else ""

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
            if chosen or not (page := self._page_name(wanted)):
                return chosen or found
            return Proposal(slug=wanted, name=page, how="exact", confidence=1.0)
        return found

    def _proposals(self, name: str) -> tuple[Proposal, ...]:
        return self._finder.find(name, tuple(self._known.pages.items()))

    def _find(self, name: str) -> Proposal | Doubt:
        proposals = self._proposals(name)
        together = two_species(name, self._proposals)
        if not together and proposals and proposals[0].confidence >= _SETTLED:
            return proposals[0]
        confirmed = self._known.species_of.get(plain(name))
        if confirmed and (page := self._page_name(confirmed)):
            self._confirmed[plain(name)] = _key(name)
            found = next((p for p in proposals if p.slug == confirmed), None)
            return found or Proposal(slug=confirmed, name=page, how="exact", confidence=1.0)
        return _mixed(name, together) if together else self._doubt(name, proposals)

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
            key=_key(name),
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


def _key(name: str) -> str:
    return f"name:{bare_words(name) or plain(name)}"


def _mixed(name: str, together: Sequence[Proposal]) -> Doubt:
    """The question about a cell that names two species."""
    share = 0.6 / len(together)
    return Doubt(
        key=_key(name),
        why=f"two species in one box: {' and '.join(one.name for one in together)}; a colony is of"
        " one line. Which is it?",
        choices=(
            *(
                Choice(
                    value=f"species:{one.slug}",
                    words=f"{one.name}; the other words are kept as written",
                    likelihood=share,
                )
                for one in together
            ),
            Choice(value=LEAVE_OUT, words="leave this row out", likelihood=0.4),
        ),
    )


def _line(
    species: str, as_bought: str, name: str, morph: str, source: str, locality: str
) -> LineNamed:
    same = plain(morph) in plain(name) or plain(morph) in WILD
    return LineNamed(
        line=species if same else slug(f"{species} {morph}"),
        species=species,
        as_bought=as_bought,
        morph=morph,
        source=source,
        locality=locality,
    )
