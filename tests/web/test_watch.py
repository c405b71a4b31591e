"""The watch as a page: in order, in words, quiet ones in a line, and no headline it cannot keep."""

import re
from pathlib import Path

import pytest

from mancary.book import open_book
from mancary.husbandry.facts import SeenInBox
from mancary.usecases.on_watch import on_watch
from mancary.usecases.record import write
from mancary.usecases.watch import watch
from tests.browser.bug_room import TODAY, evening_pen
from tests.web.conftest import Client, words


def failing(room: Path, *boxes: str) -> None:
    """Makes boxes look empty for three evenings."""
    pen = evening_pen(100)
    with open_book(room) as book:
        for day in ("2026-11-22", "2026-11-23", "2026-11-24"):
            facts = [SeenInBox(box=box, word="none_seen") for box in boxes]
            write(book, facts, pen=pen, happened=day)


def test_the_page_lists_every_colony_in_the_order_of_the_watch(client: Client, room: Path) -> None:
    failing(room, "A05")
    with open_book(room) as book:
        rows = watch(book, on=TODAY).rows
    page = client.get("/watch")
    assert page.status_code == 200
    listed = re.findall(r'href="/boxes/([A-Z]\d\d)/colony"', page.text)
    rest = [row.box for row in rows if row.apart != "starter"]
    starters = [row.box for row in rows if row.apart == "starter"]
    loud = [row.box for row in rows if row.box in rest and (row.band != "quiet" or row.apart)]
    assert loud
    assert listed == [*loud, *starters, *(box for box in rest if box not in loud)]


def test_an_empty_looking_box_says_how_long_it_waits_and_chances_are_never_nought(
    client: Client, room: Path
) -> None:
    failing(room, "A05")
    with open_book(room) as book:
        waits = [row.wait for row in watch(book, on=TODAY).rows if row.apart == "waiting"]
    said = words(client.get("/watch").text)
    assert len(waits) == 1
    assert "keep it damp and lightly fed until" in waits[0]
    spoken = waits[0].replace("2026-11-24", "24 November").replace("2027-02-16", "16 February 2027")
    assert spoken in said
    assert "Why" in said
    assert "Look for" in said
    chances = re.findall(r"(\d+) % ", said)
    assert chances
    assert not re.search(r"(?<!\d)(0|100) %", said)
    assert "under five" not in said
    assert not re.search(r"lower in 12 weeks", said.split("Chances are a model")[0])


def test_reasons_beyond_the_first_few_are_folded(client: Client, room: Path) -> None:
    failing(room, "A05", "A06", "A07", "A09", "A10")
    items = re.findall(r'<li>\s*<h2 class="watchhead">.*?Count [A-Z]\d\d</a>', client.get("/watch").text, re.DOTALL)  # fmt: skip
    told = [item for item in items if "<h3>Why</h3>" in item or "<h3>Look for</h3>" in item]
    assert len(told) >= 5
    assert ["<details>" in item for item in told] == [False] * 3 + [True] * (len(told) - 3)


def test_the_basis_and_the_weights_are_told_and_every_page_leads_here(client: Client) -> None:
    page = client.get("/watch").text
    said = words(page)
    assert "are a model's" in said.replace("&#39;", "'")
    assert "are ours" in said
    assert re.search(r"learned|held of any", said)
    assert '<a href="/watch" aria-current="page">Watch</a>' in page
    assert '<a href="/watch">Watch</a>' in client.get("/boxes").text


def test_an_empty_book_has_nothing_on_watch(empty: Client) -> None:
    page = empty.get("/watch")
    assert page.status_code == 200
    assert "No colony lives in any box" in words(page.text)


@pytest.mark.parametrize("address", ["/watch", "/boxes/A01/colony"])
def test_a_page_is_small_before_pictures(client: Client, address: str) -> None:
    page = client.get(address, headers={"accept-encoding": "gzip"})
    assert len(page.text.encode()) < 200_000
    assert int(page.headers["content-length"]) < 60_000


def test_a_box_on_watch_carries_the_word_on_its_rack(client: Client, room: Path) -> None:
    before = tags(client)
    failing(room, *(f"A{number:02d}" for number in range(1, 13)))
    with open_book(room) as book:
        watched = on_watch(book, on=TODAY)
        rows = watch(book, on=TODAY).rows
    assert watched == {row.box for row in rows if row.p_below_5_in_12_weeks >= 0.1}
    assert before < tags(client) <= len(watched)


def tags(client: Client) -> int:
    """How many boxes on the racks carry the word."""
    return len(re.findall(r">\s*watch\s*</text>", client.get("/wants").text))
