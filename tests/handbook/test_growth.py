"""The growth page: whole, sourced, and an archetype for every page and care group."""

from typing import get_args

import pytest

from mancary import handbook
from mancary.handbook import growth
from mancary.handbook.culture import culture_growth
from mancary.handbook.growth import Known, RateTable
from mancary.handbook.trouble import UnknownPage
from mancary.handbook.words import Kind

NAMES = ("pruinosus", "trichorhina", "laevis", "scaber", "vulgare", "murina", "cave", "iberian")


def all_known() -> list[tuple[str, Known]]:
    rates = [
        (f"{name}.{rate}", getattr(one.rates, rate))
        for name, one in growth.archetypes().items()
        for rate in RateTable.__struct_fields__
    ]
    return [*rates, *growth.shared().items(), *growth.springtail_figures().items()]


def test_every_number_has_ends_a_kind_and_a_source() -> None:
    known = all_known()
    assert len(known) == 8 * 13 + 12 + 11
    for name, one in known:
        assert one.low <= one.mode <= one.high, name
        assert one.kind in get_args(Kind), name
        assert len(one.source) > 8, name
        assert one.source.endswith((".", ")")), name


def test_what_is_called_published_names_how_or_whose() -> None:
    """The sibling: most is not published, and those say memory, practice or ours."""
    published = [(n, one) for n, one in all_known() if one.kind == "published"]
    assert 20 < len(published) < len(all_known()) / 2
    for name, one in published:
        assert any(word in one.source for word in TOLD), f"{name}: {one.source}"


# ways of saying how a published value was seen
TOLD = (
    "abstract", "second-hand", "database", "data seen", "matrix", "Horv", "The same", "from the same",
)  # fmt: skip


@pytest.mark.parametrize("slug", handbook.species_slugs())
def test_every_page_has_an_archetype_and_says_why(slug: str) -> None:
    found = growth.archetype_of(slug)
    if handbook.group_of(slug) == "springtails":
        assert found is None
        assert culture_growth(20.0, species=slug).basis
        return
    assert found is not None
    assert found.like in NAMES
    assert found.basis.endswith(".")
    own = found.basis.startswith(("Its own", "No model"))
    assert own or "nalogy" in found.basis or "keepers tell" in found.basis


def test_every_care_group_has_one() -> None:
    for group in handbook.groups():
        found = growth.archetype_of(care_group=group.slug)
        assert (found is None) == (group.slug == "springtails")
        assert growth.archetype_of(group.slug) == found


def test_the_nearest_goes_first() -> None:
    def said(**asked: str) -> tuple[str, str]:
        found = growth.archetype_of(**asked)
        assert found is not None
        return found.like, found.by

    assert said(slug="cubaris-murina") == ("murina", "species")
    assert said(slug="porcellio-scaber-dalmatian") == ("scaber", "species")
    assert said(slug="armadillidium-opacum") == ("vulgare", "genus")
    assert said(slug="cubaris-sp-soil") == ("cave", "genus")
    assert said(slug="venezillo-parvus") == ("trichorhina", "care group")
    assert said(genus="Armadillidium", care_group="temperate-woodland") == ("vulgare", "genus")
    assert said(genus="Porcellio", care_group="temperate-woodland") == ("scaber", "care group")
    assert growth.archetype_of(genus="Porcellio") is None
    assert growth.archetype_of() is None
    for wrong in ({"slug": "no-such-page"}, {"care_group": "no-such-group"}):
        with pytest.raises(UnknownPage):
            growth.archetype_of(**wrong)


def test_all_female_lines() -> None:
    clones = {
        slug
        for slug in handbook.species_slugs()
        if (found := growth.archetype_of(slug)) and found.all_female
    }
    assert clones == {"trichorhina-tomentosa", "trichoniscus-pusillus", "nagurus-cristatus"}
    dwarf = growth.archetype_of("tropical-dwarf-litter")
    assert dwarf
    assert dwarf.traits.female_share.mode == 0.5


def test_temperate_dwarfs_have_temperate_warmth() -> None:
    small, warm = (
        growth.archetype_of(n) for n in ("trichoniscus-pusillus", "trichorhina-tomentosa")
    )
    assert small
    assert warm
    assert small.traits.t0_c.mode == 10.5
    assert warm.traits.t0_c.mode == 13
    assert small.traits.brood_young == warm.traits.brood_young


def test_slow_ones_are_those_the_pages_call_slow_or_late() -> None:
    """Slow by the handbook's own growth class or 6 to 12 months to a first brood; and no other."""
    for slug in handbook.species_slugs():
        found = growth.archetype_of(slug)
        if found is None:
            continue
        figures = handbook.figures(slug)
        speed, first = figures.get("growth_speed"), figures.get("months_to_first_brood")
        if speed and speed.text == "slow":
            assert found.slow, slug
        if speed and speed.text == "fast":
            assert not found.slow, slug
        if first and first.low is not None and first.low >= 6:
            assert found.slow, slug
