"""The ticks of a paper sheet: the sheet's own order, words read or refused, all in one go."""

import re
from datetime import timedelta
from pathlib import Path

import pytest
from httpx import Response

from mancary.book import open_book
from mancary.husbandry.facts import (
    CareGiven,
    Counted,
    Fact,
    RoundTimed,
    SeenInBox,
    ShelfRead,
    Weighed,
    Withdrawn,
)
from mancary.husbandry.words import said
from mancary.paper.round_sheet import round_sheet, sheet_words
from mancary.usecases.record import write
from mancary.usecases.round_evening import KeptEvening, keep_evening, kept_evening
from mancary.usecases.standings import register_of
from tests.browser.bug_room import TODAY, evening_pen
from tests.web.conftest import Client, entries, token, words

YESTERDAY = TODAY - timedelta(days=1)


@pytest.fixture
def room(room: Path) -> Path:
    """The small room, with a plan kept for yesterday."""
    with open_book(room) as book:
        keep_evening(book, on=YESTERDAY, named=True, minutes=25, pen=evening_pen(2))
    return room


def plan(room: Path) -> KeptEvening:
    with open_book(room) as book:
        kept = kept_evening(book, YESTERDAY)
    assert kept
    return kept


def form_of(html: str) -> dict[str, str | list[str]]:
    """The fields of the sheet as a browser would send them untouched."""
    form = html.partition('class="ticks"')[2]
    return {
        "_csrf_token": token(html),
        "sheet": YESTERDAY.isoformat(),
        "stop": re.findall(r'name="stop" value="([^"]+)"', form),
        "tick": re.findall(r'name="tick" value="([^"]+)" checked', form),
        "on": YESTERDAY.isoformat(),
        "do": "write",
    }


def sent(client: Client, **changes: str | list[str]) -> Response:
    return client.post("/round/ticks", data={**form_of(client.get("/round/ticks").text), **changes})


def fresh(room: Path, before: int) -> list[Fact]:
    return [entry.fact for entry in entries(room)[before:]]


def given(facts: list[Fact]) -> list[tuple[str, str]]:
    return sorted((fact.box, fact.care) for fact in facts if isinstance(fact, CareGiven))


def saved(answer: Response) -> str:
    assert answer.status_code == 201, words(answer.text)
    return words(answer.text)


def test_the_boxes_and_cares_stand_in_the_order_of_the_paper_sheet(
    client: Client, room: Path
) -> None:
    with open_book(room) as book:
        made = round_sheet(book, on=YESTERDAY, named=True)
        printed = sheet_words(made.told, register_of(book, until=YESTERDAY), accepted=made.accepted)
    assert made.accepted
    on_paper = [
        (line.code, [care.word for care in line.cares])
        for shelf in printed.shelves
        for line in shelf.stops
    ]
    html = client.get(f"/round/ticks?on={YESTERDAY}").text
    on_page = [
        (box, [said(care) for care in cares.split("|")])
        for box, _, cares in (one.partition("|") for one in form_of(html)["stop"])
    ]
    assert on_page == on_paper
    assert len(on_paper) > 5
    headings = re.findall(r'<h2 id="p\d+">([^<]+)</h2>', html)
    assert headings == [shelf.name for shelf in printed.shelves]
    assert len(form_of(html)["tick"]) == sum(len(cares) for _, cares in on_paper)


def test_all_with_a_tick_is_written_with_the_day_of_the_evening(client: Client, room: Path) -> None:
    before = len(entries(room))
    kept = plan(room)
    ticks = form_of(client.get("/round/ticks").text)["tick"]
    assert isinstance(ticks, list)
    told = saved(sent(client, tick=ticks[2:]))
    assert f"{len(ticks) - 2} cares as given, 2 without a tick" in told
    out = {tuple(one.split("|")) for one in ticks[:2]}
    assert given(fresh(room, before)) == sorted(kept.cares - out)
    assert {entry.happened for entry in entries(room)[before:]} == {YESTERDAY.isoformat()}
    again = client.get("/round/ticks").text
    assert sorted(form_of(again)["tick"]) == sorted(ticks[:2])
    assert "written already" in again


def test_what_was_written_beside_a_box_and_read_on_a_shelf_is_in_the_book(
    client: Client, room: Path
) -> None:
    before = len(entries(room))
    first, second = [box for box, _ in plan(room).stops[:2]]
    shelf = re.findall(r'name="low:([^"]+)"', client.get("/round/ticks").text)[0]
    saved(
        sent(
            client,
            **{
                f"words|{first}": "dead 2, mould, 37 counted, 1462 g, left over half",
                f"words|{second}": "not reached",
                f"low:{shelf}": "17,5", f"high:{shelf}": "23", "took": "41",
            },
        )
    )  # fmt: skip
    facts = fresh(room, before)
    seen = {(f.box, f.word, f.animals, f.share) for f in facts if isinstance(f, SeenInBox)}
    assert seen == {
        (first, "dead", 2, None),
        (first, "mould", None, None),
        (first, "left_over", None, 0.5),
    }
    assert [(f.box, f.low) for f in facts if isinstance(f, Counted)] == [(first, 37)]
    assert [(f.box, f.gross_g) for f in facts if isinstance(f, Weighed)] == [(first, 1462.0)]
    assert [f for f in facts if isinstance(f, ShelfRead)] == [
        ShelfRead(shelf=shelf, lowest_c=17.5, highest_c=23)
    ]
    assert [f for f in facts if isinstance(f, RoundTimed)] == [
        RoundTimed(day=YESTERDAY.isoformat(), minutes=41)
    ]
    assert second not in {box for box, _ in given(facts)}


@pytest.mark.parametrize(
    ("field", "text", "said_of_it"),
    [
        ("words", "mould, sparkles", "'sparkles'"),
        ("words", "not dead", "'not dead'"),
        ("words", "1.462 g", "'1.462 g'"),
        ("took", "an hour", "is not a number"),
        ("took", "0", "0 minutes is no evening"),
        ("on", "2026-12-01", "is no day for this sheet"),
        ("on", "2026-11-20", "is no day for this sheet"),
        ("low", "20", "Say both"),
    ],
)
def test_what_is_not_understood_is_named_and_nothing_is_written_and_all_stays(
    client: Client, room: Path, field: str, text: str, said_of_it: str
) -> None:
    before = len(entries(room))
    first, other = [box for box, _ in plan(room).stops[:2]]
    ticks = form_of(client.get("/round/ticks").text)["tick"]
    assert isinstance(ticks, list)
    shelf = re.findall(r'name="low:([^"]+)"', client.get("/round/ticks").text)[0]
    name = {"words": f"words|{first}", "low": f"low:{shelf}"}.get(field, field)
    changes: dict[str, str | list[str]] = {f"words|{other}": "gravid, wet", name: text}
    answer = sent(client, tick=ticks[1:], **changes)
    assert answer.status_code == 422
    fault = re.search(r'id="fault">(.*?)</strong>', answer.text)
    assert fault
    assert said_of_it in fault[1].replace("&#39;", "'")
    assert field != "words" or f"Box {first}" in fault[1]
    assert f'name="words|{other}" value="gravid, wet"' in answer.text
    assert re.search(rf'name="{re.escape(name)}"[^>]*value="{re.escape(text)}"', answer.text)
    wrong = name.replace("low:", "high:")  # the one of the two that is missing
    assert re.search(rf'name="{re.escape(wrong)}"[^>]*aria-invalid="true"', answer.text)
    assert form_of(answer.text)["tick"] == ticks[1:]
    assert len(entries(room)) == before


def test_typed_words_come_back_as_words(client: Client, room: Path) -> None:
    box = plan(room).stops[0][0]
    hostile = '"><script>alert(1)</script>'
    answer = sent(client, **{f"words|{box}": hostile, "took": hostile})
    assert answer.status_code == 422
    assert "<script>alert" not in answer.text
    assert "&lt;script&gt;" in answer.text


def test_looking_it_over_writes_nothing(client: Client, room: Path) -> None:
    before = len(entries(room))
    box = plan(room).stops[0][0]
    html = client.get("/round/ticks").text
    buttons = re.findall(r'<button[^>]*name="do" value="(\w+)"', html)
    assert buttons == ["check", "write"]  # the Enter key presses the first
    answer = sent(client, do="check", **{f"words|{box}": "mould"})
    assert "Nothing is written yet" in words(answer.text)
    assert 'value="mould"' in answer.text
    assert len(entries(room)) == before


def test_a_sheet_sent_twice_is_written_once(client: Client, room: Path) -> None:
    box = plan(room).stops[0][0]
    before = len(entries(room))
    data = {**form_of(client.get("/round/ticks").text), f"words|{box}": "dead 2, mist 20 ml", "took": "30"}  # fmt: skip
    saved(client.post("/round/ticks", data=data))
    after = len(entries(room))
    told = saved(client.post("/round/ticks", data=data))
    assert "0 cares as given" in told
    assert "was not written again" in told
    assert len(entries(room)) == after
    again = client.post("/round/ticks", data=data)
    ids = re.search(r'name="ids" value="([^"]+)"', again.text)
    assert ids
    assert len(ids[1].split()) == after - before  # a second sending can be undone too


def test_undo_takes_all_of_it_back_and_it_can_be_typed_in_anew(client: Client, room: Path) -> None:
    box = plan(room).stops[0][0]
    before = len(entries(room))
    answer = sent(client, **{f"words|{box}": "dead 20"})
    ids = re.search(r'name="ids" value="([^"]+)"', answer.text)
    assert ids
    wrote = len(entries(room)) - before
    told = client.post(
        "/round/ticks/undo",
        data={"_csrf_token": token(answer.text), "ids": ids[1], "sheet": str(YESTERDAY)},
    )
    assert f"{wrote} facts are withdrawn" in words(told.text)
    assert sum(isinstance(fact, Withdrawn) for fact in fresh(room, before)) == wrote
    assert not plan(room).recorded
    assert f"{len(plan(room).cares)} cares as given" in saved(sent(client))
    assert plan(room).recorded.keys() == plan(room).cares


def test_what_was_noted_meanwhile_is_not_written_again(client: Client, room: Path) -> None:
    data = form_of(client.get("/round/ticks").text)
    box, care = min(plan(room).cares)
    with open_book(room) as book:
        write(book, [CareGiven(box=box, care=care)], pen=evening_pen(3))  # type: ignore[arg-type]
    before = len(entries(room))
    saved(client.post("/round/ticks", data=data))
    assert given(fresh(room, before)) == sorted(plan(room).cares - {(box, care)})


def test_what_the_plan_never_had_is_not_written(client: Client, room: Path) -> None:
    before = len(entries(room))
    stops = form_of(client.get("/round/ticks").text)["stop"]
    assert isinstance(stops, list)
    strange = ["B07|mist", "A01|substrate_whole", "NOBOX|mist", "|", "A01"]
    saved(sent(client, stop=[*stops, *strange], tick=strange, **{"words|NOBOX": "mould"}))
    assert fresh(room, before) == []


def test_where_no_plan_was_kept_the_page_says_so(client: Client, room: Path) -> None:
    html = client.get("/round/ticks?on=2026-11-03").text
    assert "No plan was kept for" in words(html)
    assert 'name="tick"' not in html
    before = len(entries(room))
    data = {**form_of(client.get("/round/ticks").text), "sheet": "2026-11-03"}
    assert client.post("/round/ticks", data=data).status_code == 409
    assert client.post("/round/ticks", data={**data, "sheet": "soon"}).status_code == 422
    assert len(entries(room)) == before


def test_a_sheet_to_come_is_not_offered(client: Client, room: Path) -> None:
    with open_book(room) as book:
        ahead = TODAY + timedelta(days=1)
        keep_evening(book, on=ahead, named=True, pen=evening_pen(5))
    assert 'name="tick"' not in client.get(f"/round/ticks?on={ahead}").text
    assert f'name="sheet" value="{YESTERDAY}"' in client.get("/round/ticks").text
