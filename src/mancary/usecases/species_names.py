"""The species a line belongs to: a page of the handbook, or the keeper's own page."""

from functools import lru_cache

from msgspec import Struct

from mancary import handbook
from mancary.husbandry.register import Register


class SpeciesName(Struct, frozen=True, kw_only=True):
    """How a species is named; ``latin`` is set in italics, ``trade`` in plain quotes."""

    slug: str
    name: str
    latin: str
    trade: str
    care_group: str
    own_page: bool = False


def species_name(register: Register, slug: str) -> SpeciesName:
    """The name and care group of a species, from the keeper's own page or the handbook."""
    own = register.pages.get(slug)
    if own:
        latin, trade = split_name(own.name)
        return SpeciesName(
            slug=slug,
            name=own.name,
            latin=latin,
            trade=trade,
            care_group=own.care_group,
            own_page=True,
        )
    return _from_handbook(slug)


@lru_cache(maxsize=1024)
def _from_handbook(slug: str) -> SpeciesName:
    if slug not in handbook.species_slugs():
        return SpeciesName(slug=slug, name=slug, latin="", trade=slug, care_group="")
    page = handbook.page(slug)
    latin, trade = split_name(page.name)
    group = page.group or (handbook.page(page.parent).group if page.parent else "") or ""
    return SpeciesName(slug=slug, name=page.name, latin=latin, trade=trade, care_group=group)


def root_species(slug: str) -> str:
    """The page itself, or for a morph the page of its species."""
    if slug not in handbook.species_slugs():
        return slug
    return handbook.page(slug).parent or slug


def split_name(name: str) -> tuple[str, str]:
    """Latin and trade part: "Cubaris sp. Soil" is ("Cubaris sp.", "Soil")."""
    words = name.replace("'", "").replace('"', "").split()
    for number, word in enumerate(words):
        if number and (word in ("sp.", "spp.", "cf.") or not word.islower()):
            cut = number + 1 if word in ("sp.", "spp.") else number
            return " ".join(words[:cut]), " ".join(words[cut:])
    return " ".join(words), ""
