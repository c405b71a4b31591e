"""The page of rhythms: what would fit, edited without script, accepted once, undone in one step."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from httpx import Response
from litestar.testing import TestClient

from mancary.book import open_book
from mancary.husbandry.facts import FigureChosen, Withdrawn
from mancary.usecases.figures import choose_figure
from mancary.usecases.sustainable import Sustainable, propose
from mancary.web.app import create_app
from tests.browser.bug_room import TODAY, evening_pen
from tests.web.conftest import HERE, Client, entries, token, words


@pytest.fixture
def busy(room: Path) -> Path:
    """The small room with fifteen minutes on each of two evenings."""
    offer(room, 15)
    return room


def offer(room: Path, minutes: float) -> None:
    pen = evening_pen(2)
    with open_book(room) as book:
        for name in ("wednesday_minutes", "sunday_minutes"):
            choose_figure(book, name, low=minutes, high=minutes, why="", scopes={}, pen=pen)


@pytest.fixture
def client(busy: Path) -> Iterator[Client]:
    with TestClient(create_app(busy, pen=evening_pen(9)), base_url=HERE) as made:
        yield made


def proposed(room: Path) -> Sustainable:
    with open_book(room) as book:
        return propose(book, on=TODAY)


def form_of(html: str) -> dict[str, str | list[str]]:
    """The fields as a browser would send them."""
    typed = re.findall(r'<input id="d\d+" name="([^"]+)" value="([^"]*)"', html)
    fields: dict[str, str | list[str]] = dict(typed)
    fields["take"] = re.findall(r'name="take" value="([^"]+)" checked', html)
    once = re.search(r'name="once" value="(\w+)"', html)
    assert once
    return {**fields, "once": once[1], "_csrf_token": token(html)}


def sent(client: Client, do: str, **changes: str | list[str]) -> Response:
    fields = form_of(client.get("/rhythms").text)
    return client.post("/rhythms", data={**fields, **changes, "do": do})


def chosen(room: Path) -> list[FigureChosen]:
    facts = [entry.fact for entry in entries(room)]
    return [fact for fact in facts if isinstance(fact, FigureChosen) and fact.scope == "care_group"]


def test_the_page_shows_what_is_wanted_offered_and_proposed(client: Client, busy: Path) -> None:
    found = proposed(busy)
    html = client.get("/rhythms").text
    told = words(html)
    for minutes in (found.minutes_wanted, found.minutes_offered, found.minutes_proposed):
        assert f"{minutes:.0f} minutes a week ({minutes / 60:.1f}&nbsp;h)" in told
    assert len(form_of(html)["take"]) == len(found.proposals)
    first = found.proposals[0]
    assert f"every {first.proposed_days:g} days for these {first.boxes} boxes" in told
    assert f'name="days|{first.care}|{first.care_group}" value="{first.proposed_days:g}"' in html
    for one in found.proposals:
        boxes = "box" if one.boxes == 1 else "boxes"
        assert f"{one.boxes} {boxes}: {', '.join(one.codes)}" in told


def test_an_edited_row_is_worked_out_anew_and_nothing_is_written(
    client: Client, busy: Path
) -> None:
    before = len(entries(busy))
    one = proposed(busy).proposals[0]
    name = f"days|{one.care}|{one.care_group}"
    answer = sent(client, "again", **{name: f"{one.proposed_days * 2:g}".replace(".", ",")})
    assert answer.status_code in (200, 201)
    told = words(answer.text)
    assert "As edited" in told
    then = re.search(r"As edited (\d+) minutes", told)
    assert then
    assert int(then[1]) < round(proposed(busy).minutes_proposed)
    assert f'name="{name}" value="{one.proposed_days * 2:g}"'.replace(
        ".", ","
    ) in answer.text.replace(".", ",")
    assert len(entries(busy)) == before


def test_an_unticked_row_stays_as_it_is_and_stays_on_the_page(client: Client, busy: Path) -> None:
    found = proposed(busy)
    taken = form_of(client.get("/rhythms").text)["take"]
    assert isinstance(taken, list)
    answer = sent(client, "again", take=taken[1:])
    then = re.search(r"As edited (\d+) minutes", words(answer.text))
    assert then
    assert int(then[1]) > round(found.minutes_proposed)
    assert re.search(rf'name="take" value="{re.escape(taken[0])}">', answer.text)
    sent(client, "accept", take=taken[1:])
    assert len(chosen(busy)) == len(taken) - 1


def test_accepting_writes_once_and_undo_gives_all_back(client: Client, busy: Path) -> None:
    before = proposed(busy)
    fields = {**form_of(client.get("/rhythms").text), "do": "accept"}
    answer = client.post("/rhythms", data=fields)
    assert answer.status_code == 201
    assert "yours now" in words(answer.text)
    assert len(chosen(busy)) == len(before.proposals)
    after = len(entries(busy))
    again = client.post("/rhythms", data=fields)
    assert "yours now" in words(again.text)
    assert len(entries(busy)) == after
    undo = re.search(r'name="ids" value="([^"]+)"', answer.text)
    assert undo
    undone = client.post("/rhythms/undo", data={"_csrf_token": token(answer.text), "ids": undo[1]})
    assert "Undone." in words(undone.text)
    assert proposed(busy) == before
    assert sum(isinstance(one.fact, Withdrawn) for one in entries(busy)[after:]) == len(
        before.proposals
    )
    client.post("/rhythms", data=fields)  # the same page once more, after the undo
    assert proposed(busy) != before


@pytest.mark.parametrize(
    ("typed", "said"),
    [("soon", "is not a number"), ("0", "0 days is no rhythm"), ("", "say how many days"), ("1e9", "no rhythm")],
)  # fmt: skip
def test_bad_days_are_named_by_row_and_nothing_is_written(
    client: Client, busy: Path, typed: str, said: str
) -> None:
    before = len(entries(busy))
    one = proposed(busy).proposals[-1]
    for do in ("again", "accept"):
        answer = sent(client, do, **{f"days|{one.care}|{one.care_group}": typed})
        assert answer.status_code == 422
        fault = re.search(r'id="fault">(.*?)</strong>', answer.text)
        assert fault
        assert said in fault[1]
        assert one.care_group in fault[1]
        assert "Nothing was written" in fault[1]
        assert f'value="{typed}"' in answer.text
    assert len(entries(busy)) == before


def test_rows_that_do_not_exist_and_no_rows_are_refused(client: Client, busy: Path) -> None:
    before = len(entries(busy))
    strange = sent(client, "accept", take=["tea|nowhere"], **{"days|tea|nowhere": "4"})
    assert strange.status_code == 422
    none = sent(client, "accept", take=[])
    assert "No row is ticked" in none.text
    assert len(entries(busy)) == before


def test_where_all_fits_the_page_says_so(room: Path) -> None:
    offer(room, 1400)
    with TestClient(create_app(room, pen=evening_pen(9)), base_url=HERE) as easy:
        html = easy.get("/rhythms").text
    assert "All fits into your week as it is" in words(html)
    assert "<button" not in html
