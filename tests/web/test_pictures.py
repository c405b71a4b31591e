"""A picture sent from a phone: kept once, shown on the card, refused in words."""

import re
from pathlib import Path

from mancary.book.pictures import folder_of
from mancary.husbandry.facts import Pictured
from tests.usecases.test_pictures import photograph
from tests.web.conftest import Client, entries, newest, token, words

SENT = photograph(800, 600)


def send(client: Client, data: bytes, *, box: str = "A01", once: str = "a") -> str:
    fields = {"_csrf_token": token(client.get(f"/boxes/{box}").text), "once": once, "note": "roots"}
    files = {"picture": ("IMG_1.jpg", data, "image/jpeg")}
    return client.post(f"/boxes/{box}/picture", data=fields, files=files).text


def test_a_picture_is_kept_and_stands_on_the_card(client: Client, room: Path) -> None:
    assert "Written: a picture" in words(send(client, SENT))
    fact = newest(room).fact
    assert isinstance(fact, Pictured)
    page = client.get("/boxes/A01").text
    shown = re.search(r'<img src="([^"]+)" width="800" height="600"[^>]* alt="([^"]+)"', page)
    assert shown
    assert shown[2].endswith(": roots")
    small = client.get(shown[1])
    assert small.headers["content-type"] == "image/jpeg"
    assert small.headers["cache-control"].startswith("private")
    whole = client.get(shown[1].partition("?")[0])
    assert len(small.content) < len(whole.content)
    assert whole.content == (folder_of(room) / fact.picture).read_bytes()


def test_a_form_sent_twice_writes_one_picture(client: Client, room: Path) -> None:
    before = len(entries(room))
    send(client, SENT)
    send(client, SENT)
    assert len(entries(room)) == before + 1
    send(client, SENT, once="b")
    assert len(entries(room)) == before + 2


def test_what_is_no_picture_is_said_beside_the_field(client: Client, room: Path) -> None:
    before = len(entries(room))
    for data, sentence in ((b"hello", "This is not a picture"), (b"", "No picture was chosen.")):
        page = send(client, data)
        fault = re.search(r'id="fault-picture">([^<]+)<', page)
        assert fault
        assert sentence in fault[1]
        assert 'aria-invalid="true"' in page
    assert len(entries(room)) == before
    assert not folder_of(room).exists()


def test_nothing_but_a_picture_is_had_at_its_address(client: Client, room: Path) -> None:
    send(client, SENT)
    for name in ("0" * 64 + ".jpg", room.name, "..%2F" + room.name, "x.jpg"):
        assert client.get(f"/pictures/{name}").status_code == 404


def test_a_picture_gone_from_beside_the_book_is_told(client: Client, room: Path) -> None:
    assert "Beside the book as they were kept" not in words(client.get("/check").text)
    send(client, SENT)
    assert "Beside the book as they were kept: 1 of 1." in words(client.get("/check").text)
    fact = newest(room).fact
    assert isinstance(fact, Pictured)
    (folder_of(room) / fact.picture).unlink()
    said = words(client.get("/check").text)
    assert "Beside the book as they were kept: 0 of 1." in said
    assert fact.picture in said
