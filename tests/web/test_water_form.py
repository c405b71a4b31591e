"""A weight and its mark, as the form of a box brings them; the section on its page."""

from datetime import date

import pytest

from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, Weighed
from mancary.usecases.noting import facts_for
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.water import water_of
from mancary.web.forms import FormError, NoteForm, as_told
from mancary.web.templating import environment


@pytest.mark.parametrize("mark", ["just_right", "too_dry", "too_wet"])
def test_a_mark_goes_with_a_weight_and_comes_back_to_be_corrected(mark: str) -> None:
    (fact,) = NoteForm(word="weigh", amount="1 462", mark=mark).facts("A01")
    assert fact == Weighed(box="A01", gross_g=1462, mark=mark)  # type: ignore[arg-type]
    again = as_told(fact)
    assert again.facts("A01") == [fact]


def test_no_mark_is_none_and_other_words_pay_it_no_heed() -> None:
    (bare,) = NoteForm(word="weigh", amount="1462", mark="no_mark").facts("A01")
    assert bare == Weighed(box="A01", gross_g=1462)
    (mist,) = NoteForm(word="mist", amount="20 mL", mark="too_dry").facts("A01")
    assert mist == facts_for("A01", "mist", "20 mL")[0]


def test_a_mark_the_book_does_not_know_is_refused_at_the_amount() -> None:
    with pytest.raises(FormError) as refused:
        NoteForm(word="weigh", amount="1462", mark="perfect").facts("A01")
    assert refused.value.field == "amount"


def test_the_section_says_what_to_pour_and_what_is_asked(book: Book, pen: Pen) -> None:
    write(book, [BoxDescribed(box="A01", litres=3)], pen=pen, happened="2026-08-01")
    for words, on in (("1462 just right", "2026-10-01"), ("1442", "2026-10-11")):
        write(book, facts_for("A01", "weigh", words), pen=pen, happened=on)
    water = water_of(book, "A01", on=date(2026, 10, 20))
    module = environment().get_template("water.html").module
    html = str(module.water_of(water, Said()))  # type: ignore[attr-defined]
    assert "Pour" in html
    assert "1462 g" in html
    assert all(sentence in html for sentence in water.said)
    radios = str(module.mark_of_weight(""))  # type: ignore[attr-defined]
    assert 'value="no_mark" checked' in radios


class Said:
    """Stands for the page's ways of saying a moment and a sentence."""

    def moment(self, moment: str) -> str:
        return moment

    def prose(self, text: str) -> str:
        return text
