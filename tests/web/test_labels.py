"""Labels as a page, as a file, and the address their codes open."""

import pypdfium2
import pytest
import zxingcpp

from tests.web.conftest import Client, words


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
