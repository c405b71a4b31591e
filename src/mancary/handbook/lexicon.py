"""Every name a page may be called by, made ready for looking up."""

from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache

from msgspec import Struct

from mancary.handbook.model import Page
from mancary.handbook.names import key, words
from mancary.handbook.shelf import bound
from mancary.handbook.words import Rank

Own = tuple[tuple[str, str], ...]


class Called(Struct, frozen=True):
    """A page by its name: the keys of its genus and of the rest, and the colours it knows.

    Each of ``morphs`` is a colour's key, the page that has it and how it is written.
    """

    slug: str
    name: str
    rank: Rank
    genus: str
    epithet: str
    morphs: tuple[tuple[str, str, str], ...] = ()
    authority: frozenset[str] = frozenset()

    def meant(self, morph: str) -> tuple[str, str, str] | None:
        """The page, its name and the colour as the handbook writes it, for a colour's key."""
        found = next((entry for entry in self.morphs if entry[0] == morph), None)
        if found is None:
            return None
        _, slug, written = found
        page = bound().pages.get(slug)
        return slug, page.name if page else self.name, written


class Lexicon(Struct, frozen=True):
    """Names by their key, apart by the way they name."""

    exact: dict[str, Called]
    former: dict[str, tuple[Called, ...]]
    respelled: dict[str, Called]
    trade: dict[str, tuple[tuple[str, str, str], ...]]
    by_epithet: dict[str, tuple[Called, ...]]
    by_genus: dict[str, tuple[Called, ...]]


def form_part(name: str, rank: Rank) -> str:
    """What a name adds to its genus: "scaber", or "rubber ducky" of an undescribed form."""
    return key(name).partition(" ")[2] if rank != "morph" else ""


@lru_cache(maxsize=16)
def lexicon(own: Own = ()) -> Lexicon:
    """The names of the handbook and of the keeper's own pages (slug, name)."""
    pages = bound().pages
    called = [_called(page) for page in pages.values()]
    called += [_own(slug, name) for slug, name in own]
    exact = {key(entry.name): entry for entry in called}
    by_slug = {entry.slug: entry for entry in called}
    by_epithet, by_genus = defaultdict(list), defaultdict(list)
    for entry in called:
        if entry.rank != "morph":
            by_genus[entry.genus].append(entry)
            by_epithet[entry.epithet].append(entry)
    former = defaultdict(list)
    for page in pages.values():
        for name in page.formerly:
            entry, genus = by_slug[page.slug], key(name.name).partition(" ")[0]
            former[key(name.name)].append(entry)
            if genus != entry.genus:
                by_genus[genus].append(entry)
    return Lexicon(
        exact=exact,
        former=_frozen(former),
        respelled={
            key(name): by_slug[page.slug] for page in pages.values() for name in page.also_spelled
        },
        trade=_trade(called),
        by_epithet=_frozen(by_epithet),
        by_genus=_frozen(by_genus),
    )


def _frozen(found: dict[str, list[Called]]) -> dict[str, tuple[Called, ...]]:
    return {name: tuple(entries) for name, entries in found.items()}


def _called(page: Page) -> Called:
    return Called(
        slug=page.slug,
        name=page.name,
        rank=page.rank,
        genus=key(page.name).partition(" ")[0],
        epithet=form_part(page.name, page.rank),
        morphs=tuple(_morphs(page)),
        authority=frozenset(words(page.authority)),
    )


def _own(slug: str, name: str) -> Called:
    determined = " ".join(words(name)) == key(name)
    rank: Rank = "species" if determined else "undescribed"
    genus, _, epithet = key(name).partition(" ")
    return Called(slug=slug, name=name, rank=rank, genus=genus, epithet=epithet)


def _morphs(page: Page) -> Iterator[tuple[str, str, str]]:
    """Each colour or trade name of a page: its key, the page that has it, how it is written."""
    if page.rank == "morph":
        return
    children = {key(name): slug for slug, name in _children().get(page.slug, ())}
    for written in page.trade_names:
        found = key(written.name)
        yield found, children.pop(found, page.slug), written.name
    for found, slug in children.items():
        yield found, slug, bound().pages[slug].trade_names[0].name
    if page.wild_type:
        yield key(page.wild_type), page.slug, page.wild_type
    yield "wild", page.slug, "wild"
    yield "wild type", page.slug, "wild"


@lru_cache(maxsize=1)
def _children() -> dict[str, tuple[tuple[str, str], ...]]:
    found: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for page in bound().pages.values():
        if page.parent:
            found[page.parent].append((page.slug, page.trade_names[0].name))
    return {parent: tuple(entries) for parent, entries in found.items()}


def _trade(called: list[Called]) -> dict[str, tuple[tuple[str, str, str], ...]]:
    """Trade names that stand alone; "wild" is a colour of every species and names none."""
    found: dict[str, dict[str, tuple[str, str, str]]] = defaultdict(dict)
    for entry in called:
        for colour, slug, written in entry.morphs:
            if not colour.startswith("wild"):
                page = bound().pages[slug]
                found[colour][slug] = (slug, page.name, written)
        if entry.rank == "undescribed" and entry.epithet:
            alone = (entry.slug, entry.name, "")
            found[entry.epithet].setdefault(entry.slug, alone)
    return {colour: tuple(pages.values()) for colour, pages in found.items()}
