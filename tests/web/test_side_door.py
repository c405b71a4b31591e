"""Beside HTTPS: the desk goes on, the network is sent on, and the certificate can be fetched."""

import shutil
import socket
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import httpx
import pytest
from litestar.testing import TestClient

from mancary.access.authority import make_authority
from mancary.access.fingerprints import fingerprint
from mancary.cli.call import Serving
from mancary.web.app import create_app
from mancary.web.reach import Reach
from mancary.web.side_door import SideDoor
from tests.browser.bug_room import TODAY, evening_pen
from tests.web.test_entering import At

DER = make_authority(("mancary.local",), datetime.now(UTC)).der
REACH = Reach(
    names=frozenset({"mancary.local", "192.168.1.5"}),
    addresses=("https://mancary.local:8715",),
    authority=DER,
)


@pytest.fixture(scope="module")
def door(first_room: Path, tmp_path_factory: pytest.TempPathFactory) -> SideDoor:
    copy = shutil.copy(first_room, tmp_path_factory.mktemp("side") / "room.mancary")
    app = create_app(Path(copy), pen=evening_pen(12), today=lambda: TODAY, reach=REACH)
    return SideDoor(app, REACH, 8715)


def caller(door: SideDoor, address: str, there: str) -> TestClient[At]:
    return TestClient(At(door, address), base_url=there)


@pytest.fixture
def phone(door: SideDoor) -> TestClient[At]:
    return caller(door, "192.168.1.20", "http://mancary.local:8714")


@pytest.mark.parametrize(
    ("asked", "onward"),
    [
        ("/", "https://mancary.local:8715/"),
        ("/b/A05", "https://mancary.local:8715/b/A05"),
        ("/boxes?find=A05", "https://mancary.local:8715/boxes?find=A05"),
        ("/PAIR/1234", "https://mancary.local:8715/PAIR/1234"),
    ],
)
def test_a_phone_is_sent_on_to_https(phone: httpx.Client, asked: str, onward: str) -> None:
    answer = phone.get(asked, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (307, onward)


def test_what_is_posted_in_the_open_is_not_passed_on(phone: httpx.Client) -> None:
    answer = phone.post("/pair", data={"code": "1"}, follow_redirects=False)
    assert answer.status_code == 421


def test_a_stranger_name_gets_nowhere(door: SideDoor) -> None:
    answer = caller(door, "192.168.1.20", "http://evil.example").get("/", follow_redirects=False)
    assert answer.status_code == 421
    assert "location" not in answer.headers


def test_the_certificate_and_its_steps_are_open_to_all(phone: httpx.Client) -> None:
    page = phone.get("/authority")
    assert page.status_code == 200
    assert fingerprint(DER) in page.text
    assert "Certificate Trust Settings" in page.text
    assert "192.168.0.0/16" in page.text
    assert "Fernhollow" not in page.text
    file = phone.get("/authority.crt")
    assert file.content == DER
    assert file.headers["content-type"] == "application/x-x509-ca-cert"


def test_the_desk_goes_on_as_ever_and_shows_the_same_fingerprint(door: SideDoor) -> None:
    desk = caller(door, "127.0.0.1", "http://127.0.0.1:8714")
    assert desk.get("/", follow_redirects=False).status_code == 200
    page = desk.get("/phones").text
    assert fingerprint(DER) in page
    assert "http://mancary.local:8714/authority" in page


def test_without_an_authority_there_is_nothing_to_fetch(first_room: Path) -> None:
    app = create_app(first_room, pen=evening_pen(12), today=lambda: TODAY)
    with TestClient(app, base_url="http://127.0.0.1") as plain:
        assert plain.get("/authority").status_code == 404
        assert plain.get("/authority.crt").status_code == 404
        assert "/authority" not in plain.get("/phones").text


def free_pair() -> int:
    """A port of this machine whose neighbour above is free too."""
    while True:
        with socket.socket() as one, socket.socket() as other:
            one.bind(("127.0.0.1", 0))
            port: int = one.getsockname()[1]
            try:
                other.bind(("127.0.0.1", port + 1))
            except (OSError, OverflowError):
                continue
            return port


@pytest.fixture
def https_house(
    first_room: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[tuple[int, Path]]:
    """The whole program over HTTPS, on loopback, as at home at one of its addresses."""
    import uvicorn

    from mancary import serving

    book = Path(shutil.copy(first_room, tmp_path / "room.mancary"))
    port, started = free_pair(), []
    real = uvicorn.Server.__init__

    def noted(self: uvicorn.Server, config: uvicorn.Config) -> None:
        real(self, config)
        started.append(self)

    monkeypatch.setattr(uvicorn.Server, "__init__", noted)
    monkeypatch.setattr(serving, "EVERYWHERE", "127.0.0.1")
    told = Serving(path=book, port=port, today=TODAY, network=True, secure=True)
    thread = threading.Thread(target=serving.serve_at, args=(told, ["127.0.0.1"]), daemon=True)
    thread.start()
    end = time.monotonic() + 30
    while not (len(started) == 2 and all(one.started for one in started)):
        assert time.monotonic() < end, "the program did not start"
        time.sleep(0.05)
    yield port, book
    started[1].should_exit = True
    thread.join(15)
    assert not thread.is_alive()


def test_the_program_speaks_https_with_its_own_authority(https_house: tuple[int, Path]) -> None:
    import ssl

    port, book = https_house
    trusting = ssl.create_default_context(
        cadata=httpx.get(f"http://127.0.0.1:{port}/authority.crt").content
    )
    there = f"https://127.0.0.1:{port + 1}"
    with httpx.Client(verify=trusting) as phone:
        answer = phone.get(f"{there}/pair")
        assert answer.status_code == 200
        cookies = answer.headers.get_list("set-cookie")
        assert cookies
        assert all("secure" in one.lower() for one in cookies)
    with pytest.raises(httpx.ConnectError, match="CERTIFICATE_VERIFY_FAILED"):
        httpx.get(f"{there}/pair")
    assert (book.parent / "room.mancary.authority.pem").exists()
