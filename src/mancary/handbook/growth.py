"""How colonies grow: eight archetypes, what is the same for all, and which stands for whom."""

from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from mancary.handbook.shelf import bound, group_of, page
from mancary.handbook.trouble import PageFault, UnknownPage
from mancary.handbook.words import Kind
from mancary.science.stage_rates import Conditions, Span, Traits

PAGE: Final = Path(__file__).with_name("pages") / "growth.toml"
SPRINGTAILS: Final = "springtails"
WARMTH: Final = ("t0_c", "t_opt_c", "t_max_c")

By = Literal["species", "genus", "care group"]


class Known(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A rate as it is known: most likely value, ends of what is believed, and what it rests on."""

    low: float
    mode: float
    high: float
    kind: Kind
    source: str


class RateTable(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The rates of an archetype; units and meaning are those of `stage_rates.Traits`."""

    manca_weeks: Known
    juvenile_weeks: Known
    brood_weeks: Known
    rest_weeks: Known
    brood_young: Known
    female_share: Known
    manca_survival: Known
    juvenile_survival: Known
    adult_weeks: Known
    adult_mg: Known
    t0_c: Known
    t_opt_c: Known
    t_max_c: Known


class _Described(RateTable, frozen=True, kw_only=True, forbid_unknown_fields=True):
    title: str
    slow: bool


class Archetype(Struct, frozen=True, kw_only=True):
    """The growth taken for a species: ``rates`` with their sources, ``traits`` the same for sums.

    ``like`` names the archetype, ``title`` says whom it was made for, ``basis`` why it stands here
    and ``by`` what it was found by. A ``slow`` one has the lower floor when surplus is taken.
    """

    like: str
    title: str
    rates: RateTable
    traits: Traits
    slow: bool
    basis: str
    by: By

    @property
    def all_female(self) -> bool:
        """Whether it needs no males."""
        return self.rates.female_share.low >= 1.0


class _Stands(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    like: str
    basis: str
    warmth_of: str = ""
    female_share: float | None = None
    slow: bool | None = None


class _Classes(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    values: tuple[float, ...]
    kind: Kind
    source: str


class _Page(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    archetype: dict[str, _Described]
    shared: dict[str, Known]
    by_class: dict[str, _Classes]
    species: dict[str, _Stands]
    genus: dict[str, _Stands]
    care_group: dict[str, _Stands]
    springtails: dict[str, Known]


@lru_cache(maxsize=1)
def _page() -> _Page:
    try:
        read = msgspec.toml.decode(PAGE.read_bytes(), type=_Page)
    except msgspec.DecodeError as fault:
        raise PageFault("growth", "page", str(fault)) from None
    for name, one in read.archetype.items():
        for rate, known in _rates(one).items():
            _check(f"{name}.{rate}", known)
    for section in (read.shared, read.springtails):
        for name, known in section.items():
            _check(name, known)
    for stands in (read.species, read.genus, read.care_group):
        for name, one_stands in stands.items():
            _check_stands(name, one_stands, read)
    return read


def _check(name: str, known: Known) -> None:
    if not 0 <= known.low <= known.mode <= known.high:
        raise PageFault("growth", name, "needs 0 <= low <= mode <= high")
    if not known.source:
        raise PageFault("growth", name, "has no source")


def _check_stands(name: str, stands: _Stands, read: _Page) -> None:
    for like in filter(None, (stands.like, stands.warmth_of)):
        if like not in read.archetype:
            raise PageFault("growth", name, f"{like!r} is not an archetype")
    if not stands.basis:
        raise PageFault("growth", name, "has no basis")


def _rates(table: RateTable) -> dict[str, Known]:
    return {name: getattr(table, name) for name in RateTable.__struct_fields__}


def archetypes() -> dict[str, Archetype]:
    """All archetypes by name, each as it is, standing for nobody else."""
    return {
        name: _made(_Stands(like=name, basis=one.title), "species")
        for name, one in _page().archetype.items()
    }


def archetype_of(
    slug: str | None = None, *, genus: str | None = None, care_group: str | None = None
) -> Archetype | None:
    """The growth taken for a page of the handbook, else for a genus, else for a care group.

    ``slug`` is a page or a care group. For a page the species' own line goes first (its parent's
    for a morph), then its genus, then its care group. None for springtails, which this model is not
    for (see ``culture``), and where nothing that was given is known.

    Raises:
        UnknownPage: when ``slug`` is neither a page nor a care group.
    """
    read = _page()
    if slug is not None and slug in bound().groups:
        slug, care_group = None, slug
    if slug is not None:
        found = page(slug)
        own = read.species.get(slug) or read.species.get(found.parent or "")
        if own:
            return _made(own, "species")
        genus, care_group = found.name.split()[0], group_of(slug)
    if genus in read.genus:
        return _made(read.genus[genus], "genus")
    if care_group in read.care_group:
        return _made(read.care_group[care_group], "care group")
    if care_group is not None and care_group not in bound().groups:
        raise UnknownPage(care_group, "care group")
    return None


def _made(stands: _Stands, by: By) -> Archetype:
    read = _page()
    described = read.archetype[stands.like]
    rates = RateTable(**_rates(described))
    if stands.warmth_of:
        other = _rates(read.archetype[stands.warmth_of])
        rates = replace(rates, **{name: other[name] for name in WARMTH})
    if (share := stands.female_share) is not None:
        even = Known(low=share, mode=share, high=share, kind="ours", source=stands.basis)
        rates = replace(rates, female_share=even)
    return Archetype(
        like=stands.like,
        title=described.title,
        rates=rates,
        traits=_traits(rates),
        slow=described.slow if stands.slow is None else stands.slow,
        basis=stands.basis,
        by=by,
    )


def _traits(rates: RateTable) -> Traits:
    spans = {n: Span(low=k.low, mode=k.mode, high=k.high) for n, k in _rates(rates).items()}
    return Traits(**spans)


def shared() -> dict[str, Known]:
    """What is the same for all, by the names of `stage_rates.Conditions`, with ends and sources."""
    return dict(_page().shared)


def conditions() -> Conditions:
    """The same as the model takes it: the most likely values."""
    read = _page()
    single = {name: known.mode for name, known in read.shared.items()}
    return Conditions(
        parity=_three(read.by_class["parity"].values),
        stage_weights=_six(read.by_class["stage_weights"].values),
        **single,
    )


def _three(values: tuple[float, ...]) -> tuple[float, float, float]:
    first, second, third = values
    return first, second, third


def _six(values: tuple[float, ...]) -> tuple[float, float, float, float, float, float]:
    a, b, c, d, e, f = values
    return a, b, c, d, e, f


def springtail_figures() -> dict[str, Known]:
    """The figures of springtail cultures, by name."""
    return dict(_page().springtails)
