"""The handbook at hand: read once, when it is first asked."""

from functools import cache

from msgspec.structs import replace

from mancary.handbook.bound import Bound, load
from mancary.handbook.model import Amount, Figure, Group, Page, Reference
from mancary.handbook.trouble import UnknownPage
from mancary.handbook.words import UNITS, Origin


@cache
def bound() -> Bound:
    """The whole handbook, kept after the first reading."""
    return load()


def species_slugs() -> tuple[str, ...]:
    """The plain names of all pages: species, undescribed forms and morphs."""
    return tuple(bound().pages)


def page(slug: str) -> Page:
    """The page of this plain name, holding only what differs from its care group or parent.

    Raises:
        UnknownPage: when there is none.
    """
    try:
        return bound().pages[slug]
    except KeyError:
        raise UnknownPage(slug) from None


def groups() -> tuple[Group, ...]:
    """All care groups."""
    return tuple(bound().groups.values())


def group(slug: str) -> Group:
    """The care group of this plain name.

    Raises:
        UnknownPage: when there is none.
    """
    try:
        return bound().groups[slug]
    except KeyError:
        raise UnknownPage(slug, "care group") from None


def group_of(slug: str) -> str | None:
    """The care group a page stands in, a morph's by its parent; None where none is supported.

    Raises:
        UnknownPage: when there is no such page.
    """
    found = page(slug)
    return group_of(found.parent) if found.parent else found.group


def bibliography() -> dict[str, Reference]:
    """All sources by key, each with its citation and how it was seen."""
    return dict(bound().references)


def amounts() -> tuple[Amount, ...]:
    """How much of each care a box takes, by size band of box."""
    return bound().rhythms.amount


def practice() -> dict[str, Figure]:
    """The figures of practice that belong to no single care: quarantine, starter, waiting."""
    return {name: _seen(figure) for name, figure in bound().rhythms.practice.items()}


def figures(slug: str) -> dict[str, Figure]:
    """All that is known of a page, by figure: its own, else its parent's, else its care group's.

    A figure in neither is not known and not in the answer. A figure of the care group's carries
    ``from_="care group"``, and ``left_blank`` where the catalogue has none for the species.

    Raises:
        UnknownPage: when there is no such page.
    """
    return dict(_figures(slug))


@cache
def _figures(slug: str) -> dict[str, Figure]:
    found = page(slug)
    above = figures(found.parent) if found.parent else group_figures(found.group)
    lent = {name: _lent(figure, found) for name, figure in above.items()}
    own = {name: _seen(figure) for name, figure in found.figures.items()}
    resolved = lent | own
    return {name: resolved[name] for name in UNITS if name in resolved}


def group_figures(slug: str | None) -> dict[str, Figure]:
    """The figures of a care group, each with its citation; none for no group.

    Raises:
        UnknownPage: when there is no such care group.
    """
    if slug is None:
        return {}
    return {name: _seen(figure, from_="care group") for name, figure in group(slug).figures.items()}


def _lent(figure: Figure, found: Page) -> Figure:
    if found.parent is None:
        return replace(figure, left_blank=figure.name in found.blank)
    return figure if figure.from_ == "care group" else replace(figure, from_="parent")


def _seen(figure: Figure, *, from_: Origin = "species") -> Figure:
    source = bound().references[figure.source]
    return replace(figure, seen=f"{source.citation} [{source.seen}]", from_=from_)
