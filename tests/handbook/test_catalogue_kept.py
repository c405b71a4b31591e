"""Nothing of the trade catalogue is lost, and nothing is invented."""

import pytest

from mancary import handbook
from mancary.handbook.words import KIND_OF, UNITS
from mancary.husbandry.how_well import how_well
from tests.handbook.catalogue import (
    BY_NAME,
    MARKS,
    NAMES,
    NOT_FIGURES,
    ROWS,
    figure_and_end,
    slug_of,
)


def _written(figure: handbook.Figure, end: str) -> str:
    """The figure as the catalogue writes it."""
    if figure.low is None or figure.high is None:
        return {"yes": "y", "no": "n"}.get(figure.text, figure.text)
    if end:
        return f"{figure.low if end == 'low' else figure.high:g}"
    return f"{figure.low:g}" if figure.low == figure.high else f"{figure.low:g}-{figure.high:g}"


def _basis(figure: handbook.Figure, end: str) -> str:
    return figure.low_end.basis if end == "low" and figure.low_end else figure.basis


def _plain(value: str) -> str:
    try:
        return f"{float(value):g}"
    except ValueError:
        return value


def test_the_catalogue_has_the_rows_the_notes_on_it_count() -> None:
    ranks = [row["rank"] for row in ROWS]
    assert [ranks.count(rank) for rank in ("species", "undescribed", "morph")] == [91, 29, 12]
    assert len(handbook.species_slugs()) == 132
    assert len(handbook.groups()) == 10


@pytest.mark.parametrize("name", NAMES)
def test_every_value_is_the_resolved_figure_with_its_letter(name: str) -> None:
    resolved = handbook.figures(slug_of(name))
    marks = [mark for mark in MARKS if mark["scientific_name"] == name]
    for mark in marks:
        figure, end = figure_and_end(mark["field"])
        assert _written(resolved[figure], end) == _plain(mark["value"]), mark
        assert _basis(resolved[figure], end) == mark["basis"], mark
        assert resolved[figure].kind == KIND_OF[resolved[figure].basis]
        assert not resolved[figure].left_blank, mark
        assert (resolved[figure].from_ == "care group") == (
            mark["basis"] == "G" and bool(mark["basis_detail"])
        )


@pytest.mark.parametrize("name", [name for name in NAMES if BY_NAME[name]["rank"] != "morph"])
def test_blanks_stay_blank_on_the_page_and_are_answered_from_the_care_group(name: str) -> None:
    row, page = BY_NAME[name], handbook.page(slug_of(name))
    resolved = handbook.figures(page.slug)
    empty = {
        figure_and_end(field)[0]
        for field, value in row.items()
        if field not in NOT_FIGURES and not value
    }
    assert set(page.blank) == empty
    assert not empty & set(page.figures)
    for figure in empty & set(resolved):
        assert resolved[figure].from_ == "care group"
        assert resolved[figure].left_blank
        assert "not known for this species" in how_well(resolved[figure])
    lent = set(handbook.group_figures(page.group))
    assert empty - set(resolved) == empty - lent


def test_a_changed_letter_or_value_would_be_noticed() -> None:
    """The comparison above can fail: a figure of another letter or another value is not equal."""
    scaber = handbook.figures("porcellio-scaber")["adult_length_mm"]
    assert (_basis(scaber, "low"), _basis(scaber, "high")) == ("M", "P")
    assert (_written(scaber, "low"), _written(scaber, "high")) == ("12", "17")


def test_every_value_of_the_catalogue_stands_in_the_provenance_file() -> None:
    marked = {(mark["scientific_name"], mark["field"]): mark["value"] for mark in MARKS}
    told = {
        (row["scientific_name"], field): value
        for row in ROWS
        for field, value in row.items()
        if field not in NOT_FIGURES and value
    }
    assert told == marked


@pytest.mark.parametrize("name", NAMES)
def test_words_come_along_unchanged(name: str) -> None:
    row, page = BY_NAME[name], handbook.page(slug_of(name))
    assert (page.name, page.rank, page.family) == (name, row["rank"], row["family"])
    if "a US regulator told" in row["notes"]:  # the handbook never says that something is legal
        assert "ask your authority" in page.notes
    else:
        assert page.notes == row["notes"]
    assert page.authority == row["authority"]
    assert page.rests_on == (row["source_kind"] or "not stated in the catalogue")


@pytest.mark.parametrize("name", NAMES)
def test_every_entry_of_the_trade_column_is_kept(name: str) -> None:
    row, page = BY_NAME[name], handbook.page(slug_of(name))
    if row["rank"] == "morph":
        assert page.appearance == row["trade_morphs"]
        return
    told = [f"{said.name} ({said.note})" if said.note else said.name for said in page.trade_names]
    entries = sorted(filter(None, (entry.strip() for entry in row["trade_morphs"].split(";"))))
    assert sorted(filter(None, (*told, page.wild_type, page.appearance))) == entries


def test_a_species_page_repeats_nothing_its_care_group_says() -> None:
    for slug in handbook.species_slugs():
        page = handbook.page(slug)
        shared = handbook.group(page.group).figures if page.group else {}
        for name, figure in page.figures.items():
            assert figure != shared.get(name), f"{slug} repeats {name}"
            assert figure.basis != "G" or figure.note, f"{slug}: {name} is the group's and unsaid"


def test_the_one_row_that_departs_from_its_care_group_says_so() -> None:
    own = handbook.page("porcellionides-pruinosus").figures["temperature_c"]
    shared = handbook.group("fast-compost").figures["temperature_c"]
    assert (own.low, own.high, own.basis) == (20, 28, "G")
    assert (shared.low, shared.high) == (18, 28)
    assert "18-28" in own.note


def test_a_care_group_speaks_for_its_members_alone() -> None:
    for group in handbook.groups():
        values: dict[str, set[str]] = {}
        for mark in MARKS:
            if mark["basis_detail"] == f"care group: {group.name}":
                figure, end = figure_and_end(mark["field"])
                if end != "high":
                    values.setdefault(figure, set()).add(mark["value"])
        of_the_group = {name for name, figure in group.figures.items() if figure.basis == "G"}
        assert of_the_group == set(values)
        assert all(len(found) == 1 for found in values.values())


def test_what_a_care_group_says_of_length_is_ours_and_is_the_members_spread() -> None:
    for group in handbook.groups():
        members = [
            found
            for slug in handbook.species_slugs()
            if (found := handbook.page(slug)).group == group.slug
        ]
        assert len(members) == group.members
        lengths = [
            page.figures["adult_length_mm"] for page in members if "adult_length_mm" in page.figures
        ]
        spread = group.figures.get("adult_length_mm")
        if spread is None:
            assert len(lengths) < 3
            continue
        assert (spread.kind, spread.basis) == ("ours", "E")
        assert spread.low == min(length.low for length in lengths if length.low is not None)
        assert spread.high == max(length.high for length in lengths if length.high is not None)
        assert f"{len(lengths)} of {len(members)} members" in spread.note


def test_morphs_inherit_everything_of_their_parent() -> None:
    for slug in handbook.species_slugs():
        page = handbook.page(slug)
        if page.rank != "morph":
            continue
        assert page.parent is not None
        assert page.figures == {}
        own, parent = handbook.figures(slug), handbook.figures(page.parent)
        assert list(own) == list(parent)
        for name, figure in own.items():
            assert (figure.low, figure.high, figure.text) == (
                parent[name].low, parent[name].high, parent[name].text,
            )  # fmt: skip
            assert figure.from_ == ("parent" if parent[name].from_ == "species" else "care group")


@pytest.mark.parametrize(
    "slug", ["merulanella-bicolorata", "dryadillo-maculatus", "pseudarmadillo-spinosus"]
)
def test_the_three_rows_without_figures_are_answered_from_nothing(slug: str) -> None:
    assert handbook.page(slug).group is None
    assert set(handbook.figures(slug)) <= {"climate_origin", "authority"}
    assert set(handbook.rhythms(slug)) == {"look", "label_check", "leftovers_out"}


def test_figures_come_in_the_order_they_are_shown() -> None:
    for slug in handbook.species_slugs():
        assert list(handbook.figures(slug)) == [
            name for name in UNITS if name in handbook.figures(slug)
        ]
