"""Never a number without unit, kind and source."""

import re
from collections.abc import Iterator

import pytest
from msgspec.structs import replace

from mancary import handbook
from mancary.handbook.words import KIND_OF, PRACTICE_UNITS, SEEN_OF, UNITS
from tests.handbook.catalogue import BY_NAME, MARKS, figure_and_end, slug_of

KNOWN = handbook.bibliography()


def _all_figures() -> Iterator[tuple[str, handbook.Figure]]:
    for slug in handbook.species_slugs():
        yield from ((slug, figure) for figure in handbook.page(slug).figures.values())
        yield from ((slug, figure) for figure in handbook.figures(slug).values())
    for group in handbook.groups():
        yield from ((group.slug, figure) for figure in group.figures.values())
    yield from (("practice", figure) for figure in handbook.practice().values())


def _faults(figure: handbook.Figure) -> Iterator[str]:
    units = UNITS | PRACTICE_UNITS
    if figure.unit != units[figure.name]:
        yield "unit"
    if KIND_OF[figure.basis] != figure.kind:
        yield "kind"
    if figure.source not in KNOWN or KNOWN[figure.source].seen not in SEEN_OF[figure.basis]:
        yield "source"
    if figure.low_end is not None:
        low = figure.low_end
        if KIND_OF[low.basis] != low.kind or KNOWN[low.source].seen not in SEEN_OF[low.basis]:
            yield "low end"
    if (figure.low is None) == (not figure.text):
        yield "value"


def test_every_figure_of_every_page_has_unit_kind_and_source() -> None:
    walked = 0
    for slug, figure in _all_figures():
        assert not list(_faults(figure)), f"{slug}: {figure}"
        walked += 1
    assert walked > 132 * 10


def test_the_walk_would_notice_a_figure_without_a_source() -> None:
    figure = handbook.figures("porcellio-scaber")["temperature_c"]
    assert list(_faults(replace(figure, source="nowhere"))) == ["source"]
    assert list(_faults(replace(figure, source="gregory2009"))) == ["source"]
    assert list(_faults(replace(figure, unit="K"))) == ["unit"]
    assert list(_faults(replace(figure, kind="published"))) == ["kind"]
    assert list(_faults(replace(figure, low=None))) == ["value"]


def test_resolved_figures_carry_the_citation_and_how_it_was_seen() -> None:
    for slug in handbook.species_slugs():
        for figure in handbook.figures(slug).values():
            source = KNOWN[figure.source]
            assert figure.seen == f"{source.citation} [{source.seen}]"


def test_every_source_said_in_the_provenance_file_is_in_the_bibliography() -> None:
    said = {words for source in KNOWN.values() for words in source.said_as}
    details = {mark["basis_detail"] for mark in MARKS if mark["basis"] != "G"} - {""}
    assert details <= said


@pytest.mark.parametrize("slug", handbook.species_slugs())
def test_every_work_a_note_names_by_author_and_year_is_cited(slug: str) -> None:
    page = handbook.page(slug)
    named = re.findall(r"[A-Z][a-z]+(?: & [A-Z][a-zé]+| et al\.) (?:19|20)\d\d", page.notes)
    said = {words for key in page.cites for words in KNOWN[key].said_as}
    for work in named:
        assert any(work in words for words in said), f"{work} is not among {page.cites}"


def test_second_hand_is_never_called_seen() -> None:
    """Letter T is a published figure seen through another text; the bibliography says so."""
    for mark in MARKS:
        if mark["basis"] == "T":
            figure, _ = figure_and_end(mark["field"])
            resolved = handbook.figures(slug_of(mark["scientific_name"]))[figure]
            assert KNOWN[resolved.source].seen == "published, seen second-hand"


# published facts of the trade notes, one by one: figure, low, high, and the work it comes from


@pytest.mark.parametrize(
    ("slug", "figure", "low", "high", "source"),
    [
        ("porcellio-spinicornis", "temperature_c", 17.5, 27.5, "spinicornis-demography1974"),
        ("cubaris-murina", "temperature_c", 24, 30, "niemeyer2009"),
        ("cubaris-murina", "brood_size", 20, 30, "niemeyer2009"),
        ("folsomia-candida", "months_to_first_brood", 0.7, 0.9, "fountain-hopkin2005"),
        ("folsomia-candida", "temperature_c", 15, 24, "fountain-hopkin2005"),
        ("armadillidium-pictum", "adult_length_mm", 6, 9, "gregory2009"),
        ("reductoniscus-costulatus", "adult_length_mm", 1.5, 2, "gregory2014"),
    ],
)
def test_published_figures_are_those_of_the_trade_notes(
    slug: str, figure: str, low: float, high: float, source: str
) -> None:
    found = handbook.figures(slug)[figure]
    assert (found.low, found.high, found.source) == (low, high, source)
    assert found.kind == "published"
    assert found.from_ == "species"


@pytest.mark.parametrize(
    ("slug", "fact"),
    [
        ("porcellio-scaber", "nearly three times slower at 15 C than at 22 C"),
        ("porcellio-dilatatus", "Manca stages at 23 C lasted about 19 h, 12.7 d and 12.7 d"),
        ("armadillidium-granulatum", "Manca stages about 6 h, 15 d and 32 d"),
        ("cubaris-murina", "On 300 square cm, 6-12 animals survived best"),
        ("armadillidium-vulgare", "Long days start breeding"),
    ],
)
def test_published_facts_in_the_notes_are_those_of_the_trade_notes(slug: str, fact: str) -> None:
    assert fact in handbook.page(slug).notes


def test_only_three_taxa_have_a_published_temperature() -> None:
    """The trade notes' first warning, counted again from the pages."""
    published = [
        slug
        for slug in handbook.species_slugs()
        if (found := handbook.page(slug).figures.get("temperature_c")) and found.basis in "PT"
    ]
    assert sorted(published) == ["cubaris-murina", "folsomia-candida", "porcellio-spinicornis"]


def test_the_counts_of_the_trade_notes_hold() -> None:
    own = [handbook.page(slug).figures for slug in handbook.species_slugs()]
    lengths = [page["adult_length_mm"].basis for page in own if "adult_length_mm" in page]
    assert (lengths.count("P") + lengths.count("T"), lengths.count("T")) == (18, 9)
    broods = [page["brood_size"].basis for page in own if "brood_size" in page]
    assert (broods.count("P") + broods.count("T"), broods.count("T")) == (7, 1)
    assert len(BY_NAME) == 132
