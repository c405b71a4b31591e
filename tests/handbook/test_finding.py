"""The name finder: exact and near ways, how sure each is, and the traps."""

import re
import subprocess
import sys
from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mancary import handbook
from mancary.handbook import confidence
from tests.handbook.catalogue import BY_NAME, NAMES, ROWS, slug_of, trade_names


def _first(text: str) -> tuple[str, str, float]:
    found = handbook.find(text)[0]
    return found.slug, found.how, found.confidence


def _owners() -> dict[str, set[str]]:
    """Which rows, a morph with its species counted once, go by a trade name."""
    owners: dict[str, set[str]] = defaultdict(set)
    for row in ROWS:
        species = row["scientific_name"].split(" '")[0]
        for name in trade_names(row):
            owners[name.lower()].add(species)
        form = re.sub(r"^\S+ spp?\. ?", "", species)
        if row["rank"] == "undescribed" and form:
            owners[form.lower()].add(species)
    return owners


OWNERS = _owners()
ALONE = sorted(name for name, rows in OWNERS.items() if len(rows) == 1 and len(name) > 4)
SHARED = sorted(name for name, rows in OWNERS.items() if len(rows) > 1)


@pytest.mark.parametrize("name", NAMES)
def test_every_row_is_found_by_its_exact_name(name: str) -> None:
    assert handbook.find(name) == (
        handbook.Proposal(slug=slug_of(name), name=name, how="exact", confidence=1.0),
    )


@settings(deadline=None)
@given(st.sampled_from(NAMES), st.data())
def test_case_space_quotes_and_brackets_are_noise(name: str, data: st.DataObject) -> None:
    cased = "".join(data.draw(st.sampled_from((letter.lower(), letter.upper()))) for letter in name)
    gap = data.draw(st.sampled_from(("  ", "\t", " \u00a0 ", " ")))
    around = data.draw(st.sampled_from(('""', "''", "()", "[]", "“”", "  ")))
    words = cased.replace(" ", gap).split(gap, 1)
    typed = f" {words[0]}{gap}{around[0]}{words[1]}{around[1]} "
    assert handbook.find(typed)[0].slug == slug_of(name)
    assert handbook.find(typed)[0].confidence == 1.0


@pytest.mark.parametrize("name", [name for name in NAMES if " sp. " in name])
@pytest.mark.parametrize("form", ["sp ", "SP. ", "spp. ", "spec. ", ""])
def test_the_ways_to_write_sp_are_one(name: str, form: str) -> None:
    assert _first(name.replace("sp. ", form)) == (slug_of(name), "exact", 1.0)


@pytest.mark.parametrize("name", ALONE)
def test_every_trade_name_of_one_row_alone_finds_it(name: str) -> None:
    species = next(iter(OWNERS[name]))
    found = handbook.find(name)
    morphs = {slug_of(row) for row in BY_NAME if row.startswith(f"{species} '")}
    assert len(found) == 1
    assert found[0].slug in {slug_of(species), *morphs}
    assert (found[0].how, found[0].confidence) == ("trade name", confidence.TRADE_NAME)


@pytest.mark.parametrize("name", SHARED)
def test_a_trade_name_of_several_rows_is_split_between_them(name: str) -> None:
    found = handbook.find(name)
    assert len(found) == min(len(OWNERS[name]), 8)
    for proposal in found:
        assert proposal.confidence == pytest.approx(0.97 / len(OWNERS[name]), abs=1e-4)


def test_a_colour_with_a_page_of_its_own_is_that_page() -> None:
    assert _first("dairy cow") == ("porcellio-laevis-dairy-cow", "trade name", 0.97)
    assert _first("P. scaber orange") == ("porcellio-scaber-orange", "abbreviation", 0.95)
    assert _first("laevis dairy cow") == ("porcellio-laevis-dairy-cow", "abbreviation", 0.93)
    assert _first("Dalmatian scaber")[0] == "porcellio-scaber-dalmatian"
    assert _first("Porcellio scaber (Lava)") == ("porcellio-scaber-lava", "exact", 1.0)


def test_a_colour_without_one_is_the_species_and_the_morph_is_told() -> None:
    found = handbook.find("Armadillidium vulgare St. Lucia")[0]
    assert (found.slug, found.morph, found.confidence) == ("armadillidium-vulgare", "St Lucia", 1.0)
    wild = handbook.find("porcellio scaber, wild type")[0]
    assert (wild.slug, wild.morph, wild.confidence) == ("porcellio-scaber", "wild", 1.0)


def test_words_the_page_does_not_know_take_off_a_tenth_and_are_kept() -> None:
    found = handbook.find("Armadillidium vulgare Lighthouse")[0]
    assert (found.slug, found.morph, found.confidence) == (
        "armadillidium-vulgare", "Lighthouse", 0.9,
    )  # fmt: skip


def test_a_longer_trade_name_is_often_another_form() -> None:
    found = handbook.find("Cubaris sp. Amber Lighthouse")[0]
    assert (found.slug, found.morph, found.confidence) == ("cubaris-sp-amber", "Lighthouse", 0.6)


def test_the_author_of_a_name_changes_nothing() -> None:
    assert _first("Porcellio scaber Latreille, 1804") == ("porcellio-scaber", "exact", 1.0)
    assert _first("Cubaris murina Brandt 1833") == ("cubaris-murina", "exact", 1.0)


def test_cf_says_that_the_keeper_is_not_sure() -> None:
    assert _first("Porcellio cf. scaber") == ("porcellio-scaber", "exact", 0.75)


@pytest.mark.parametrize(
    ("typed", "slug"),
    [
        ("P. dilatatus", "porcellio-dilatatus"),
        ("p dilatatus", "porcellio-dilatatus"),
        ("A. maculatum", "armadillidium-maculatum"),
        ("Arm. vulgare", "armadillidium-vulgare"),
        ("A. officinalis", "armadillo-officinalis"),
        ("C. rubber ducky", "cubaris-sp-rubber-ducky"),
    ],
)
def test_a_shortened_genus(typed: str, slug: str) -> None:
    assert _first(typed) == (slug, "abbreviation", confidence.ABBREVIATION)


def test_two_species_called_hoffmannseggii() -> None:
    assert _first("Porcellio hoffmannseggii") == ("porcellio-hoffmannseggii", "exact", 1.0)
    assert _first("Platyarthrus hofmannseggii")[0] == "platyarthrus-hoffmannseggii"
    assert _first("Porcelio hoffmanseggii")[0] == "porcellio-hoffmannseggii"
    both = handbook.find("P. hoffmannseggii")
    assert {entry.slug for entry in both} == {
        "porcellio-hoffmannseggii", "platyarthrus-hoffmannseggii",
    }  # fmt: skip
    assert all(entry.confidence < 0.5 for entry in both)
    assert {entry.slug for entry in handbook.find("P. hofmannseggii")} == {
        entry.slug for entry in both
    }


def test_a_trade_name_beside_another_genus_counts_within_the_family_alone() -> None:
    assert _first("Cubaris Emperor Bee") == ("troglodillo-sp-emperor-bee", "trade name", 0.85)
    assert _first("Cubaris Shiro Utsuri") == ("nesodillo-arcangelii", "trade name", 0.85)
    assert handbook.find("Cubaris dairy cow") == ()


@pytest.mark.parametrize(
    ("typed", "slug"),
    [
        ("Merulanella sp. Ember Bee", "ardentiella-sp-ember-bee"),
        ("merulanella scarlet", "ardentiella-sp-scarlet"),
        ("Sphaerillo boninensis", "venezillo-parvus"),
        ("Eluma purpurascens", "eluma-caelata"),
    ],
)
def test_a_former_name_finds_what_it_is_now(typed: str, slug: str) -> None:
    assert _first(typed) == (slug, "former name", confidence.FORMER_NAME)


def test_a_described_species_is_not_taken_for_the_trade_form_of_like_name() -> None:
    assert _first("Merulanella bicolorata") == ("merulanella-bicolorata", "exact", 1.0)
    assert _first("Merulanella bicolor")[0] == "ardentiella-sp-bicolor"


def test_who_changed_a_name_is_kept() -> None:
    former = handbook.page("ardentiella-sp-ember-bee").formerly[0]
    assert former.name == "Merulanella sp. Ember Bee"
    assert "genus author not checked" in former.changed_by
    assert "Kästle & Regalado Fernández" in former.note
    assert handbook.page("venezillo-parvus").formerly[0].changed_by == "Karasawa 2020"


def test_a_genus_alone_proposes_its_pages_none_of_them_confidently() -> None:
    found = handbook.find("Orchesella")
    assert [entry.how for entry in found] == ["genus", "genus"]
    assert all(entry.confidence == pytest.approx(1 / 3, abs=1e-4) for entry in found)
    assert handbook.find("Cubaris sp.")[0].confidence < 0.1


@pytest.mark.parametrize(
    "typed",
    [
        'Cubaris sp. "Harbour Fog"',
        "Porcellio sp. Quayside",
        "harbour fog",
        "wild",
        "",
        "  ",
        "?!",
        "colony",
    ],
)
def test_an_unknown_form_gets_no_proposal(typed: str) -> None:
    assert handbook.find(typed) == ()


def test_own_pages_are_found_like_the_handbook_s() -> None:
    own = [("harbour-fog", 'Cubaris sp. "Harbour Fog"')]
    assert handbook.find("cubaris harbour fog", own)[0].confidence == 1.0
    assert handbook.find("harbour fog", own)[0].how == "trade name"
    near = handbook.find("Cubaris sp. Harbor Fog", own)[0]
    assert (near.slug, near.how) == ("harbour-fog", "misspelling")
    assert handbook.find("harbour fog") == ()


def test_proposals_are_ordered_and_share_at_most_one() -> None:
    for text in ("orange", "white", "tropical white", "Porcellio", "P. hoffmannseggii"):
        sure = [entry.confidence for entry in handbook.find(text)]
        assert sure == sorted(sure, reverse=True)
        assert sum(sure) <= 1.0


def test_exact_names_are_found_without_the_library_for_misspellings() -> None:
    program = (
        "import sys; from mancary import handbook; handbook.find('P. scaber orange');"
        " print('rapidfuzz' in sys.modules)"
    )
    told = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert told.stdout.strip() == "False"


def test_a_long_note_after_a_name_is_not_read_to_its_end() -> None:
    found = handbook.find("Porcellio scaber " + "kept dry by the window " * 2000)[0]
    assert (found.slug, found.confidence) == ("porcellio-scaber", 0.9)
