"""The round's page: what a second sending, a partner's half and an undo write."""

import re
from datetime import timedelta
from html import unescape
from pathlib import Path

import pytest

from mancary.book import open_book
from mancary.husbandry.facts import CareGiven, CareSkipped, Fact, SeenInBox, Weighed
from tests.browser.bug_room import TODAY
from tests.web.conftest import Client, words


def form(html: str, **more: str | list[str]) -> dict[str, str | list[str]]:
    """The round's form as the page has it, all hidden fields filled."""
    made: dict[str, str | list[str]] = {}
    for name, value in re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', html):
        held = made.setdefault(name, [])
        assert isinstance(held, list)
        held.append(value)
    return {name: value[0] if len(value) == 1 else value for name, value in made.items()} | more


def stops(data: dict[str, str | list[str]]) -> list[str]:
    told = [value for name, value in data.items() if name.startswith("stop.")]
    return [one for held in told for one in ([held] if isinstance(held, str) else held)]


def fresh(room: Path, after: int) -> list[Fact]:
    with open_book(room) as book:
        return [entry.fact for entry in book.entries(after=after)]


def count(room: Path) -> int:
    with open_book(room) as book:
        return book.head().count


def ids(html: str) -> list[str]:
    found = re.search(r'name="ids" value="([^"]*)"', html)
    return found[1].split() if found else []


def test_the_first_page_is_the_round_and_writes_nothing_when_it_is_read(
    client: Client, room: Path
) -> None:
    before = count(room)
    html = client.get("/").text
    assert "round" in words(html)
    assert stops(form(html))
    assert count(room) == before


def test_what_is_undone_can_be_written_again(client: Client, room: Path) -> None:
    page = form(client.get("/?today=true").text)
    before = count(room)
    said = client.post("/round", data=page)
    assert said.history[0].status_code == 303  # reading the page again sends nothing again
    first = {(f.box, f.care) for f in fresh(room, before) if isinstance(f, CareGiven)}
    client.post("/round/undo", data=form(said.text))
    after = count(room)
    again = client.post("/round", data=form(client.get("/?today=true").text))
    assert again.status_code == 200
    assert {(f.box, f.care) for f in fresh(room, after) if isinstance(f, CareGiven)} == first


def test_the_undo_of_one_never_takes_back_what_another_wrote(client: Client, room: Path) -> None:
    mine, hers = (form(client.get("/?today=true").text) for _ in range(2))
    by_me = ids(client.post("/round", data=mine).text)
    assert by_me
    assert ids(client.post("/round", data=hers).text) == []
    assert ids(client.post("/round", data=mine).text) == by_me  # the same form, sent again


def test_a_field_that_is_not_understood_writes_nothing_and_keeps_all_marks(
    client: Client, room: Path
) -> None:
    page = form(client.get("/?today=true").text)
    first, second = (one.partition("|")[0] for one in stops(page)[:2])
    before = count(room)
    answer = client.post(
        "/round",
        data=page | {f"count|{first}": "many many", f"seen|{second}": "mould", "not": first},
    )
    assert answer.status_code == 422
    assert f"Box {first}" in answer.text
    assert count(room) == before
    assert 'value="many many"' in answer.text
    assert f'name="seen|{second}" value="mould" checked' in answer.text
    assert f'name="not" value="{first}" checked' in answer.text


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        ({"not": "BOX", "dead|BOX": "3"}, "marked as not reached"),
        ({"dead|BOX": ["2", "3"]}, "dead 2 and dead 3 are both marked"),
        ({"why|BOX": "damp enough"}, "is why what was left out"),
    ],
)
def test_marks_that_contradict_each_other_are_asked_about(
    client: Client, room: Path, marks: dict[str, str | list[str]], said: str
) -> None:
    page = form(client.get("/?today=true").text)
    box = next(one for one in stops(page) if one.count("|") > 1).partition("|")[0]
    told = {
        name.replace("BOX", box): box if value == "BOX" else value for name, value in marks.items()
    }
    before = count(room)
    answer = client.post("/round", data=page | told)
    assert answer.status_code == 422
    assert said in words(answer.text).replace("’", "'")
    assert count(room) == before


def test_a_reason_alone_is_of_the_only_care(client: Client, room: Path) -> None:
    page = form(client.get("/?today=true").text)
    box, _, care = next(one for one in stops(page) if one.count("|") == 1).partition("|")
    before = count(room)
    client.post("/round", data=page | {f"why|{box}": "damp enough"})
    skipped = [fact for fact in fresh(room, before) if isinstance(fact, CareSkipped)]
    assert skipped == [CareSkipped(box=box, care=care, why="damp enough")]  # type: ignore[arg-type]


def test_a_day_that_is_no_day_is_said_in_words(client: Client) -> None:
    answer = client.get("/?on=banana")
    assert answer.status_code == 422
    assert "'banana' is not a date; expected 2026-03-01." in unescape(words(answer.text))


def test_a_part_alone_writes_only_its_own_stops_and_marks(client: Client, room: Path) -> None:
    page = form(client.get("/?today=true").text)
    part = next(name for name in page if name.startswith("stop."))
    inside = stops({part: page[part]})
    outside = next(one for one in stops(page) if one not in inside).partition("|")[0]
    box = inside[0].partition("|")[0]
    before = count(room)
    client.post(
        "/round",
        data=page
        | {
            "only": part.removeprefix("stop."),
            f"weight|{box}": "1462",
            f"seen|{outside}": "mites",
        },
    )
    told = fresh(room, before)
    assert {f.box for f in told if isinstance(f, CareGiven)} <= {
        s.partition("|")[0] for s in inside
    }
    assert [(f.box, f.gross_g) for f in told if isinstance(f, Weighed)] == [(box, 1462)]
    assert not [f for f in told if isinstance(f, SeenInBox)]


@pytest.mark.parametrize("day", ["2999-01-01", "soon"])
def test_a_day_that_cannot_be_writes_nothing(client: Client, room: Path, day: str) -> None:
    page = form(client.get("/?today=true").text) | {"day": day}
    before = count(room)
    answer = client.post("/round", data=page)
    assert answer.status_code == 422
    assert "Nothing was written" in answer.text
    assert count(room) == before


def test_a_past_day_is_offered_and_a_coming_one_only_shown(client: Client) -> None:
    past = client.get(f"/?on={TODAY - timedelta(days=3)}").text
    coming = client.get(f"/?on={TODAY + timedelta(days=3)}").text
    assert "A round of an earlier day" in words(past)
    assert "except what is marked" in words(past)
    assert "except what is marked" not in words(coming)
