"""A small invented room, copied for each test, and a client that speaks to the app in memory."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from httpx import Response
from litestar import Litestar
from litestar.testing import TestClient

from mancary.book import open_book
from mancary.husbandry.entries import Entry
from mancary.usecases.learning import learn
from mancary.web.app import create_app
from tests.browser.bug_room import TODAY, evening_pen, make_room

Client = TestClient[Litestar]
HERE = "http://127.0.0.1"


@pytest.fixture(scope="session")
def first_room(tmp_path_factory: pytest.TempPathFactory) -> Path:
    room = make_room(tmp_path_factory.mktemp("room") / "room.mancary", boxes=32, days=90)
    learn(room, on=TODAY)
    return room


@pytest.fixture
def room(first_room: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(first_room, tmp_path / "room.mancary"))


@pytest.fixture(scope="module")
def reader(first_room: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Client]:
    """A client of one room for all tests of a module that write nothing; held to it at the end."""
    room = Path(shutil.copy(first_room, tmp_path_factory.mktemp("read") / "room.mancary"))
    before = entries(room)
    with TestClient(create_app(room, pen=evening_pen(9)), base_url=HERE) as made:
        yield made
    assert entries(room) == before


@pytest.fixture
def client(room: Path) -> Iterator[Client]:
    with TestClient(create_app(room, pen=evening_pen(9)), base_url=HERE) as made:
        yield made


@pytest.fixture
def empty(path: Path, book: object) -> Iterator[Client]:
    """A client of the empty book of all tests."""
    with TestClient(create_app(path, pen=evening_pen(9)), base_url=HERE) as made:
        yield made


def token(html: str) -> str:
    """The hidden token of the first form on a page."""
    found = re.search(r'name="_csrf_token" value="([0-9a-f]+)"', html)
    assert found, "the page has no form with a token"
    return found.group(1)


def posted(client: Client, address: str, *, form: str = "", **fields: str) -> Response:
    """Opens the page that holds the form, then sends it as a browser without script would."""
    data = {"_csrf_token": token(client.get(form or address).text), **fields}
    return client.post(address, data=data)


def upload(client: Client, name: str, data: bytes) -> Response:
    """Chooses a file on the page that takes in sheets."""
    fields = {"_csrf_token": token(client.get("/take-in").text)}
    return client.post("/take-in", data=fields, files={"sheet": (name, data)})


def words(html: str) -> str:
    """What a page says, without its tags."""
    body = html[html.index("<main") :]
    return " ".join(re.sub(r"<[^>]+>", " ", body).split())


def entries(room: Path) -> list[Entry]:
    with open_book(room) as book:
        return list(book.entries())


def newest(room: Path) -> Entry:
    return entries(room)[-1]


def work(client: Client, box: str, do: str, **fields: str) -> Response:
    return posted(client, f"/boxes/{box}/work", do=do, **fields)


def fault(html: str, do: str, field: str = "") -> str:
    """The sentence beside a field, or at the head of its form."""
    found = re.search(rf'id="fault-{do}-{field}">(.*?)</strong>', html)
    assert found, f"no fault at {do}-{field}"
    return words(f"<main>{found.group(1)}")
