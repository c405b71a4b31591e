"""Labels as a page, as a file, and the address their codes open."""

from typing import Any

import pypdfium2
import pytest
import zxingcpp
from httpx import Response

from mancary.paper.qr import label_text
from tests.paper.test_label_reading import code, in_a_room, jpeg
from tests.web.conftest import Client, token, words


def test_the_page_leads_to_a_sheet_that_is_read_back(client: Client) -> None:
    page = client.get("/labels")
    assert page.status_code == 200
    assert 'action="/labels/sheet"' in page.text
    made = client.get("/labels/sheet", params={"boxes": "A05, A06", "size": "63.5x38.1"})
    assert made.headers["content-type"] == "application/pdf"
    picture = pypdfium2.PdfDocument(made.content)[0].render(scale=150 / 72).to_pil()
    read = {one.text for one in zxingcpp.read_barcodes(picture)}
    assert {text.rpartition("/")[2] for text in read} == {"A05", "A06"}
    assert all(text.startswith("HTTP://MANCARY.LOCAL:8714/B/") for text in read)


@pytest.mark.parametrize("address", ["/B/A05", "/b/a05", "/B/a05"])
def test_what_stands_on_a_label_opens_the_card_in_either_case(client: Client, address: str) -> None:
    answer = client.get(address, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/boxes/A05"


def test_a_label_of_no_box_says_so(client: Client) -> None:
    answer = client.get("/B/Z99")
    assert answer.status_code == 404
    assert "no box Z99" in words(answer.text)


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"boxes": "Z99"}, "no box Z99"),
        ({"first": "many"}, "whole number"),
        ({"first": "99"}, "places 1 to 21"),
        ({"size": "1x1"}, "no sheet known"),
        ({"shelf": "Z"}, "no shelf Z"),
    ],
)
def test_what_cannot_be_printed_is_said_on_the_page(
    client: Client, asked: dict[str, str], says: str
) -> None:
    answer = client.get("/labels/sheet", params=asked)
    assert answer.status_code in {404, 422}
    assert says in words(answer.text)


def read_label(client: Client, *, picture: bytes = b"", code: str = "") -> Response:
    fields = {"_csrf_token": token(client.get("/read-label").text), "code": code}
    files = {"label": ("label.jpg", picture, "image/jpeg")}
    return client.post("/read-label", data=fields, files=files, follow_redirects=False)


def test_a_picture_of_a_label_opens_its_card(client: Client) -> None:
    picture = jpeg(in_a_room(code(label_text("http://an-older-address:8714", "A05"))))
    answer = read_label(client, picture=picture)
    assert (answer.status_code, answer.headers["location"]) == (303, "/boxes/A05")


def test_a_code_that_is_typed_opens_its_card(client: Client) -> None:
    answer = read_label(client, code=" a05 ")
    assert (answer.status_code, answer.headers["location"]) == (303, "/boxes/A05")


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({}, "Take a picture of a label, or type the code"),
        ({"code": "Z99"}, "no box Z99"),
        ({"picture": b"no picture"}, "This is not a picture"),
        ({"picture": jpeg(code("wifi:x"))}, "not of a label of this book: wifi:x"),
        ({"picture": jpeg(in_a_room(code("x"), blur=25))}, "No code was found"),
    ],
)
def test_what_is_not_read_is_said(client: Client, asked: dict[str, Any], says: str) -> None:
    answer = read_label(client, **asked)
    assert answer.status_code == 422
    assert says in words(answer.text)
