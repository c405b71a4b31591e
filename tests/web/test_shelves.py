"""The shelves in walking order, their thermometers, and whose range a reading left."""

import re
from pathlib import Path

import pytest

from mancary import handbook
from mancary.book import open_book
from mancary.husbandry.facts import Founded, LineNamed, Noted, ShelfPlaced, ShelfRead, Shelved
from mancary.husbandry.how_well import how_well
from mancary.usecases.record import withdraw, write
from mancary.usecases.standings import register_of
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, posted, token, words


def readings(room: Path) -> list[ShelfRead]:
    with open_book(room) as book:
        facts = (entry.fact for entry in book.entries_of(("shelf_read",)))
        return [fact for fact in facts if isinstance(fact, ShelfRead)]


def of_shelf(html: str, code: str) -> str:
    mark = f'id="shelf-{code.encode().hex()}"'
    return words(f"<main {html.partition(mark)[2].partition('</section>')[0]}")


def test_shelves_come_in_walking_order_with_their_last_reading(client: Client, room: Path) -> None:
    with open_book(room) as book:
        write(book, [ShelfPlaced(shelf="Z9", turn=0)], pen=evening_pen(3))
        late = ShelfRead(shelf="A1", lowest_c=1, highest_c=2)
        write(book, [late], pen=evening_pen(4), happened="2026-10-01")
    html = client.get("/shelves").text
    order = re.findall(r">Shelf ([A-Z]\d)<", html)
    assert order[:3] == ["Z9", "A1", "A2"]
    assert "18.5 °C to 24 °C, read 18 November." in of_shelf(html, "A1")
    assert "No reading yet." in of_shelf(html, "A2")


def test_the_readings_of_a_walk_are_written_in_one_go(client: Client, room: Path) -> None:
    answer = posted(
        client, "/shelves", day="2026-11-24",
        **{"low:A1": "17,5", "high:A1": "23", "low:A2": "-2", "high:A2": "3"},
    )  # fmt: skip
    assert readings(room)[-2:] == [
        ShelfRead(shelf="A1", lowest_c=17.5, highest_c=23),
        ShelfRead(shelf="A2", lowest_c=-2, highest_c=3),
    ]
    assert "Written: shelf A1: lowest 17.5, highest 23 °C , 24 November" in words(answer.text)
    assert "17.5 °C to 23 °C, read 24 November." in of_shelf(answer.text, "A1")


def test_a_range_that_was_left_is_said_with_its_kind(client: Client, room: Path) -> None:
    with open_book(room) as book:
        line = register_of(book).line_in("A01")
    assert line
    figure = handbook.figures(line.species)["temperature_c"]
    assert figure.low is not None
    assert figure.high is not None
    answer = posted(
        client, "/shelves",
        **{"low:A1": f"{figure.low - 1.5}", "high:A1": f"{figure.high + 3}"},
    )  # fmt: skip
    said = of_shelf(answer.text, "A1")
    assert re.search(rf"A01[^:]*: the shelf was 3 °C above and 1.5 °C below {figure.said}", said)
    assert how_well(figure) in said
    inside = posted(
        client, "/shelves", **{"low:A1": f"{figure.low + 1}", "high:A1": f"{figure.high - 1}"}
    )
    assert "A01" not in of_shelf(inside.text, "A1")


def test_common_practice_says_that_it_has_no_source(client: Client) -> None:
    answer = posted(client, "/shelves", **{"low:A1": "2", "high:A1": "50"})
    assert re.search(r"common practice \([CG]\)[^)]*, no source", of_shelf(answer.text, "A1"))
    assert "A shelf’s thermometer is not the inside of a box" in words(answer.text)


def test_an_unknown_range_is_said(client: Client, room: Path) -> None:
    bare = next(s for s in handbook.species_slugs() if "temperature_c" not in handbook.figures(s))
    with open_book(room) as book:
        facts = [
            LineNamed(line="bare", species=bare, as_bought=bare),
            Founded(colony="B07.1", box="B07", line="bare"),
        ]
        write(book, facts, pen=evening_pen(3))
    assert "No range is known for B07." in of_shelf(client.get("/shelves").text, "B2")


def test_a_withdrawn_reading_does_not_count(client: Client, room: Path) -> None:
    with open_book(room) as book:
        wrong = ShelfRead(shelf="A1", lowest_c=0, highest_c=60)
        fact_id = write(book, [wrong], pen=evening_pen(4)).entries[0].id
        withdraw(book, fact_id, why="the wrong way up", pen=evening_pen(5))
    assert "18.5 °C to 24 °C" in of_shelf(client.get("/shelves").text, "A1")


@pytest.mark.parametrize(
    ("fields", "field", "said"),
    [
        ({}, "all", "one shelf at least"),
        ({"low:A1": "20"}, "high", "Say both for shelf A1"),
        ({"low:A1": "25", "high:A1": "20"}, "low", "is above highest"),
        ({"low:A1": "cold", "high:A1": "20"}, "low", "is not a number"),
        ({"low:A1": "20", "high:A1": "400"}, "low", "expected -40 to 70"),
        ({"low:A1": "20", "high:A1": "21", "driest:A1": "0.5"}, "driest", "in percent"),
        (
            {"low:A1": "20", "high:A1": "21", "driest:A1": "60", "dampest:A1": "50"},
            "driest",
            "above",
        ),
        ({"driest:A1": "60"}, "low", "Say both for shelf A1"),
        ({"low:A1": "20", "high:A1": "21", "day": "2027-01-01"}, "day", "future"),
    ],
)
def test_what_does_not_fit_is_named_and_nothing_is_written(
    client: Client, room: Path, fields: dict[str, str], field: str, said: str
) -> None:
    before = readings(room)
    answer = posted(client, "/shelves", **{"low:A3": "19", "high:A3": "22", **fields} if fields else {})  # fmt: skip
    assert answer.status_code == 422
    assert f'id="fault-{field}"' in answer.text
    assert said in words(answer.text)
    assert readings(room) == before
    assert not fields or 'name="low:A3" value="19"' in answer.text


def test_the_same_walk_sent_twice_is_written_once(client: Client, room: Path) -> None:
    html = client.get("/shelves").text
    once = re.search(r'name="once" value="(\w+)"', html)
    assert once
    data = {"_csrf_token": token(html), "once": once.group(1), "low:A1": "19", "high:A1": "22"}
    client.post("/shelves", data=data)
    after = len(readings(room))
    client.post("/shelves", data=data)
    assert len(readings(room)) == after


def test_a_shelf_of_any_name_has_its_place(client: Client, room: Path) -> None:
    with open_book(room) as book:
        write(book, [Shelved(box="A02", shelf="TOP / LEFT")], pen=evening_pen(3))
        write(book, [Noted(what="box", code="A02", text="x")], pen=evening_pen(4))
    address = re.search(r'href="(/shelves#[^"]+)">Shelf TOP / LEFT', client.get("/boxes/A02").text)
    assert address
    assert f'id="{address.group(1).partition("#")[2]}"' in client.get("/shelves").text


def test_a_book_without_shelves_says_what_to_do(empty: Client) -> None:
    said = words(empty.get("/shelves").text)
    assert "No shelf stands in the book yet." in said
    assert "Write down what is filled in" not in said


def test_a_humidity_is_written_as_shown_and_said_with_what_became_of_it(
    client: Client, room: Path
) -> None:
    answer = posted(
        client, "/shelves",
        **{"low:A1": "18", "high:A1": "22", "driest:A1": "45 %", "dampest:A1": "55",
           "instrument:A1": "h1", "low:A2": "19", "high:A2": "20", "dampest:A2": "60"},
    )  # fmt: skip
    first, second = readings(room)[-2:]
    assert (first.rh_lowest, first.rh_highest, first.instrument) == (0.45, 0.55, "H1")
    assert (second.rh_lowest, second.rh_highest, second.instrument) == (0.6, 0.6, None)
    assert "45 % to 55 % humidity" in of_shelf(answer.text, "A1")
    assert "as H1 showed it, not checked" in of_shelf(answer.text, "A1")
    assert "60 % humidity" in of_shelf(answer.text, "A2")
    assert '<option value="H1">' in answer.text


def test_the_air_of_a_shelf_is_said(client: Client, room: Path) -> None:
    assert "cupboard" not in of_shelf(client.get("/shelves").text, "A1")
    with open_book(room) as book:
        write(book, [ShelfPlaced(shelf="A1", turn=1, air="cupboard")], pen=evening_pen(3))
    assert "in a cupboard" in of_shelf(client.get("/shelves").text, "A1")
