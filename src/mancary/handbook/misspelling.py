"""Names with letters wrong, missing, doubled or swapped.

How sure one is, ``confidence`` says.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Final

from msgspec import Struct
from rapidfuzz.distance import OSA
from rapidfuzz.process import extract

from mancary.handbook.confidence import (
    LEAST,
    LETTERS_AN_EDIT,
    MISSPELT,
    MORPH_SURE,
    PER_EDIT,
    SHORTEST,
    UNEXPLAINED,
    UNEXPLAINED_FORM,
)
from mancary.handbook.lexicon import Called, Lexicon
from mancary.handbook.model import Proposal
from mancary.handbook.names import UNSURE, Typed, words

FURTHEST: Final = 5


class Spelling(Struct, frozen=True):
    """One way a page may be written, and how many of its letters tell it from its genus."""

    slug: str
    name: str
    telling: int
    morph: str = ""


Spellings = Mapping[str, tuple[Spelling, ...]]


class Near(Struct, frozen=True):
    """A spelling that comes near, by how many edits, and how many letters tell it from another."""

    said: Spelling
    edits: int
    telling: int

    @property
    def weight(self) -> float:
        return float(PER_EDIT**self.edits)

    @property
    def another(self) -> float:
        """The weight of another name, that the handbook does not hold."""
        return float(PER_EDIT ** (1 + self.telling / LETTERS_AN_EDIT))

    def before(self, other: "Near | None") -> bool:
        """Whether this is the nearer spelling of the same page."""
        if other is None:
            return True
        return (self.edits, -self.telling) < (other.edits, -other.telling)

    def proposal(self, total: float) -> Proposal:
        said = self.said
        share = MISSPELT * self.weight / total
        return Proposal(
            slug=said.slug, name=said.name, how="misspelling", confidence=share, morph=said.morph
        )


def nearest(text: str, told: Typed, names: Lexicon) -> tuple[Proposal, ...]:
    """The pages whose names come near what was typed, the surest first."""
    spellings = _spellings(names)
    whole = " ".join(word for word in words(text) if word not in UNSURE)
    tries = dict.fromkeys((whole, told.key, told.without_noise().key))
    found = _weighed([form for form in tries if form], spellings)
    if found or len(told.plain) < 3:
        return found
    start = _weighed([" ".join(told.plain[:2])], spellings)
    return tuple(_with_rest(entry, told, names) for entry in start)


def nearest_morph(entry: Called, typed_key: str) -> tuple[str, str, str] | None:
    """The colour of a page that the words beside its name surely mean, if any."""
    colours = {
        colour: (Spelling(colour, written, len(colour)),) for colour, _, written in entry.morphs
    }
    best = next(iter(_weighed([typed_key], colours)), None)
    return entry.meant(best.slug) if best and best.confidence >= MORPH_SURE else None


def nearest_word(word: str, known: tuple[str, ...]) -> str:
    """The one known word that this surely is a misspelling of, else nothing."""
    found = _weighed([word], {entry: (Spelling(entry, entry, len(entry)),) for entry in known})
    return found[0].slug if found and found[0].confidence >= MORPH_SURE else ""


def _with_rest(entry: Proposal, told: Typed, names: Lexicon) -> Proposal:
    """The same for the first two words; what follows is a colour, or not known to the page."""
    called = next(found for found in names.exact.values() if found.slug == entry.slug)
    known = called.meant(" ".join(told.plain[2:]))
    slug, name, morph = known or (entry.slug, entry.name, " ".join(told.raw[2:]))
    unexplained = UNEXPLAINED_FORM if called.rank == "undescribed" else UNEXPLAINED
    sure = entry.confidence if known else entry.confidence * unexplained
    return Proposal(slug=slug, name=name, how=entry.how, confidence=sure, morph=morph)


def _spellings(names: Lexicon) -> Spellings:
    """Every way to write a page; several pages may be written in the same way."""
    made: dict[str, dict[str, Spelling]] = defaultdict(dict)
    for written, said in _ways_to_write(names):
        made[written].setdefault(said.slug, said)
    return {written: tuple(pages.values()) for written, pages in made.items()}


def _ways_to_write(names: Lexicon) -> Iterator[tuple[str, Spelling]]:
    for written, entry in (*names.exact.items(), *names.respelled.items()):
        yield written, Spelling(entry.slug, entry.name, _telling(written))
    for former, entries in names.former.items():
        for entry in entries:
            yield former, Spelling(entry.slug, entry.name, _telling(former))
    for entry in names.exact.values():
        yield from _shorter_or_longer(entry)
    for colour, pages in names.trade.items():
        if len(colour) >= SHORTEST:
            for slug, name, morph in pages:
                yield colour, Spelling(slug, name, len(colour), morph)


def _shorter_or_longer(entry: Called) -> Iterator[tuple[str, Spelling]]:
    said = Spelling(entry.slug, entry.name, len(entry.epithet) or len(entry.genus))
    if entry.rank == "undescribed":
        yield f"{entry.genus} sp {entry.epithet}".strip(), said
        yield f"{entry.genus} spp {entry.epithet}".strip(), said
    elif entry.rank == "species" and entry.epithet:
        yield f"{entry.genus[0]} {entry.epithet}", said
        if len(entry.epithet) >= SHORTEST:
            yield entry.epithet, said


def _telling(name: str) -> int:
    genus, _, rest = name.partition(" ")
    return len(rest) or len(genus)


def _weighed(tries: list[str], spellings: Spellings) -> tuple[Proposal, ...]:
    nearest: dict[str, Near] = {}
    for form in tries:
        for written, edits, _ in extract(
            form, spellings.keys(), scorer=OSA.distance, score_cutoff=FURTHEST, limit=24
        ):
            for said in spellings[written]:
                near = _near(form, written, int(edits), said)
                if near.before(nearest.get(said.slug)):
                    nearest[said.slug] = near
    if not nearest:
        return ()
    best = min(nearest.values(), key=lambda near: near.edits)
    total = best.another + sum(near.weight for near in nearest.values())
    made = (near.proposal(total) for near in nearest.values())
    kept = [entry for entry in made if entry.confidence >= LEAST]
    return tuple(sorted(kept, key=lambda entry: -entry.confidence))


def _near(form: str, written: str, edits: int, said: Spelling) -> Near:
    genus, _, rest = written.partition(" ")
    whole = bool(rest) and len(genus) > 1 and form.endswith(f" {rest}")
    return Near(said, edits, len(written) if whole else said.telling)
