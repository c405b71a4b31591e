"""Hostile text stays text, wherever it came in."""

from html.parser import HTMLParser
from pathlib import Path

import pytest

from mancary.book import open_book
from mancary.husbandry.facts import (
    BoxDescribed,
    Founded,
    LineNamed,
    Noted,
    PageOpened,
    SeenInBox,
    Shelved,
)
from mancary.usecases.record import withdraw, write
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, posted, upload

HOSTILE = """"><script>alert(1)</script><img src=x onerror='alert(2)'>{{ 7*7 }}"""


class Tags(HTMLParser):
    """Collects what a browser would act upon."""

    def __init__(self) -> None:
        super().__init__()
        self.bad: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        own = told.get("type") == "module" and (told.get("src") or "").startswith("/static/")
        if tag == "script" and own:
            return
        if tag in ("script", "img", "iframe", "object", "style"):
            self.bad.append(tag)
        self.bad += [name for name, _ in attrs if name.startswith("on") or name == "style"]


def assert_harmless(html: str, *, shows: bool = True) -> None:
    tags = Tags()
    tags.feed(html)
    assert tags.bad == []
    assert not shows or "&lt;script&gt;alert(1)" in html
    assert "49" not in html.partition("onerror=")[2][:40]


def test_the_check_itself_can_fail() -> None:
    with pytest.raises(AssertionError):
        assert_harmless(f"<p>{HOSTILE}</p>", shows=False)


@pytest.fixture
def hostile(room: Path) -> Path:
    pen = evening_pen(3)
    with open_book(room) as book:
        facts = [
            BoxDescribed(box="Z01", vents_as_written=HOSTILE, make=HOSTILE, note=HOSTILE),
            Shelved(box="Z01", shelf="A1", position=9),
            PageOpened(species="own", name=HOSTILE, care_group="springtails", note=HOSTILE),
            LineNamed(
                line="own-1", species="own", as_bought=HOSTILE, morph=HOSTILE, source=HOSTILE
            ),
            Founded(colony="Z01.1", box="Z01", line="own-1", as_written=HOSTILE, note=HOSTILE),
            Noted(what="box", code="Z01", text=HOSTILE),
        ]
        write(book, facts, pen=pen)
        seen = write(book, [SeenInBox(box="Z01", word="mould", note=HOSTILE)], pen=pen)
        withdraw(book, seen.entries[0].id, why=HOSTILE, pen=pen)
    return room


@pytest.mark.parametrize(
    "address",
    [
        "/",
        "/wants",
        "/boxes",
        "/boxes/Z01",
        "/boxes?sort=species",
        "/species",
        "/species/own",
        "/shelves",
        "/boxes/Z01/work",
    ],
)
def test_hostile_facts(hostile: Path, client: Client, address: str) -> None:
    assert_harmless(client.get(address).text, shows=address not in ("/", "/wants", "/shelves"))


def test_hostile_fact_pages(hostile: Path, client: Client) -> None:
    with open_book(hostile) as book:
        ids = [entry.id for entry in book.entries_about("box:Z01")]
    for one in ids:
        assert_harmless(client.get(f"/facts/{one}").text, shows=False)


@pytest.mark.parametrize("address", ["/boxes", "/species"])
def test_hostile_search_words(client: Client, address: str) -> None:
    assert_harmless(client.get(address, params={"q": HOSTILE, "sort": HOSTILE}).text)


def test_hostile_forms(client: Client) -> None:
    answer = posted(client, "/boxes/A02", word=HOSTILE, amount=HOSTILE, note=HOSTILE, day=HOSTILE)
    assert answer.status_code == 422
    assert_harmless(answer.text)
    assert_harmless(posted(client, "/species", name=HOSTILE, form="/species?q=x").text)
    assert_harmless(posted(client, "/new-box", box=HOSTILE, litres="3").text)


def test_hostile_work(client: Client) -> None:
    at = "/boxes/A02/work"
    for do, field in (
        ("move", "to"),
        ("take", "animals"),
        ("describe", "vents"),
        (HOSTILE[:30], "to"),
    ):
        answer = posted(client, at, do=do, why=HOSTILE, day=HOSTILE, **{field: HOSTILE})
        assert answer.status_code == 422
        assert_harmless(answer.text, shows=len(do) < 20)
    found = posted(client, "/boxes/B07/work", do="found", species=HOSTILE)
    assert_harmless(found.text)
    figure = posted(
        client, "/boxes/A02/figures", form="/boxes/A02", figure=HOSTILE[:90], low=HOSTILE,
        why=HOSTILE, scope=HOSTILE[:90],
    )  # fmt: skip
    assert figure.status_code == 422
    assert_harmless(figure.text)
    shelf = posted(client, "/shelves", day=HOSTILE, **{"low:A1": HOSTILE, HOSTILE: HOSTILE})
    assert_harmless(shelf.text)


def test_hostile_sheet(client: Client) -> None:
    text = f"Box;Species;{HOSTILE.replace(';', '')}\nQ01;{HOSTILE};x\nQ02;{HOSTILE};-1\n"
    answer = upload(client, HOSTILE + ".csv", text.encode())
    assert answer.status_code == 200
    assert_harmless(answer.text)
    assert_harmless(client.get("/take-in").text, shows=False)


def test_hostile_address(client: Client) -> None:
    answer = client.get("/boxes/%22%3E%3Cscript%3Ealert(1)%3C%2Fscript%3E")
    assert answer.status_code == 409
    assert_harmless(answer.text, shows=False)
