"""Words beside a weight that become its mark, and words that do not."""

import pytest

from mancary.sheets.telling.marks import mark_in, split_mark


@pytest.mark.parametrize(
    ("words", "mark"),
    [
        ("just right", "just_right"),
        ("Just right, left half", "just_right"),
        ("damp end just right", "just_right"),
        ("too dry now", "too_dry"),
        ("soaking", "too_wet"),
        ("Soaking!", "too_wet"),
        ("för torrt", "too_dry"),
        ("zu nass", "too_wet"),
        ("left half. too wet", "too_wet"),
    ],
)
def test_words_that_are_a_mark(words: str, mark: str) -> None:
    assert mark_in(words) == mark


@pytest.mark.parametrize(
    "words",
    [
        "", "not too dry", "too dry?", "almost too dry", "was too dry yesterday", "inte för torrt",
        "nicht zu nass", "too dry, then too wet", "too dry for cucumber", "soaking the bark",
        "just right or too wet", "left half", "not just right", "all gone",
    ],
)  # fmt: skip
def test_words_that_deny_ask_or_tell_something_else_are_none(words: str) -> None:
    assert mark_in(words) is None


@pytest.mark.parametrize(
    ("text", "weight", "mark"),
    [
        ("1462 g just right", "1462 g", "just_right"),
        ("1,48 kg, soaking", "1,48 kg", "too_wet"),
        ("1462 (too dry now)", "1462", "too_dry"),
        ("1462 g", "1462 g", None),
        ("1462 g not too dry", "1462 g not too dry", None),
        ("1462 g too dry?", "1462 g too dry?", None),
    ],
)
def test_a_weight_is_told_apart_from_its_mark(text: str, weight: str, mark: str | None) -> None:
    assert split_mark(text) == (weight, mark)
