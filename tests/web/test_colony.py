"""How a colony goes as a page: what it says, counts written from it, what taking would do."""

import re
from datetime import timedelta
from html import unescape
from pathlib import Path

import msgspec
import pytest

from mancary.book import open_book
from mancary.husbandry.facts import Counted
from mancary.husbandry.sentences import plain
from mancary.husbandry.watch_reasons import chance_said
from mancary.usecases import colony_work
from mancary.usecases.culture import culture_in
from mancary.usecases.grow import grow, surplus, taking
from mancary.usecases.watch import watch, watch_of
from tests.browser.bug_room import TODAY, evening_pen
from tests.web.conftest import Client, entries, newest, posted, token, words

CARD = "/boxes/A05"
PAGE = f"{CARD}/colony"


def fault_beside(html: str, way: str, field: str) -> str:
    found = re.search(rf'id="fault-{way}-{field}">(.*?)</strong>', html)
    assert found, f"no fault at {way}-{field}"
    return found.group(1)


def test_the_page_says_what_the_use_cases_say(client: Client, room: Path) -> None:
    page = client.get(PAGE)
    said = words(page.text)
    with open_book(room) as book:
        found, row = grow(book, "A05", on=TODAY), watch_of(book, "A05", on=TODAY)
    assert page.status_code == 200
    for one in found.coming[1:]:
        assert f"{one.animals.mid} {one.animals.low} to {one.animals.high}" in said
    assert f"now 25 November {found.size.mid} {found.size.low} to {found.size.high}" in said
    assert f"{chance_said(row.p_below_5_in_12_weeks)} to fall below five" in said
    assert f"{found.surplus.animals} animal" in said
    for bound in found.surplus.bounds:
        assert f"{bound.name}: {bound.animals}" in said
    for sentence in (*found.room.advice, found.surplus.sizes, "Too slow for its temperature?"):
        assert sentence in said
    assert page.text.count("<tr>") > len(found.curve.points)


def test_the_card_leads_to_it_and_box_without_colony_has_none(client: Client) -> None:
    assert f'href="{PAGE}"' in client.get("/boxes/A05").text
    assert "How it goes" not in client.get("/boxes/B07").text
    page = client.get("/boxes/B07/colony")
    assert page.status_code == 409
    assert "holds no colony" in words(page.text)
    assert client.get("/boxes/Z99/colony").status_code == 404


def test_a_count_is_written_told_and_moves_the_chance(client: Client, room: Path) -> None:
    with open_book(room) as book:
        before = watch_of(book, "A05", on=TODAY).p_below_5_in_12_weeks
    once = "a" * 32
    answer = posted(client, PAGE, how="full", animals="2", note="all of it sifted", once=once)
    fact = newest(room).fact
    assert isinstance(fact, Counted)
    assert (fact.how, fact.low, fact.high, fact.note) == ("full", 2, 2, "all of it sifted")
    said = words(answer.text)
    with open_book(room) as book:
        after = watch_of(book, "A05", on=TODAY).p_below_5_in_12_weeks
    assert after > before + 0.1
    assert "Counted 2 in the whole box." in said
    assert "At least 2: a careful search" in said
    assert f"{chance_said(after)} now, {chance_said(before)} without this count" in said
    assert "That was a mistake" in said


def test_the_same_form_sent_twice_is_written_once_and_another_is_written(
    client: Client, room: Path
) -> None:
    many = len(entries(room))
    form = {"how": "hide", "animals": "12", "once": "b" * 32}
    first = posted(client, PAGE, form=CARD, **form)
    again = posted(client, PAGE, form=CARD, **form)
    assert len(entries(room)) == many + 1
    assert "without this count" in words(again.text) or "as before" in words(again.text)
    assert str(first.url) == str(again.url)
    posted(client, PAGE, form=CARD, **(form | {"once": "c" * 32}))
    assert len(entries(room)) == many + 2


@pytest.mark.parametrize(
    ("form", "how", "ends"),
    [
        ({"how": "hide", "animals": "40-50"}, "one_hide", (40, 50)),
        ({"how": "full", "animals": "50+"}, "full", (50, None)),
        ({"how": "guess", "animals": "80"}, "guess", (80, 80)),
        ({"how": "band", "band": "tens"}, "band", (10, 49)),
        ({"how": "scoops", "scoops": "5, 3 7", "share": "10 %"}, "scoop", None),
        ({"how": "passes", "passes": "25,12,5"}, "removals", None),
        ({"how": "marks", "marked": "20", "caught": "18", "recaptured": "6"}, "marks", None),
    ],
)
def test_each_way_of_counting_is_one_form(
    client: Client, room: Path, form: dict[str, str], how: str, ends: tuple[int, int | None] | None
) -> None:
    answer = posted(client, PAGE, form=CARD, day="2026-11-20", once=how.ljust(32, "x"), **form)
    entry = newest(room)
    assert answer.status_code == 200
    assert isinstance(entry.fact, Counted)
    assert entry.fact.how == how
    assert entry.happened == "2026-11-20"
    if ends:
        assert (entry.fact.low, entry.fact.high) == ends
    assert "In the whole box" in words(answer.text)


@pytest.mark.parametrize(
    ("form", "field", "said"),
    [
        ({"how": "full", "animals": "a few"}, "animals", "expected a number of animals"),
        ({"how": "full", "animals": "50-40"}, "animals", "the greater one"),
        ({"how": "guess", "animals": "900000"}, "animals", "outside 0 to 10,000"),
        ({"how": "full", "animals": "9" * 5000}, "animals", "expected a number"),
        ({"how": "scoops", "scoops": "5, 3", "share": ""}, "share", "in percent"),
        ({"how": "scoops", "scoops": "5, 3", "share": "60"}, "share", "no more than the whole"),
        ({"how": "scoops", "scoops": "", "share": "10"}, "scoops", "whole numbers"),
        ({"how": "passes", "passes": "25"}, "passes", "two or more"),
        ({"how": "marks", "marked": "5", "caught": "4", "recaptured": "9"}, "recaptured", "no more"),
        ({"how": "marks", "marked": "5", "caught": "", "recaptured": "1"}, "caught", "whole number"),
        ({"how": "band"}, "band", "Choose a size band"),
        ({"how": "full", "animals": "7", "day": "soon"}, "day", "is not a date"),
        ({"how": "full", "animals": "7", "day": "2027-11-26"}, "day", "2027-11-26"),
        ({"how": "full", "animals": "7", "note": "x" * 2001}, "note", "up to 2000"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_said_beside_its_field_and_kept(
    reader: Client, form: dict[str, str], field: str, said: str
) -> None:
    page = posted(reader, PAGE, **form)
    assert page.status_code == 422
    assert said in fault_beside(page.text, form["how"], field).replace("&#39;", "'")
    assert f'<details class="job" id="count-{form["how"]}" open>' in page.text
    for name, typed in form.items():
        if name not in ("how", "band"):
            assert f'name="{name}" value="{typed}"' in page.text


def test_a_form_without_a_way_or_from_elsewhere_writes_nothing(client: Client, room: Path) -> None:
    many = len(entries(room))
    assert posted(client, PAGE, animals="7").status_code == 422
    assert client.post(PAGE, data={"how": "full", "animals": "7"}).status_code == 403
    assert len(entries(room)) == many


def test_what_taking_does_is_told_before_anything_is_written(client: Client, room: Path) -> None:
    many = len(entries(room))
    with open_book(room) as book:
        told = taking(book, "A05", 5, on=TODAY)
    page = client.get(PAGE, params={"taking": "5"})
    said = words(page.text)
    held = "within" if told.within_surplus else "more than"
    assert f"Taking 5 is {held} what may go" in said
    for one in told.taken[1:]:
        animals = one.animals
        assert f"{animals.mid} ({animals.low}–{animals.high})" in said
    assert len(entries(room)) == many
    work = client.get("/boxes/A05/work", params={"do": "take", "animals": "5"}).text
    assert '/boxes/A05/work?do=take&amp;animals=5#take"' in page.text
    assert '<details class="job" id="take" open>' in work
    assert re.search(r'id="take-animals" name="animals" value="5"', work)
    assert 'class="taking"' not in client.get(PAGE).text


@pytest.mark.parametrize("typed", ["many", "0", "-3", "4999", "7000"])
def test_a_taking_that_cannot_be_is_said_beside_the_field(reader: Client, typed: str) -> None:
    page = reader.get(PAGE, params={"taking": typed})
    assert page.status_code == 422
    assert 'id="take-fault"' in page.text
    assert f'name="taking" value="{typed}"' in page.text


def test_what_is_typed_is_escaped(reader: Client) -> None:
    page = posted(reader, PAGE, how="full", animals='"><b>x</b>')
    assert "<b>x</b>" not in page.text
    assert "<b>x</b>" not in reader.get(PAGE, params={"taking": "<b>x</b>"}).text


def test_a_mistake_undone_brings_the_figure_back(client: Client, room: Path) -> None:
    with open_book(room) as book:
        before = watch_of(book, "A05", on=TODAY).p_below_5_in_12_weeks
    posted(client, PAGE, form=CARD, how="full", animals="2", once="d" * 32)
    at = f"/facts/{newest(room).id}"
    withdrawn = client.post(f"{at}/withdraw", data={"_csrf_token": token(client.get(at).text)})
    assert withdrawn.status_code == 200
    with open_book(room) as book:
        assert watch_of(book, "A05", on=TODAY).p_below_5_in_12_weeks == pytest.approx(before)


def test_the_twins_say_the_same(client: Client, room: Path) -> None:
    with open_book(room) as book:
        same = {
            "/watch.json": watch(book, on=TODAY),
            "/colony/a05.json": grow(book, "A05", on=TODAY),
            "/surplus/A05.json": surplus(book, "A05", on=TODAY),
            "/surplus/A05.json?taking=5": taking(book, "A05", 5, on=TODAY),
        }
    for address, told in same.items():
        answer = client.get(address)
        assert answer.status_code == 200
        assert answer.json() == msgspec.json.decode(msgspec.json.encode(told, enc_hook=plain))
    assert client.get("/surplus/A05.json?taking=many").status_code == 422
    assert client.get("/colony/B07.json").status_code == 409


def test_the_days_of_the_page_are_the_books_own(client: Client) -> None:
    """The pages speak of the day the book is at, not of the machine's."""
    said = words(client.get(PAGE).text)
    later = TODAY + timedelta(weeks=13)
    assert f"in 3 months {later.day} February 2027" in said


def test_a_culture_has_a_page_and_a_twin_of_its_own(client: Client, room: Path) -> None:
    here = "/boxes/B07/colony"
    with open_book(room) as book:
        colony_work.found(
            book, "B07", "folsomia-candida", as_bought="white springtails", pen=evening_pen(99)
        )
        told = culture_in(book, "B07", on=TODAY)
    assert told is not None
    assert f'href="{here}"' in client.get("/boxes/B07").text
    page = client.get(here)
    assert page.status_code == 200
    said = unescape(words(page.text))
    for sentence in (*told.said, told.basis):
        assert sentence in said
    twin = client.get("/colony/B07.json")
    assert twin.json() == msgspec.json.decode(msgspec.json.encode(told, enc_hook=plain))
    before = newest(room).id
    refused = posted(client, here, form="/boxes/B07", how="full", animals="7")
    assert refused.status_code == 409
    assert "not counted" in words(refused.text)
    assert newest(room).id == before
