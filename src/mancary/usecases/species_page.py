"""A species' page: what is known, how well, and what the keeper's own boxes say."""

from msgspec import Struct
from msgspec.structs import replace

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import FigureChosen, PageOpened
from mancary.husbandry.register import Register
from mancary.husbandry.sentences import tell
from mancary.usecases.own_boxes import OwnColony, own_colonies
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import register_of


class SpeciesPage(Struct, frozen=True, kw_only=True):
    """``figures`` and ``rhythms`` carry kind and source; ``blank`` are those nobody knows."""

    species: SpeciesName
    rank: str
    family: str
    authority: str
    care_group: str
    parent: str
    trade_names: tuple[handbook.TradeName, ...]
    formerly: tuple[handbook.FormerName, ...]
    notes: str
    rests_on: str
    figures: tuple[handbook.Figure, ...]
    blank: tuple[str, ...]
    rhythms: tuple[handbook.Rhythm, ...]
    practice: dict[str, handbook.Figure]
    own_figures: tuple[FigureChosen, ...]
    colonies: tuple[OwnColony, ...]


class Found(Struct, frozen=True, kw_only=True):
    """What a typed name may mean; ``page`` is given where one proposal is as good as certain."""

    typed: str
    proposals: tuple[handbook.Proposal, ...]
    groups: tuple[tuple[str, float, str], ...]
    page: SpeciesPage | None


_SPRINGTAILS = frozenset({"springtail", "springtails", "collembola", "cleanup crew"})


def _members(group: str) -> tuple[handbook.Proposal, ...]:
    slugs = [slug for slug in handbook.species_slugs() if handbook.group_of(slug) == group]
    share = 1 / max(len(slugs), 1)
    return tuple(
        handbook.Proposal(
            slug=slug, name=handbook.page(slug).name, how="genus", confidence=round(share, 2)
        )
        for slug in slugs
    )


CERTAIN = 0.9
"""Ours: a proposal from here on, and well before the next, is shown as the answer."""


def find_species(book: Book | None, typed: str) -> Found:
    """The page a name means, or the proposals among which the keeper confirms one."""
    register = register_of(book) if book else Register()
    slug = typed.strip().lower()
    if slug in register.pages or slug in handbook.species_slugs():
        return Found(
            typed=typed, proposals=(), groups=(), page=species_page(book, slug, register=register)
        )
    if slug in _SPRINGTAILS:
        return Found(typed=typed, proposals=_members("springtails"), groups=(), page=None)
    own = tuple((page.species, page.name) for page in register.pages.values())
    proposals = handbook.find(typed, own=own)
    sure = proposals and proposals[0].confidence >= CERTAIN
    groups = () if proposals and proposals[0].confidence > 0.5 else handbook.guess_group(typed)
    return Found(
        typed=typed,
        proposals=proposals,
        groups=groups,
        page=species_page(book, proposals[0].slug, register=register) if sure else None,
    )


def species_page(book: Book | None, slug: str, *, register: Register | None = None) -> SpeciesPage:
    """The page of a species by its plain name, from the handbook or the keeper's own.

    Raises:
        UnknownPage: when neither holds it.
    """
    register = register or (register_of(book) if book else Register())
    opened = register.pages.get(slug)
    if opened:
        return _own_page(book, register, opened)
    return _handbook_page(book, register, slug)


def _own_page(book: Book | None, register: Register, opened: PageOpened) -> SpeciesPage:
    figures = handbook.group_figures(opened.care_group)
    return SpeciesPage(
        species=species_name(register, opened.species),
        rank=tell("own page"),
        family="",
        authority="",
        care_group=opened.care_group,
        parent="",
        trade_names=(),
        formerly=(),
        notes=opened.note,
        rests_on=tell("the keeper's own page; every figure is the care group's"),
        figures=tuple(figures.values()),
        blank=(),
        rhythms=tuple(handbook.rhythms(opened.care_group).values()),
        practice=practice_for(opened.care_group),
        own_figures=_chosen(register, opened.species, opened.care_group),
        colonies=own_colonies(book, [opened.species]) if book else (),
    )


def _handbook_page(book: Book | None, register: Register, slug: str) -> SpeciesPage:
    page = handbook.page(slug)
    group = handbook.group_of(slug) or ""
    morphs = [one for one in handbook.species_slugs() if handbook.page(one).parent == slug]
    figures = handbook.figures(slug)
    return SpeciesPage(
        species=species_name(register, slug),
        rank=page.rank,
        family=page.family,
        authority=page.authority,
        care_group=group,
        parent=page.parent or "",
        trade_names=page.trade_names,
        formerly=page.formerly,
        notes=page.notes,
        rests_on=page.rests_on,
        figures=tuple(figures.values()),
        blank=tuple(name for name in page.blank if name not in figures),
        rhythms=tuple(handbook.rhythms(slug).values()),
        practice=practice_for(group),
        own_figures=_chosen(register, slug, group),
        colonies=own_colonies(book, [slug, *morphs]) if book else (),
    )


def practice_for(group: str) -> dict[str, handbook.Figure]:
    """Quarantine, starter and waiting time, as far as they go for a care group."""
    found = handbook.practice()
    if group in ("", "springtails", "desert-burrowers"):
        found = {name: one for name, one in found.items() if not name.startswith("starter")}
    if group in ("", "springtails"):
        found.pop("waiting_days", None)
    elif waiting := found.get("waiting_days"):
        days = waiting.high if group == "asian-cave-armadillidae" else waiting.low
        found["waiting_days"] = replace(waiting, low=days, high=days)
    return found


def _chosen(register: Register, species: str, group: str) -> tuple[FigureChosen, ...]:
    held = {("species", species), ("care_group", group), ("all", "")}
    return tuple(
        fact for (scope, code, _), fact in register.figures.items() if (scope, code) in held
    )
