"""Work on a colony and its box through the forms, and what is said where it cannot be."""

import re
from pathlib import Path

import pytest

from mancary.book import Book, open_book
from mancary.book.trouble import MovedOn
from mancary.husbandry.facts import (
    Ended,
    Founded,
    Joined,
    LineNamed,
    Moved,
    Split,
    Taken,
)
from mancary.usecases.record import write
from mancary.usecases.standings import register_of
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, entries, fault, newest, token, words, work

SPARE, APART, LIVED_IN = "B07", "A18", "A02"


def test_the_card_leads_to_the_work_in_one_step(client: Client) -> None:
    assert f'href="/boxes/{LIVED_IN}/work"' in client.get(f"/boxes/{LIVED_IN}").text
    page = client.get(f"/boxes/{LIVED_IN}/work")
    assert page.status_code == 200
    for do in ("move", "split", "take", "join", "end", "set_apart", "describe"):
        assert f'<details class="job" id="{do}">' in page.text
    for do in ("found", "retire", "bring_back"):
        assert f'id="{do}"' not in page.text


def test_a_spare_box_is_offered_what_goes_for_a_spare_box(client: Client) -> None:
    html = client.get(f"/boxes/{SPARE}/work").text
    for do in ("found", "retire", "set_apart", "describe"):
        assert f'id="{do}"' in html
    assert 'id="end"' not in html


def test_the_whole_colony_is_moved(client: Client, room: Path) -> None:
    answer = work(client, LIVED_IN, "move", to=SPARE.lower(), why="a step-up", day="2026-11-20")
    fact = newest(room)
    assert isinstance(fact.fact, Moved)
    assert (fact.fact.from_box, fact.fact.to_box, fact.happened) == (LIVED_IN, SPARE, "2026-11-20")
    assert answer.url.path == f"/boxes/{SPARE}"
    assert "Written: colony A02.1 moved from A02 to B07: a step-up , 20 November" in words(
        answer.text
    )


def test_a_box_that_is_lived_in_takes_no_second_colony(client: Client, room: Path) -> None:
    before = len(entries(room))
    for do in ("move", "split"):
        answer = work(client, LIVED_IN, do, to="A03", why="kept words")
        assert answer.status_code == 422
        assert "holds colony A03.1 already" in fault(answer.text, do)
        assert f'<details class="job" id="{do}" open>' in answer.text
        assert 'value="kept words"' in answer.text
    assert len(entries(room)) == before


@pytest.mark.parametrize(("to", "said"), [("", "Say which box."), ("B7", "Did you mean B07?")])
def test_the_other_box_is_named_where_it_does_not_fit(client: Client, to: str, said: str) -> None:
    assert said in fault(work(client, LIVED_IN, "move", to=to).text, "move", "to")


def test_some_are_split_off(client: Client, room: Path) -> None:
    work(client, LIVED_IN, "split", to=SPARE, animals="15", why="a backup")
    fact = newest(room).fact
    assert isinstance(fact, Split)
    assert (fact.new_box, fact.taken_low, fact.taken_high) == (SPARE, 15, 15)
    with open_book(room) as book:
        register = register_of(book)
    assert register.line_in(SPARE) == register.line_in(LIVED_IN)


def test_a_number_of_animals_is_one(client: Client) -> None:
    for animals in ("0", "-3", "some", "1.5", "9" * 9):
        answer = work(client, LIVED_IN, "split", to=SPARE, animals=animals)
        assert "expected a whole number" in fault(answer.text, "split", "animals")


def second_line(room: Path, species: str) -> None:
    """A second line in the spare box."""
    with open_book(room) as book:
        facts = [
            LineNamed(line="other", species=species, as_bought="x"),
            Founded(colony="B07.1", box=SPARE, line="other"),
        ]
        write(book, facts, pen=evening_pen(3), happened="2026-10-01")


def test_two_lines_are_joined_only_with_a_tick(client: Client, room: Path) -> None:
    with open_book(room) as book:
        line = register_of(book).line_in(LIVED_IN)
    assert line
    second_line(room, line.species)
    assert f"of the same species: {SPARE}" in words(client.get(f"/boxes/{LIVED_IN}/work").text)
    answer = work(client, LIVED_IN, "join", to=SPARE)
    assert "they are mixed for good" in fault(answer.text, "join")
    answer = work(client, LIVED_IN, "join", to=SPARE, mixing="yes")
    assert isinstance(newest(room).fact, Joined)
    assert answer.url.path == f"/boxes/{SPARE}"


def test_two_species_are_never_joined(client: Client, room: Path) -> None:
    second_line(room, "porcellio-scaber")
    answer = work(client, LIVED_IN, "join", to=SPARE, mixing="yes")
    assert "two species" in fault(answer.text, "join")


def test_an_end_needs_a_cause_and_says_how_long_to_wait(client: Client, room: Path) -> None:
    page = words(client.get(f"/boxes/{LIVED_IN}/work").text)
    assert "Mind: An empty-looking box is not dead" in page
    assert "Choose what you think" in fault(work(client, LIVED_IN, "end").text, "end", "cause")
    answer = work(client, LIVED_IN, "end", cause="heat", note="35 on the shelf")
    fact = newest(room).fact
    assert isinstance(fact, Ended)
    assert (fact.cause, fact.note) == ("heat", "35 on the shelf")
    said = words(answer.text)
    assert said.count("Mind: An empty-looking box is not dead") == 1
    assert "A spare box" in said
    assert "Last count" not in said


def test_animals_are_taken_with_the_rules_beside_it(client: Client, room: Path) -> None:
    answer = work(client, LIVED_IN, "take", animals="12", to="the spring fair")
    fact = newest(room).fact
    assert isinstance(fact, Taken)
    assert (fact.animals, fact.to) == (12, "the spring fair")
    assert "Mind: Rules for moving, selling and importing live animals differ" in words(answer.text)


def test_a_certain_name_founds_a_colony(client: Client, room: Path) -> None:
    answer = work(
        client, SPARE, "found", species="Porcellio scaber", animals="10-15", source="a swap table",
        note="wild caught", day="2026-11-20",
    )  # fmt: skip
    named, founded = entries(room)[-2:]
    assert isinstance(named.fact, LineNamed)
    assert isinstance(founded.fact, Founded)
    assert (named.fact.species, named.fact.source) == ("porcellio-scaber", "a swap table")
    assert (founded.fact.founders_low, founded.fact.founders_high) == (10, 15)
    said = words(answer.text)
    assert "Written: colony B07.1 founded with 10-15: wild caught , 20 November" in said
    assert "Mind: Gathering: landowner" in said
    assert "Mind: Rules for moving" in said


def test_about_so_many_keeps_the_keepers_own_words(client: Client, room: Path) -> None:
    work(client, SPARE, "found", species="Porcellio scaber", animals="ca. 40")
    fact = newest(room).fact
    assert isinstance(fact, Founded)
    assert (fact.founders_low, fact.founders_high) == (32, 48)
    assert "ca. 40" in fact.note


def test_a_name_that_is_not_sure_is_confirmed_first(client: Client, room: Path) -> None:
    before = len(entries(room))
    typed = "Porcelio lavis"
    answer = work(client, SPARE, "found", species=typed, animals="12")
    assert answer.status_code == 422
    assert "not certain to mean one page" in fault(answer.text, "found", "species")
    assert 'name="page" value="porcellio-laevis"' in answer.text
    assert 'value="Porcelio lavis"' in answer.text
    assert len(entries(room)) == before
    work(client, SPARE, "found", species=typed, animals="12", page="porcellio-laevis")
    named = entries(room)[-2].fact
    assert isinstance(named, LineNamed)
    assert (named.species, named.as_bought) == ("porcellio-laevis", typed)


def test_a_genus_alone_is_too_little(client: Client) -> None:
    answer = work(client, SPARE, "found", species="Porcellio")
    assert answer.text.count('name="page"') > 3
    assert "Others come as near; say more of the name" in words(answer.text)


def test_a_name_nobody_knows_leads_to_a_page_of_ones_own(client: Client) -> None:
    answer = work(client, SPARE, "found", species="zzxqj", page="no-such-page")
    assert answer.status_code == 422
    assert 'href="/species?q=zzxqj">open a page of your own' in answer.text


@pytest.mark.parametrize("day", ["2027-01-01", "31.12."])
def test_the_day_is_checked_in_every_form(client: Client, room: Path, day: str) -> None:
    before = len(entries(room))
    answer = work(client, LIVED_IN, "take", day=day)
    assert fault(answer.text, "take", "day")
    assert len(entries(room)) == before


def test_the_same_work_sent_twice_is_done_once(client: Client, room: Path) -> None:
    html = client.get(f"/boxes/{LIVED_IN}/work").text
    once = re.search(r'name="once" value="(\w+)"', html)
    assert once
    data = {
        "_csrf_token": token(html), "once": once.group(1), "do": "take", "animals": "3",
    }  # fmt: skip
    first = client.post(f"/boxes/{LIVED_IN}/work", data=data, follow_redirects=False)
    after = len(entries(room))
    second = client.post(f"/boxes/{LIVED_IN}/work", data=data, follow_redirects=False)
    assert first.headers["location"] == second.headers["location"]
    assert len(entries(room)) == after
    client.post(f"/boxes/{LIVED_IN}/work", data={**data, "animals": "4"})
    assert len(entries(room)) == after + 1


def test_no_such_work(client: Client) -> None:
    answer = work(client, LIVED_IN, "")
    assert answer.status_code == 422
    assert "Choose what was done." in words(answer.text)
    assert client.get("/boxes/Z99/work").status_code == 404


def test_what_was_typed_is_kept_when_something_else_was_written(
    client: Client, room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def moved_on(book: Book, *_: object) -> None:
        raise MovedOn(book.path)

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(Book, "_still_there", moved_on)
        answer = work(client, LIVED_IN, "take", animals="12", to="<b>the</b> fair")
    assert answer.status_code == 409
    said = words(answer.text)
    assert "Something else was written meanwhile" in said
    assert "animals 12" in said
    assert "<b>the" not in answer.text
    kept = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', answer.text))
    assert f'action="/boxes/{LIVED_IN}/work#take"' in answer.text
    kept["to"] = "<b>the</b> fair"
    client.post(f"/boxes/{LIVED_IN}/work", data=kept)
    fact = newest(room).fact
    assert isinstance(fact, Taken)
    assert (fact.animals, fact.to) == (12, "<b>the</b> fair")
