"""Work on the box itself: set apart, described, taken out of use; and the address of its work."""

from pathlib import Path

import pytest

from mancary.book import open_book
from mancary.husbandry.facts import (
    BoxDescribed,
    BoxRetired,
    Founded,
    Quarantined,
    QuarantineEnded,
    Shelved,
)
from mancary.usecases.record import write
from mancary.web.addresses import inside, outside
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, entries, fault, newest, posted, words, work

SPARE, APART, LIVED_IN = "B07", "A18", "A02"


def test_a_box_is_set_apart_and_brought_back(client: Client, room: Path) -> None:
    answer = work(client, LIVED_IN, "set_apart", why="sick", until="2026-12-24")
    fact = newest(room).fact
    assert isinstance(fact, Quarantined)
    assert (fact.why, fact.until) == ("sick", "2026-12-24")
    assert 'class="state apart"' in answer.text
    assert "until 24 December : sick. Seen last on the walk, with its own tools." in words(
        answer.text
    ).replace(" until 24 December: sick", " until 24 December : sick")
    answer = work(client, LIVED_IN, "bring_back", note="no losses")
    assert isinstance(newest(room).fact, QuarantineEnded)
    assert 'class="state apart"' not in answer.text


def test_a_quarantine_ends_on_a_day_to_come(client: Client) -> None:
    answer = work(client, LIVED_IN, "set_apart", why="new", until="2026-11-01")
    assert "a quarantine ends on a day to come" in fault(answer.text, "set_apart", "until")
    answer = work(client, LIVED_IN, "set_apart", why="new", until="soon")
    assert "is not a date" in fault(answer.text, "set_apart", "until")


def test_practice_says_how_long_and_that_it_has_no_source(client: Client) -> None:
    said = words(client.get(f"/boxes/{LIVED_IN}/work").text)
    assert "a quarantine of 4 to 8 weeks is common practice, no source" in said
    assert "23 December to 20 January 2027" in said


def test_a_box_is_described_in_the_keepers_own_words(client: Client, room: Path) -> None:
    answer = work(
        client, LIVED_IN, "describe", litres="5,5", length="33", width="20 cm", height="120 mm",
        vents="2 mesh 50", damp="1/3", shelf="A2", position="3", make="clip lid",
    )  # fmt: skip
    described, shelved = (entry.fact for entry in entries(room)[-2:])
    assert isinstance(described, BoxDescribed)
    assert isinstance(shelved, Shelved)
    assert (described.litres, described.length_cm, described.height_cm) == (5.5, 33, 12)
    assert described.damp_share == pytest.approx(1 / 3)  # exact in binary but for rounding
    assert described.vents
    assert (described.vents[0].make, described.vents_as_written) == ("mesh", "2 mesh 50")
    assert (shelved.shelf, shelved.position) == ("A2", 3)
    assert "Mind: Drilling vents" in words(answer.text)


def test_vents_not_understood_are_refused_and_write_nothing(client: Client, room: Path) -> None:
    before = newest(room).id
    answer = work(client, LIVED_IN, "describe", vents="20x3 mm lid, and a gap all round")
    said = fault(answer.text, "describe", "vents")
    assert "understood 20 holes of 3 mm in the lid" in said
    assert "24x3 mm lid" in said
    assert newest(room).id == before


def test_a_mistyped_shelf_is_asked_about(client: Client, room: Path) -> None:
    before = newest(room).id
    answer = work(client, LIVED_IN, "describe", shelf="Q7")
    assert "There is no shelf Q7" in fault(answer.text, "describe", "shelf")
    assert 'name="new_shelf"' in answer.text
    assert newest(room).id == before
    work(client, LIVED_IN, "describe", shelf="Q7", new_shelf="yes")
    fact = newest(room).fact
    assert isinstance(fact, Shelved)
    assert fact.shelf == "Q7"


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("litres", "a lot", "expected one volume"),
        ("length", "-3", "expected"),
        ("damp", "1", "Write it another way"),
        ("damp", "wet", "expected the part of the floor"),
        ("position", "left", "expected a whole number"),
    ],
)
def test_a_measure_that_cannot_be_read_is_named(
    client: Client, room: Path, field: str, text: str, said: str
) -> None:
    before = len(entries(room))
    answer = work(client, LIVED_IN, "describe", **{field: text})
    assert answer.status_code == 422
    assert said in fault(answer.text, "describe", field)
    assert len(entries(room)) == before


def test_nothing_told_is_nothing_written(client: Client) -> None:
    answer = work(client, LIVED_IN, "describe")
    assert "say what is to be told of it" in fault(answer.text, "describe")


def test_a_place_alone_is_a_place_on_the_shelf_it_stands_on(client: Client, room: Path) -> None:
    work(client, LIVED_IN, "describe", position="5")
    fact = newest(room).fact
    assert isinstance(fact, Shelved)
    assert (fact.shelf, fact.position) == ("A1", 5)


def test_an_empty_box_is_taken_out_of_use(client: Client, room: Path) -> None:
    answer = work(client, SPARE, "retire", why="cracked")
    assert isinstance(newest(room).fact, BoxRetired)
    assert 'class="state over"' in answer.text
    said = words(client.get(f"/boxes/{SPARE}/work").text)
    assert "Nothing is done with a box that is out of use" in said
    assert "Write that" not in said


def test_a_box_with_a_colony_stays_in_use(client: Client) -> None:
    answer = work(client, LIVED_IN, "retire", why="cracked")
    assert answer.status_code == 422


def test_a_box_set_apart_says_when_its_day_is_over(client: Client, room: Path) -> None:
    with open_book(room) as book:
        fact = Quarantined(box=LIVED_IN, why="new", until="2026-11-20")
        write(book, [fact], pen=evening_pen(3), happened="2026-10-20")
    said = words(client.get(f"/boxes/{LIVED_IN}").text)
    assert "Set apart since 20 October until 20 November: new animals" in said
    assert "That day is over; it is yours to bring it back." in said
    assert "That day is over" not in words(client.get(f"/boxes/{APART}").text)


@pytest.mark.parametrize("code", ["A01", "A 1/2", "WORK", "A/WORK", "work", "A.JSON"])
def test_the_inside_address_leads_back_to_the_outside_one(code: str) -> None:
    for path in (f"/boxes/{code}/work", f"/boxes/{code}/figures", f"/boxes/{code}.json"):
        assert inside(path) != path
        assert outside(inside(path)) == path
    assert inside(f"/boxes/{code}") == f"/boxes/{code}"


def test_a_code_with_a_slash_has_its_work_too(client: Client, room: Path) -> None:
    with open_book(room) as book:
        write(book, [BoxDescribed(box="A/WORK", litres=3)], pen=evening_pen(2))
    assert "Work on box A/WORK" in words(client.get("/boxes/A%2FWORK/work").text)
    assert "Box A/WORK" in words(client.get("/boxes/A%2FWORK").text)
    posted(client, "/boxes/A%2FWORK/work", do="found", species="Porcellio scaber")
    fact = newest(room).fact
    assert isinstance(fact, Founded)
    assert fact.box == "A/WORK"


def test_floor_wall_and_warmth_of_a_box_are_told(client: Client, room: Path) -> None:
    work(
        client, LIVED_IN, "describe", substrate="4", litter="2,5 cm", moss="1/4", wall="1.5",
        warmer="2",
    )  # fmt: skip
    fact = newest(room).fact
    assert isinstance(fact, BoxDescribed)
    assert (fact.substrate_cm, fact.litter_cm, fact.wall_mm) == (4, 2.5, 1.5)
    assert (fact.moss_share, fact.warmer_c) == (0.25, 2)
    answer = work(client, LIVED_IN, "describe", moss="lots")
    assert "of the floor" in fault(answer.text, "describe", "moss")
    assert "now 2; 0 for no more" in words(answer.text)
