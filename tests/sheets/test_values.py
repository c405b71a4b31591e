"""Amounts, counts, volumes, weights, shares, rhythms and holes as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.husbandry.facts import Amount
from mancary.sheets.faults import Unclear, Unreadable
from mancary.sheets.values.amounts import read_dose
from mancary.sheets.values.counts import Count, read_count
from mancary.sheets.values.measures import (
    read_gross_g,
    read_litres,
    read_per_week,
    read_share,
    read_size,
)
from mancary.sheets.values.numbers import decimal_sign, number
from mancary.sheets.values.quantities import ABOUT_SHARE
from mancary.sheets.values.vents import read_vents


@pytest.mark.parametrize(
    ("text", "decimal", "value"),
    [
        ("1,48", None, 1.48),
        ("1.48", None, 1.48),
        ("0,125", None, 0.125),
        (".5", None, 0.5),
        ("1 462", None, 1462),
        ("1\u00a0462,5", None, 1462.5),
        ("1'462.5", None, 1462.5),
        ("1.462,5", None, 1462.5),
        ("1,462.5", None, 1462.5),
        ("1.234.567", None, 1234567),
        ("1455,250", None, 1455.25),
        ("1,455", ",", 1.455),
        ("1,455", ".", 1455),
        ("1.455", ",", 1455),
    ],
)
def test_numbers(text: str, decimal: str | None, value: float) -> None:
    assert number(text, decimal) == value


def test_a_separator_that_may_mean_either_is_asked() -> None:
    with pytest.raises(Unclear) as asked:
        number("1,455", None)
    assert asked.value.key == "numbers:,"
    assert [choice.value for choice in asked.value.choices] == ["decimals", "thousands"]


def test_the_sign_is_decided_by_what_can_only_be_decimals() -> None:
    assert decimal_sign(["1,5", "1.455", "3 l"]) == ","
    assert decimal_sign(["1.5 kg", "1,455"]) == "."
    assert decimal_sign(["1,455", "12"]) is None
    assert decimal_sign(["1,5", "1.5"]) is None


def about(value: float) -> tuple[int, int]:
    low, high = value * (1 - ABOUT_SHARE), value * (1 + ABOUT_SHARE)
    return int(low), -int(-high // 1)


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("25", Count(low=25, high=25)),
        ("50+", Count(low=50, as_written="50+", said="at least")),
        (">50", Count(low=50, as_written=">50", said="at least")),
        ("150-200", Count(low=150, high=200, as_written="150-200", said="a range")),
        ("10 to 15?", Count(low=10, high=15, as_written="10 to 15?", said="a range")),
        ("lots", Count(low=50, as_written="lots", said="our reading: at least 50")),
        ("a few", Count(low=1, high=9, band="few", as_written="a few", said="size band few")),
        ("12 animals", Count(low=12, high=12, as_written="12 animals")),
        ("?", None),
        ("", None),
        ("unknown", None),
    ],
)
def test_counts(text: str, count: Count | None) -> None:
    assert read_count(text, None) == count


@pytest.mark.parametrize("text", ["ca. 40", "~40", "about 40", "ungefär 40", "etwa 40", "40?"])
def test_about_is_a_fifth_either_way_and_said_to_be_ours(text: str) -> None:
    count = read_count(text, None)
    assert count is not None
    assert (count.low, count.high) == (32, 48) == about(40)
    assert count.as_written == text
    assert count.said.startswith("our reading")


@pytest.mark.parametrize("text", ["-4", "1.5", "12 fathoms", "blue", "2000000"])
def test_what_is_no_number_of_animals_is_refused(text: str) -> None:
    with pytest.raises(Unreadable, match="expected"):
        read_count(text, ".")


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("20 ml", Amount(low=20, unit="mL")),
        ("30ml", Amount(low=30, unit="mL")),
        ("0,2 g", Amount(low=0.2, unit="g")),
        ("8 g", Amount(low=8, unit="g")),
        ("3 dl", Amount(low=300, unit="mL")),
        ("1,48 kg", Amount(low=1480, unit="g")),
        ("2 squirts", Amount(low=2, unit="squirt", as_written="2 squirts")),
        ("2 duschar", Amount(low=2, unit="squirt", as_written="2 duschar")),
        ("pinch", Amount(low=1, unit="pinch", as_written="pinch")),
        ("a pinch", Amount(low=1, unit="pinch", as_written="a pinch")),
        ("eine Prise", Amount(low=1, unit="pinch", as_written="eine Prise")),
        ("1 slice", Amount(low=1, unit="slice", as_written="1 slice")),
        ("half a slice", Amount(low=0.5, unit="slice", as_written="half a slice")),
        ("1/2 slice", Amount(low=0.5, unit="slice", as_written="1/2 slice")),
        ("1 1/2 tsp", Amount(low=1.5, unit="spoon", as_written="1 1/2 tsp")),
        ("1 tsp", Amount(low=1, unit="spoon", as_written="1 tsp")),
        ("5-10 ml", Amount(low=5, high=10, unit="mL", as_written="5-10 ml")),
        ("ca. 20 ml", Amount(low=16, high=24, unit="mL", as_written="ca. 20 ml")),
        ("7", Amount(low=7)),
    ],
)
def test_amounts(text: str, amount: Amount) -> None:
    assert read_dose(text, ",").amount == amount


def test_words_without_a_number_stay_words_and_no_amount_is_made_up() -> None:
    dose = read_dose("some", None)
    assert dose.amount is None
    assert dose.words == "some"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("12 fathoms", "'fathoms' is no unit known here; expected g, mL"),
        ("-5 ml", "above 0"),
        ("0 ml", "above 0"),
        ("blue", "expected an amount"),
    ],
)
def test_amounts_that_cannot_be_are_refused(text: str, words: str) -> None:
    with pytest.raises(Unreadable, match=words):
        read_dose(text, None)


@pytest.mark.parametrize(
    ("text", "unit", "litres"),
    [
        ("3", "", 3),
        ("3 l", "", 3),
        ("3 L", "", 3),
        ("5,5", "", 5.5),
        ("500 ml", "", 0.5),
        ("750", "ml", 0.75),
        ("ca. 5 L", "", 5),
        ("12 litre", "", 12),
        ("1.5 ltr", "", 1.5),
    ],
)
def test_volumes(text: str, unit: str, litres: float) -> None:
    assert read_litres(text, None, unit) == litres


@pytest.mark.parametrize("text", ["-3", "0", "5-6", "3 kg", "big", "2001", "50+"])
def test_volumes_that_cannot_be_are_refused(text: str) -> None:
    with pytest.raises(Unreadable, match="expected one volume above 0 litres"):
        read_litres(text, None)


@pytest.mark.parametrize(
    ("text", "grams"), [("1455", 1455), ("1462 g", 1462), ("1,48 kg", 1480), ("2 lb", 907.1847)]
)
def test_weights(text: str, grams: float) -> None:
    assert read_gross_g(text, ",") == grams


def test_a_small_bare_weight_is_asked() -> None:
    with pytest.raises(Unclear) as asked:
        read_gross_g("1,48", ",")
    assert [choice.value for choice in asked.value.choices] == ["1,48 kg", "1,48 g"]
    assert read_gross_g("1,48 kg", ",") == 1480


@pytest.mark.parametrize(
    ("text", "unit", "share"),
    [
        ("30", "", 0.3),
        ("40%", "", 0.4),
        ("0,5", "", 0.5),
        ("half", "", 0.5),
        ("1/3", "", 1 / 3),
        ("2/3", "%", 2 / 3),
        ("en tredjedel", "", 1 / 3),
        ("die Hälfte", "", 0.5),
        ("30-40%", "", 0.35),
        ("1%", "", 0.01),
    ],
)
def test_shares(text: str, unit: str, share: float) -> None:
    assert read_share(text, ",", unit) == pytest.approx(share, abs=1e-12)


@pytest.mark.parametrize("text", ["150", "-20%", "3 cm", "3/2 x"])
def test_shares_that_cannot_be_are_refused(text: str) -> None:
    with pytest.raises(Unreadable):
        read_share(text, None)


def test_a_bare_one_is_asked() -> None:
    with pytest.raises(Unclear):
        read_share("1", None)


@pytest.mark.parametrize(
    ("text", "feeds"),
    [
        ("1", (1, 1)),
        ("0,5", (0.5, 0.5)),
        ("1-2", (1, 2)),
        ("2x", (2, 2)),
        ("1/week", (1, 1)),
        ("every 2 weeks", (0.5, 0.5)),
        ("every 3 days", (7 / 3, 7 / 3)),
        ("varannan vecka", None),
    ],
)
def test_feeds_a_week(text: str, feeds: tuple[float, float] | None) -> None:
    if feeds is None:
        with pytest.raises(Unreadable):
            read_per_week(text, None)
    else:
        assert read_per_week(text, None) == feeds


def test_sizes() -> None:
    assert read_size("30x20x15 cm", None) == (30, 20, 15)
    assert read_size("300 x 200 mm", None) == (30, 20)
    with pytest.raises(Unreadable):
        read_size("30", None)


@given(text=st.text(max_size=30) | st.from_regex(r"(ca\. )?[-0-9.,+/x ]{1,12}[a-z%]{0,3}"))
def test_no_text_does_worse_than_be_refused_or_asked(text: str) -> None:
    for read in (read_count, read_dose, read_litres, read_gross_g, read_share, read_per_week):
        try:
            read(text, None)
        except (Unreadable, Unclear):
            continue
    read_vents(text, None) if text.strip() else None
