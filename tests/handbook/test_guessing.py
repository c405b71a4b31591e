"""The care group of an unknown form, by its genus and the rule of succession."""

import pytest

from mancary import handbook


def test_an_unknown_cubaris_form_by_the_thirteen_known_ones() -> None:
    ((slug, sure, why),) = handbook.guess_group('Cubaris sp. "Harbour Fog"')
    assert slug == "asian-cave-armadillidae"
    assert sure == pytest.approx(14 / 15, abs=1e-4)
    assert "13 of the handbook's 13 undescribed forms" in why
    assert "(13 + 1) / (13 + 2)" in why


def test_a_misspelt_genus_is_taken_for_the_one_it_is_near() -> None:
    assert handbook.guess_group("Cubarris sp. Harbour Fog") == handbook.guess_group(
        "Cubaris sp. Harbour Fog"
    )


def test_a_former_genus_counts_the_forms_that_bore_it() -> None:
    ((slug, sure, _),) = handbook.guess_group("Merulanella sp. Harbour")
    assert slug == "climbing-armadillidae"
    assert sure == pytest.approx(6 / 7, abs=1e-4)


def test_a_genus_in_several_groups_shares_what_is_likely_and_leaves_some_over() -> None:
    guesses = handbook.guess_group("Porcellio novus")
    assert next(slug for slug, _, _ in guesses) == "large-mediterranean-porcellio"
    assert guesses[0][1] == pytest.approx(19 / 31, abs=1e-4)
    assert sum(sure for _, sure, _ in guesses) < 1.0


@pytest.mark.parametrize("text", ["Nobody knowsit", "", "Pseudarmadillo sp. Grey"])
def test_nothing_is_guessed_where_nothing_is_known(text: str) -> None:
    assert handbook.guess_group(text) == ()
