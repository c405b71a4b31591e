"""Words of the trade and amounts, as typed."""

import pytest

from mancary.husbandry.facts import CareGiven, Counted, Fact, Noted, SeenInBox, Weighed
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import BANDS, CARES, SEEN
from mancary.usecases.noting import facts_for


@pytest.mark.parametrize("word", SEEN)
@pytest.mark.parametrize(
    "spelling", [str, lambda w: w.replace("_", "-"), lambda w: w.replace("_", " ").upper()]
)
def test_every_word_for_what_is_seen_is_taken_however_it_is_spelt(
    word: str, spelling: object
) -> None:
    (fact,) = facts_for("A01", spelling(word))  # type: ignore[operator]
    assert isinstance(fact, SeenInBox)
    assert fact.word == word


@pytest.mark.parametrize("care", CARES)
def test_every_care_is_taken(care: str) -> None:
    (fact,) = facts_for("A01", care.replace("_", "-"))
    assert isinstance(fact, CareGiven)
    assert fact.care == care


@pytest.mark.parametrize("band", BANDS)
def test_every_size_band_is_a_count(band: str) -> None:
    (fact,) = facts_for("A01", band)
    assert isinstance(fact, Counted)
    assert (fact.low, fact.high, fact.how) == (*BANDS[band], "band")


@pytest.mark.parametrize(
    ("word", "amount", "expected"),
    [
        ("dead", "2", SeenInBox(box="A01", word="dead", animals=2)),
        ("left-over", "1/3", SeenInBox(box="A01", word="left_over", share=1 / 3)),
        ("count", "37", Counted(box="A01", low=37, high=37)),
        ("count", "40-50", Counted(box="A01", low=40, high=50, as_written="40-50")),
        ("weigh", "1,48 kg", Weighed(box="A01", gross_g=1480.0)),
        ("note", "hello", Noted(what="box", code="A01", text="hello")),
        ("cucumber", "", CareGiven(box="A01", care="vegetable", what="cucumber")),
    ],
)
def test_amounts(word: str, amount: str, expected: Fact) -> None:
    assert facts_for("A01", word, amount) == [expected]


@pytest.mark.parametrize(
    ("word", "amount", "said"),
    [
        ("sparkle", "", "no word the book knows"),
        ("moulb", "", "Did you mean mould"),
        ("count", "", "needs a number"),
        ("count", "many many", "expected a number"),
        ("weigh", "heavy", "expected"),
        ("note", "", "needs your own words"),
        ("mist", "12 fathoms", "fathoms"),
        ("tens", "12", "takes no amount"),
        ("dead", "-2", "expected"),
    ],
)
def test_what_is_not_understood_is_refused_with_what_was_expected(
    word: str, amount: str, said: str
) -> None:
    with pytest.raises(Refusal, match=said):
        facts_for("A01", word, amount)
