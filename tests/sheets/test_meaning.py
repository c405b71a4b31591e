"""Which heading means what, what sort of sheet it is, and what is said where it is neither."""

import pytest

from mancary.husbandry.refusal import Refusal
from mancary.sheets.meaning import Meaning, find_meaning
from mancary.sheets.reading import read_table


def meaning(text: str, **told: str) -> Meaning:
    return find_meaning(read_table(text.encode()), told)


def roles(text: str, **told: str) -> list[str]:
    return [column.role for column in meaning(text, **told).columns]


def test_headings_in_other_words_and_order() -> None:
    text = "Anmärkning;Volym (ml);Hål;Art;Startad;Låda\n;500;12x4;Porcellio scaber;2023;A1\n"
    found = meaning(text)
    assert found.sort == "boxes"
    assert [c.role for c in found.columns] == [
        "remarks", "litres", "vents", "species", "since", "box",
    ]  # fmt: skip
    assert found.columns[1].unit == "ml"


def test_a_misspelt_heading_is_understood_and_a_foreign_one_is_not() -> None:
    assert roles("Box,Speceis,Litters\nA1,Porcellio scaber,3\n") == ["box", "species", "litres"]
    assert roles("Box,Species,Barometer\nA1,Porcellio scaber,3\n") == ["box", "species", "note"]


def test_a_column_without_a_known_heading_is_understood_by_its_values() -> None:
    found = meaning(
        "x1,x2,x3,q\nA1,Porcellio scaber,2 Feb 2023,7\nA2,Oniscus asellus,2024-01-01,8\n"
    )
    assert [c.role for c in found.columns] == ["box", "species", "since", "note"]
    assert [c.found for c in found.columns] == ["values", "values", "values", "not understood"]


def test_the_values_decide_between_two_meanings_of_a_heading() -> None:
    assert roles("Box,Species,Size\nA1,Oniscus asellus,3\n")[2] == "litres"
    assert roles("Box,Species,Size\nA1,Oniscus asellus,30x20x15 cm\n")[2] == "size"
    assert roles("No,Species,Number\nA1,x,20\nA2,y,20\nA3,z,30\n") == ["box", "species", "count"]


def test_the_keepers_meaning_stands_before_ours() -> None:
    text = "Box,Species,Barometer,Notes\nA1,Porcellio scaber,3,x\n"
    assert roles(text, Barometer="litres", Notes="ignore") == ["box", "species", "litres", "ignore"]
    with pytest.raises(Refusal, match="no meaning of a column"):
        roles(text, Barometer="weather")
    with pytest.raises(Refusal, match="no column 'Other'"):
        roles(text, Other="litres")


def test_a_journal_is_told_from_a_list() -> None:
    found = meaning("Species,Date,Box,What,Amount\nx,2026-01-01,A1,mist,20 ml\n")
    assert found.sort == "journal"
    assert [c.role for c in found.columns] == ["ignore", "date", "box", "what", "amount"]
    assert found.columns[0].found == "not needed"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Box,2026-01-01,2026-01-02,2026-01-03\nA1,mist,,veg\n", "wide log"),
        ("Date,Box,Mist,Veg\n2026-01-01,A1,x,\n", "wide log"),
        ("Date,A01,A02,A03\n2026-01-01,mist,,veg\n", "wide log"),
        ("Box,What\nA1,mist\n", "no column of it holds dates"),
        ("a,b\nx,y\n", "its headings: a, b"),
        ("Box,Notes\nA1,x\n", "Expected a line of headings"),
    ],
)
def test_what_is_neither_is_refused_in_a_sentence(text: str, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        meaning(text)
