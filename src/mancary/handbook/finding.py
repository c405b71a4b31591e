"""Finds the page a keeper means by a name, and says how sure that is.

The ways are tried from the surest to the least sure and the first that answers is taken; a
misspelling is looked for only when no exact way knows the name. ``confidence`` says how sure each
way is.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from msgspec.structs import replace

from mancary.handbook.confidence import (
    ABBREVIATION,
    BARE_EPITHET,
    EXACT,
    FORMER_NAME,
    MISSPELT,
    OTHER_GENUS,
    SHORTEST,
    TRADE_NAME,
    UNEXPLAINED,
    UNEXPLAINED_FORM,
    UNSURE,
)
from mancary.handbook.lexicon import Called, Lexicon, Own, lexicon
from mancary.handbook.model import Proposal
from mancary.handbook.names import Typed, typed
from mancary.handbook.shelf import bound
from mancary.handbook.words import How

MOST: Final = 8


def find(text: str, own: Sequence[tuple[str, str]] = ()) -> tuple[Proposal, ...]:
    """The pages a name may mean, the surest first; none when nothing comes near.

    ``own`` are the keeper's own pages as (slug, name). A proposal is never a decision: the keeper
    confirms it.
    """
    known: Own = tuple(own)
    told = typed(text)
    if not told.plain:
        return ()
    found = next((made for made in _ways(text, told, lexicon(known)) if made), ())
    factor = UNSURE if told.unsure else 1.0
    sure = [replace(entry, confidence=round(entry.confidence * factor, 4)) for entry in found]
    return tuple(sorted(sure, key=lambda entry: (-entry.confidence, entry.name))[:MOST])


def _ways(text: str, told: Typed, names: Lexicon) -> Iterator[tuple[Proposal, ...]]:
    bare = told.without_noise()
    for form in dict.fromkeys((told, bare)):
        yield _whole(form, names)
    beside = _with_words_beside(told, names)
    if sum(entry.confidence for entry in beside) > UNEXPLAINED:
        yield beside
    yield _genus_and_trade_name(bare, names)
    yield _genus_alone(bare, names)
    from mancary.handbook.misspelling import nearest

    yield max(beside, nearest(text, told, names), key=_surest)


def _surest(found: tuple[Proposal, ...]) -> float:
    return max((entry.confidence for entry in found), default=0.0)


def _proposal(entry: Called, how: How, confidence: float, morph: str = "") -> Proposal:
    return Proposal(slug=entry.slug, name=entry.name, how=how, confidence=confidence, morph=morph)


def _whole(told: Typed, names: Lexicon) -> tuple[Proposal, ...]:
    if entry := names.exact.get(told.key):
        return (_proposal(entry, "exact", EXACT),)
    if entry := names.respelled.get(told.key):
        return (_proposal(entry, "misspelling", TRADE_NAME),)
    if former := names.former.get(told.key):
        return tuple(_proposal(entry, "former name", FORMER_NAME / len(former)) for entry in former)
    return _by_trade_name(names.trade.get(told.key, ()), TRADE_NAME)


def _by_trade_name(
    pages: Sequence[tuple[str, str, str]], confidence: float
) -> tuple[Proposal, ...]:
    return tuple(
        Proposal(
            slug=slug, name=name, how="trade name", confidence=confidence / len(pages), morph=morph
        )
        for slug, name, morph in pages
    )


def _spans(count: int) -> Iterator[tuple[int, int]]:
    for length in range(count, 0, -1):
        for start in range(count - length + 1):
            yield start, start + length


def _with_words_beside(told: Typed, names: Lexicon) -> tuple[Proposal, ...]:
    for reading in (_read_exact, _read_former, _read_abbreviation, _read_epithet):
        for start, end in _spans(len(told.plain)):
            entries, how, confidence = reading(told.plain[start:end], names)
            beside = told.beside(start, end)
            made = _shared(entries, how, confidence, beside)
            if made and (reading is not _read_epithet or _explains(entries, beside)):
                return made
    return ()


Reading = tuple[tuple[Called, ...], How, float]
Meaning = tuple[tuple[str, str, str], bool]
"""A page, its name and its colour; and whether the colour was spelt right."""


def _read_exact(span: tuple[str, ...], names: Lexicon) -> Reading:
    entry = names.exact.get(" ".join(span))
    return (entry,) if entry else (), "exact", EXACT


def _read_former(span: tuple[str, ...], names: Lexicon) -> Reading:
    name = " ".join(span)
    if entry := names.respelled.get(name):
        return (entry,), "misspelling", TRADE_NAME
    return names.former.get(name, ()), "former name", FORMER_NAME


def _read_abbreviation(span: tuple[str, ...], names: Lexicon) -> Reading:
    entries = names.by_epithet.get(" ".join(span[1:]), ()) if len(span) > 1 else ()
    short = span[0]
    meant = tuple(
        entry for entry in entries if entry.genus.startswith(short) and entry.genus != short
    )
    return meant, "abbreviation", ABBREVIATION


def _read_epithet(span: tuple[str, ...], names: Lexicon) -> Reading:
    word = " ".join(span)
    entries = names.by_epithet.get(word, ()) if len(word) >= SHORTEST else ()
    return (
        tuple(entry for entry in entries if entry.rank == "species"),
        "abbreviation",
        BARE_EPITHET,
    )


def _explains(entries: Iterable[Called], beside: Typed) -> bool:
    return not beside.plain or any(_meaning(entry, beside) for entry in entries)


def _meaning(entry: Called, beside: Typed) -> Meaning | None:
    """What the words beside a name are to this page: nothing, its author, or a colour of it."""
    if not beside.plain or entry.authority.issuperset(beside.plain):
        return (entry.slug, entry.name, ""), True
    if known := entry.meant(beside.key):
        return known, True
    if not entry.morphs:
        return None
    from mancary.handbook.misspelling import nearest_morph

    near = nearest_morph(entry, beside.key)
    return (near, False) if near else None


def _shared(
    entries: tuple[Called, ...], how: How, confidence: float, beside: Typed
) -> tuple[Proposal, ...]:
    """The proposals; a page that knows the words beside weighs ten times one that does not."""
    meanings = [(entry, _meaning(entry, beside)) for entry in entries]
    weights = [1.0 if meaning else 1.0 - UNEXPLAINED for _, meaning in meanings]
    shares = [confidence * weight / sum(weights) for weight in weights]
    return tuple(
        _explained(entry, meaning, how, share, beside)
        for (entry, meaning), share in zip(meanings, shares, strict=True)
    )


def _explained(
    entry: Called, meaning: Meaning | None, how: How, share: float, beside: Typed
) -> Proposal:
    if meaning is None:
        factor = UNEXPLAINED_FORM if entry.rank == "undescribed" else UNEXPLAINED
        return _proposal(entry, how, share * factor, " ".join(beside.raw))
    (slug, name, morph), spelt_right = meaning
    return Proposal(
        slug=slug,
        name=name,
        how=how if spelt_right else "misspelling",
        confidence=share if spelt_right else share * MISSPELT,
        morph=morph,
    )


def _genus_and_trade_name(told: Typed, names: Lexicon) -> tuple[Proposal, ...]:
    """A trade name beside its genus ("Porcellio Dalmatian"), or beside another of its family."""
    if len(told.plain) < 2:
        return ()
    pages = names.trade.get(" ".join(told.plain[1:]), ())
    genus = told.plain[0]
    within = [page for page in pages if page[1].casefold().split()[0] == genus]
    if within:
        return _by_trade_name(within, TRADE_NAME)
    families = {_family(entry.slug) for entry in names.by_genus.get(genus, ())}
    akin = [page for page in pages if _family(page[0]) in families]
    return _by_trade_name(akin, OTHER_GENUS)


def _family(slug: str) -> str:
    """The family of a page; a page of the keeper's own tells none and is akin to nothing."""
    page = bound().pages.get(slug)
    return page.family if page else slug


def _genus_alone(told: Typed, names: Lexicon) -> tuple[Proposal, ...]:
    """Every page of the genus, each as likely as one that the handbook doesn't hold."""
    if len(told.plain) != 1:
        return ()
    entries = names.by_genus.get(told.key, ())
    return tuple(_proposal(entry, "genus", 1 / (len(entries) + 1)) for entry in entries)
