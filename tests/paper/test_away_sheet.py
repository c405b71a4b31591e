"""The stand-in's sheet of the invented room of 96 boxes is one page, with every box to wet on it."""

from datetime import timedelta
from typing import get_args

import msgspec
import pypdfium2
import pytest

from mancary.book import open_book
from mancary.demo import make_demo
from mancary.paper.away_sheet import Paper, away_sheet
from mancary.usecases.away import Away, plan_absence
from tests.browser.bug_room import TODAY

MANY = 50


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> Away:
    path = tmp_path_factory.mktemp("away") / "demo.mancary"
    make_demo(path, on=TODAY)
    with open_book(path) as book:
        return plan_absence(book, leaving=TODAY, back=TODAY + timedelta(days=14))


@pytest.mark.parametrize("paper", get_args(Paper))
def test_sixty_boxes_stand_on_one_page(found: Away, paper: Paper) -> None:
    wet = {box for visit in found.visits for box in visit.boxes}
    assert len(wet) >= MANY
    made = away_sheet(found, room="Bug room", paper=paper)
    pdf = pypdfium2.PdfDocument(made.pdf)
    assert len(pdf) == 1
    words = pdf[0].get_textpage().get_text_range().replace("\u200b", "")
    assert wet <= set(words.split())
    assert all(rule.split(",")[0] in words for rule in found.stand_in)
    assert made.accessible


def test_twice_as_many_shelves_need_a_second_page(found: Away) -> None:
    doubled = msgspec.structs.replace(found, rack=found.rack * 2)
    made = away_sheet(doubled, room="", paper="a4")
    assert len(pypdfium2.PdfDocument(made.pdf)) > 1


def test_an_absence_without_visits_says_so(found: Away) -> None:
    none = msgspec.structs.replace(found, visits=(), rack=())
    pdf = pypdfium2.PdfDocument(away_sheet(none, room="", paper="a4").pdf)
    assert "Nothing is to be wetted" in pdf[0].get_textpage().get_text_range()
