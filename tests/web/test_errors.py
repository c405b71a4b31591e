"""One table from what can go wrong to a status, as a page and as JSON."""

from pathlib import Path

import pytest
from litestar.exceptions import NotFoundException
from litestar.testing import TestClient

from mancary.book import BookTrouble
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.web.app import create_app
from mancary.web.errors import sentence_of, status_of
from mancary.web.forms import FormError
from tests.browser.bug_room import evening_pen
from tests.web.conftest import HERE, Client, words


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (FormError("day", "no"), 422),
        (UnknownSubject("box", "Z99"), 404),
        (Refusal("no"), 409),
        (BookTrouble("no"), 503),
        (NotFoundException(), 404),
        (ZeroDivisionError("secret"), 500),
    ],
)
def test_the_table(error: Exception, status: int) -> None:
    assert status_of(error) == status


def test_a_fault_of_the_program_keeps_its_words_to_itself() -> None:
    assert "secret" not in sentence_of(ZeroDivisionError("secret"))


def test_an_unknown_box_is_a_page_with_near_ones_and_a_way_back(client: Client) -> None:
    answer = client.get("/boxes/A99", headers={"referer": f"{HERE}/boxes"})
    assert answer.status_code == 404
    assert "There is no box A99 in this book." in words(answer.text)
    assert 'href="/boxes">Back' in answer.text


def test_the_way_back_never_leads_elsewhere(client: Client) -> None:
    answer = client.get("/boxes/A99", headers={"referer": "http://evil.example/boxes"})
    assert "evil" not in answer.text


@pytest.mark.parametrize("address", ["/boxes/A99.json", "/species/nope.json", "/nothing.json"])
def test_programs_are_told_in_json(client: Client, address: str) -> None:
    answer = client.get(address)
    assert answer.status_code == 404
    assert answer.json()["status"] == 404
    assert answer.json()["error"]


def test_no_book_is_said_on_every_page(tmp_path: Path) -> None:
    with TestClient(create_app(tmp_path / "none.mancary"), base_url=HERE) as client:
        for address in ("/", "/boxes", "/boxes/A01", "/check", "/take-in"):
            answer = client.get(address)
            assert answer.status_code == 503
            assert "There is no book at" in words(answer.text)
        assert client.get("/wants.json").json()["status"] == 503


def test_a_file_that_is_no_book_is_said_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.mancary"
    path.write_bytes(b"not a book at all" * 100)
    with TestClient(create_app(path), base_url=HERE) as client:
        assert client.get("/").status_code == 503
    assert path.read_bytes() == b"not a book at all" * 100


def test_a_bug_is_loud_in_the_log_and_quiet_on_the_page(
    room: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("inner secret")

    monkeypatch.setattr("mancary.web.routes.check.check", broken)
    app = create_app(room, pen=evening_pen())
    with TestClient(app, base_url=HERE, raise_server_exceptions=False) as client:
        answer = client.get("/check")
    assert answer.status_code == 500
    assert "inner secret" not in answer.text
    assert "inner secret" in caplog.text


def test_a_wrong_method_and_a_wrong_query_are_answered(client: Client) -> None:
    assert client.put("/boxes").status_code in (403, 405)
    assert client.get("/boxes?after=-1").status_code == 422
    assert "after" in words(client.get("/boxes?after=-1").text)


def test_bytes_where_words_belong_are_refused_and_other_decoding_faults_are_ours(
    client: Client,
) -> None:
    client.get("/shelves")
    headers = {"x-csrftoken": next(iter(client.cookies.values()))}
    log = {"log": (None, b"\x89PNG\r\n\x1a\n")}
    answer = client.post("/shelves/logger", files=log, headers=headers)
    assert answer.status_code == 400
    assert "no text" in words(answer.text)
    assert status_of(UnicodeDecodeError("utf-8", b"\x89", 0, 1, "invalid")) == 500
