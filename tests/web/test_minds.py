"""What a keeper is told to mind, on the page that follows what was written."""

from pathlib import Path

import pytest

from mancary.book import open_book
from mancary.husbandry.cautions import DUST, WAIT, cautions
from mancary.husbandry.facts import SeenInBox
from mancary.usecases.record import write
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, posted, token, upload, words

SHEETS = Path(__file__).parents[1] / "sheets" / "data"


@pytest.mark.parametrize("word", ["violet_sheen", "ants", "smells", "stuck_moult"])
def test_a_sign_brings_its_caution_once(client: Client, word: str) -> None:
    (sentence,) = cautions([SeenInBox(box="A02", word=word)])  # type: ignore[arg-type]
    said = words(posted(client, "/boxes/A02", word=word).text)
    assert said.count(f"Mind: {sentence}") == 1


def test_an_everyday_word_brings_none(client: Client) -> None:
    html = posted(client, "/boxes/A02", word="mist", amount="20 mL").text
    assert "Written:" in html
    assert 'class="mind"' not in html


def test_a_card_opened_again_says_nothing(client: Client) -> None:
    posted(client, "/boxes/A02", word="ants")
    assert 'class="mind"' not in client.get("/boxes/A02").text


def test_a_correction_brings_it_too(client: Client, room: Path) -> None:
    with open_book(room) as book:
        fact = write(book, [SeenInBox(box="A02", word="mould")], pen=evening_pen(3)).entries[0].id
    answer = posted(client, f"/facts/{fact}/correct", form=f"/facts/{fact}", word="none_seen")
    assert f"Mind: {WAIT}" in words(answer.text)


def test_the_facts_of_another_box_are_not_confirmed_here(client: Client, room: Path) -> None:
    with open_book(room) as book:
        fact = write(book, [SeenInBox(box="A03", word="ants")], pen=evening_pen(3)).entries[0].id
    assert "Written:" not in client.get(f"/boxes/A02?written={fact}").text
    assert "Written:" in client.get(f"/boxes/A03?written={fact}").text
    assert client.get("/boxes/A03?written=nothing").status_code == 200


def test_a_sheet_brings_each_caution_once(empty: Client) -> None:
    page = upload(empty, "boxes.csv", b"Box;Litres\nA01;3\nA02;3\n")
    taken = taken_in(empty, page.text, str(page.url))
    assert 'class="mind"' not in taken
    rows = "2026-01-02;A01;leaf litter\n2026-01-03;A02;leaf litter\n2026-01-04;A02;none seen\n"
    page = upload(empty, "journal.csv", f"Date;Box;What\n{rows}".encode())
    taken = taken_in(empty, page.text, str(page.url))
    assert taken.count('class="mind"') == 2
    assert f"Mind: {DUST}" in words(taken)
    assert f"Mind: {WAIT}" in words(taken)


def taken_in(client: Client, html: str, address: str) -> str:
    return client.post(address, data={"_csrf_token": token(html), "do": "take"}).text
