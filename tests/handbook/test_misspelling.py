"""Misspelt names: one edit still finds the page, and confidence falls as it should."""

import string

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mancary import handbook
from mancary.handbook import confidence
from tests.handbook.catalogue import NAMES, slug_of

LONG_NAMES = [name for name in NAMES if len(name) >= 8]


def _first(text: str) -> tuple[str, str, float]:
    found = handbook.find(text)[0]
    return found.slug, found.how, found.confidence


def test_the_misspellings_a_keeper_s_sheet_holds() -> None:
    for typed, slug in [
        ("Porcelio scaber", "porcellio-scaber"),
        ("porcellio  LAEVIS ", "porcellio-laevis"),
        ("rubber duckie", "cubaris-sp-rubber-ducky"),
        ("Armadillidum vulgare", "armadillidium-vulgare"),
        ("P. dilatatis", "porcellio-dilatatus"),
        ("Nesodillo archangeli", "nesodillo-arcangelii"),
        ("dwarf whites", "trichorhina-tomentosa"),
    ]:
        found, _, sure = _first(typed)
        assert found == slug, typed
        assert sure >= 0.85, typed


AMBIGUOUS = {"Ardentiella sp. ricolor", "Ardentiella sp. Ticolor"}
"""One edit from "Tricolor" and one from "Bicolor": the finder proposes both, half as sure each."""


def _edited(name: str, data: st.DataObject) -> str:
    place = data.draw(st.integers(0, len(name) - 1))
    letter = data.draw(st.sampled_from(string.ascii_lowercase))
    kinds = {
        "wrong": name[:place] + letter + name[place + 1 :],
        "missing": name[:place] + name[place + 1 :],
        "added": name[:place] + letter + name[place:],
        "swapped": name[:place] + name[place : place + 2][::-1] + name[place + 2 :],
    }
    return kinds[data.draw(st.sampled_from(sorted(kinds)))]


@settings(deadline=None)
@given(st.sampled_from(LONG_NAMES), st.data())
def test_one_edit_still_proposes_the_page_first(name: str, data: st.DataObject) -> None:
    typed = _edited(name, data)
    assume(typed not in AMBIGUOUS)
    found, _, sure = _first(typed)
    assert found == slug_of(name)
    assert sure >= 0.8


@pytest.mark.parametrize("typed", sorted(AMBIGUOUS))
def test_a_name_as_near_to_two_pages_proposes_both(typed: str) -> None:
    found = handbook.find(typed)
    assert {entry.slug for entry in found} == {
        "ardentiella-sp-tricolor", "ardentiella-sp-bicolor",
    }  # fmt: skip
    assert all(entry.confidence < 0.5 for entry in found)


@settings(deadline=None)
@given(st.sampled_from(LONG_NAMES), st.data())
def test_a_misspelling_is_never_as_sure_as_the_name(name: str, data: st.DataObject) -> None:
    typed = _edited(_edited(name, data), data)
    for found in handbook.find(typed):
        assert 0.0 < found.confidence <= 1.0
        if found.how == "misspelling":
            assert found.confidence <= confidence.TRADE_NAME


def test_confidence_falls_with_each_edit() -> None:
    sure = [
        handbook.find(typed)[0].confidence
        for typed in ("Porcellio scaber", "Porcellio scabe", "Porcellio scxbe", "Porcellio sxxbe")
    ]
    assert sure == sorted(sure, reverse=True)
    assert len(set(sure)) == 4


def test_confidence_falls_as_the_runner_up_comes_nearer() -> None:
    alone = handbook.find("Porcellio harborensiz", [("a", "Porcellio harborensis")])
    beside = handbook.find(
        "Porcellio harborensiz", [("a", "Porcellio harborensis"), ("b", "Porcellio harborensia")]
    )
    assert alone[0].confidence > 0.9
    assert beside[0].confidence == pytest.approx(beside[1].confidence)
    assert beside[0].confidence < 0.5


def test_short_names_are_less_sure_than_long_ones() -> None:
    assert _first("Cubaris sp. Soul")[2] < _first("Porcellio hoffmannseggij")[2]
