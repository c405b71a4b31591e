"""What the words of a journal tell, and what stays a note."""

import pytest

from mancary.husbandry.words import CARES, SEEN, said
from mancary.sheets.faults import Unclear
from mancary.sheets.telling.remarks import Sight, read_remark
from mancary.sheets.telling.trade_words import telling_of
from mancary.sheets.telling.work import read_work


@pytest.mark.parametrize(
    ("text", "word", "what"),
    [
        ("mist", "mist", ""),
        ("Misted", "mist", ""),
        ("sprayed", "mist", ""),
        ("duschade", "mist", ""),
        ("besprüht", "mist", ""),
        ("veg", "vegetable", ""),
        ("cucumber", "vegetable", "cucumber"),
        ("matade gurka", "vegetable", "gurka"),
        ("gave some protein", "protein", ""),
        ("Löv", "leaf_litter", ""),
        ("springtails added", "springtails", ""),
        ("young seen", "young_seen", ""),
        ("mögel", "mould", ""),
        ("tote Tiere", "dead", ""),
        ("count", "count", ""),
        ("gewogen", "weigh", ""),
    ],
)
def test_known_words_in_three_languages(text: str, word: str, what: str) -> None:
    (told,) = read_work(text).tellings
    assert (told.word, told.what) == (word, what)


@pytest.mark.parametrize("word", [*CARES, *SEEN])
def test_every_word_of_the_book_is_understood_as_the_book_says_it(word: str) -> None:
    told = telling_of(said(word))
    assert told is not None
    assert told.word == word


def test_several_works_and_an_amount_may_stand_in_one_cell() -> None:
    assert [told.word for told in read_work("mist, veg & calcium").tellings] == [
        "mist",
        "vegetable",
        "calcium",
    ]
    assert read_work("misted 20 ml").amount == "20 ml"
    assert read_work("2 dead").amount == "2"


@pytest.mark.parametrize(
    ("text", "near"),
    [
        ("vacuumed", []),
        ("hoovered", []),
        ("moved leaves to A02", ["leaf litter"]),
        ("no mould", ["mould"]),
        ("not misted", ["misting"]),
        ("moved", []),
        ("moved to A05", []),
        ("split", []),
        ("fed", ["vegetable", "protein"]),
        ("matade", ["vegetable", "protein"]),
    ],
)
def test_other_words_are_asked_with_sane_near_words_and_none_is_likely(
    text: str, near: list[str]
) -> None:
    with pytest.raises(Unclear) as asked:
        read_work(text)
    values = [choice.value for choice in asked.value.choices]
    assert values == [*near, "note", "leave out"]
    assert all(choice.likelihood < 0.9 for choice in asked.value.choices)


def test_a_slip_of_a_letter_is_asked_and_likely() -> None:
    with pytest.raises(Unclear) as asked:
        read_work("vegetabels")
    best = max(asked.value.choices, key=lambda choice: choice.likelihood)
    assert best.value == "vegetable"
    with pytest.raises(Unclear) as slip:
        read_work("springtails aded")
    assert slip.value.choices[0].value == "springtails added"
    assert slip.value.choices[0].likelihood >= 0.9


def test_every_choice_is_itself_understood() -> None:
    for text in ("vacuumed", "sprinkled", "wegetable", "kount", "wayed", "springs", "mites?!x"):
        try:
            read_work(text)
        except Unclear as asked:
            for choice in asked.choices[:-1]:
                assert read_work(choice.value).tellings


@pytest.mark.parametrize(
    ("text", "sights", "note"),
    [
        ("all gone", (Sight(word="all_gone"),), ""),
        ("smells", (Sight(word="smells"),), ""),
        ("left half", (Sight(word="left_over", share=0.5, as_written="left half"),), ""),
        ("1/4 left", (Sight(word="left_over", share=0.25, as_written="1/4 left"),), ""),
        ("ate 75%", (Sight(word="left_over", share=0.25, as_written="ate 75%"),), ""),
        ("hälften kvar", (Sight(word="left_over", share=0.5, as_written="hälften kvar"),), ""),
        ("2 dead", (Sight(word="dead", animals=2),), ""),
        ("smells, mould", (Sight(word="smells"), Sight(word="mould")), ""),
        ("smells, moved lamp", (Sight(word="smells"),), "smells, moved lamp"),
        ("no mould", (), "no mould"),
        ("left half of the shelf", (), "left half of the shelf"),
        ("hot shelf!", (), "hot shelf"),
        ("", (), ""),
    ],
)
def test_remarks(text: str, sights: tuple[Sight, ...], note: str) -> None:
    remark = read_remark(text)
    assert remark.sights == sights
    assert remark.note == note
