"""Who may do what: a table, row by row, over every address of the app."""

import re
import shutil
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from litestar.testing import TestClient
from litestar.types import ASGIApp, Receive, Scope, Send

from mancary.access import Doorkeeper
from mancary.book import open_book
from mancary.husbandry.facts import CareGiven, Noted
from mancary.web.app import create_app, doorkeeper
from mancary.web.reach import Reach
from tests.browser.bug_room import TODAY, evening_pen
from tests.web.conftest import entries, token, words

NETWORK = Reach(
    names=frozenset({"mancary.local", "192.168.1.5"}), addresses=("http://mancary.local:8714",)
)
THERE = "http://mancary.local"

ANYONE = {
    "/worker.js",
    "/static/",
    "/pair",
    "/pair-with/{code}",
    "/stand-in/{token}",
    "/authority",
    "/authority.crt",
    "/reading",
    "/manifest.webmanifest",
}
STAND_IN = {"/stand-in", "/leave", "/json/fresh"}
DESK = {"/phones"}
"""All other addresses are the keeper's, at the desk or on a paired phone."""


class At:
    """The app as somebody at another address of the network reaches it."""

    def __init__(self, app: ASGIApp, address: str) -> None:
        self.app, self.address = app, address

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        scope["client"] = (self.address, 5000)
        await self.app(scope, receive, send)


Caller = TestClient[At]


class House:
    """One app, and callers of each role."""

    def __init__(self, room: Path) -> None:
        self.pen = evening_pen(12)
        self.keeper: Doorkeeper = doorkeeper(room, self.pen, lambda: TODAY)
        self.app = create_app(
            room, pen=self.pen, today=lambda: TODAY, keeper=self.keeper, reach=NETWORK
        )
        self.room = room

    def caller(self, address: str = "192.168.1.20", there: str = THERE) -> Caller:
        return TestClient(At(self.app, address), base_url=there)

    def signed(self, role: str) -> Caller:
        if role == "desk":
            return self.caller("127.0.0.1", "http://127.0.0.1")
        made = self.caller()
        if role == "keeper":
            page = made.get("/pair")
            told = {"_csrf_token": token(page.text), "code": self.keeper.code.shown(), "name": "P"}
            assert made.post("/pair", data=told, follow_redirects=False).status_code == 303
        if role == "stand_in":
            made.get(f"/stand-in/{self.pass_token()}", follow_redirects=False)
        return made

    def pass_token(self) -> str:
        return self.keeper.give_pass("Ada", leaving=TODAY, back=TODAY + timedelta(days=14))


@pytest.fixture(scope="module")
def house(first_room: Path, tmp_path_factory: pytest.TempPathFactory) -> House:
    copy = tmp_path_factory.mktemp("house") / "room.mancary"
    return House(Path(shutil.copy(first_room, copy)))


def handled(house: House) -> Iterator[tuple[str, str]]:
    for route in house.app.routes:
        for method in getattr(route, "methods", ()):
            if method in ("GET", "POST"):
                yield method, re.sub(r"\{(\w+):\w+\}", r"{\1}", route.path)


def least(path: str) -> str:
    if path in ANYONE or path.startswith("/static"):
        return "anyone"
    if path in STAND_IN:
        return "stand_in"
    return "desk" if path in DESK else "keeper"


ORDER = ("anyone", "stand_in", "keeper", "desk")


@pytest.mark.parametrize("role", ORDER)
def test_every_address_opens_to_those_it_is_for_and_to_no_one_else(house: House, role: str) -> None:
    caller = house.signed(role)
    asked = 0
    for method, path in handled(house):
        if path == "/leave" or (role == "anyone" and path == "/pair" and method == "POST"):
            continue  # would sign the caller out or in
        address = re.sub(r"\{\w+\}", "nothing", path)
        told = {"x-csrftoken": csrf(caller)}
        answer = caller.request(method, address, headers=told, follow_redirects=False)
        may = ORDER.index(role) >= ORDER.index(least(path))
        if answer.status_code == 404 and path.endswith("openapi.json"):
            continue  # the document stands at another address, which is asked for too
        if path == "/stand-in/{token}":
            assert answer.status_code == 401, path
        elif path == "/stand-in" and role in ("keeper", "desk"):
            assert answer.status_code == 403, "the sheet is of one pass, and they have none"
        elif may:
            assert answer.status_code not in (401, 403), (role, method, path)
        else:
            assert answer.status_code == (401 if role == "anyone" else 403), (role, method, path)
        asked += 1
    assert asked > 60


def csrf(caller: Caller) -> str:
    caller.get("/pair")
    return next(
        value for name, value in caller.cookies.items() if not name.startswith("mancary_in")
    )


def test_the_table_can_fail(house: House) -> None:
    """A page that forgot to say who may see it is the keeper's, not anyone's."""
    assert house.caller().get("/boxes").status_code == 401
    assert house.signed("keeper").get("/boxes").status_code == 200


def test_a_stranger_learns_nothing_of_the_book(house: House) -> None:
    stranger = house.caller()
    for address in ("/", "/boxes/A05", "/nothing-here", "/boxes/Z99", "/watch.json", "/b/A05"):
        text = stranger.get(address).text
        assert "Fernhollow" not in text
        assert "A05" not in text
        assert "<nav" not in text


@pytest.mark.parametrize(
    ("client", "host", "status"),
    [
        ("192.168.1.20", "127.0.0.1", 421),
        ("192.168.1.20", "localhost:8714", 421),
        ("192.168.1.20", "evil.example", 421),
        ("127.0.0.1", "evil.example", 421),
        ("192.168.1.20", "192.168.1.5", 401),
        ("127.0.0.1", "127.0.0.1", 200),
        ("::1", "[::1]:8714", 200),
    ],
)
def test_nobody_passes_for_the_desk(house: House, client: str, host: str, status: int) -> None:
    assert house.caller(client).get("/boxes", headers={"host": host}).status_code == status


def test_the_cookie_is_for_the_server_alone(house: House) -> None:
    caller = house.caller()
    told = {"_csrf_token": token(caller.get("/pair").text), "code": house.keeper.code.shown(),
            "name": "Kim's phone"}  # fmt: skip
    answer = caller.post("/pair", data=told, follow_redirects=False)
    (cookie,) = [one for one in answer.headers.get_list("set-cookie") if "mancary_in" in one]
    for part in ("HttpOnly", "SameSite=lax", "Path=/", f"Max-Age={400 * 86400}"):
        assert part.lower() in cookie.lower()
    assert "secure" not in cookie.lower()


def test_wrong_codes_end_in_429_with_the_time_to_wait(first_room: Path, tmp_path: Path) -> None:
    caller = House(Path(shutil.copy(first_room, tmp_path / "r.mancary"))).caller("192.168.1.77")
    told = {"_csrf_token": token(caller.get("/pair").text), "code": "1", "name": "Guesser"}
    statuses = [caller.post("/pair", data=told).status_code for _ in range(6)]
    assert statuses == [422] * 5 + [429]
    assert int(caller.post("/pair", data=told).headers["retry-after"]) > 500


def test_the_desk_shows_code_and_phones_and_signs_one_out(house: House) -> None:
    phone, desk = house.signed("keeper"), house.signed("desk")
    page = desk.get("/phones")
    assert house.keeper.code.shown() in page.text
    assert "http://mancary.local:8714" in page.text
    assert phone.get("/boxes").status_code == 200
    (gone, *_) = house.keeper.access().phones[::-1]
    told = {"_csrf_token": token(page.text), "do": "remove-phone", "id": gone.id}
    assert desk.post("/phones", data=told).status_code == 200
    assert phone.get("/boxes").status_code == 401


def test_a_stand_in_sees_the_sheet_and_writes_it_once(house: House) -> None:
    caller = house.signed("stand_in")
    page = caller.get("/stand-in")
    assert page.status_code == 200
    assert "For the stand-in" in words(page.text)
    boxes = re.findall(r'name="wetted" value="([^"]+)"', page.text)
    assert boxes
    told = {"_csrf_token": token(page.text), "wetted": boxes[:2], "note": "A smell in the room"}
    before = len(entries(house.room))
    first = caller.post("/stand-in", data=told)
    assert "3 written down" in words(first.text)
    again = caller.post("/stand-in", data=told)
    assert again.status_code == 200
    fresh = entries(house.room)[before:]
    assert len(fresh) == 3
    cares = [one.fact for one in fresh if isinstance(one.fact, CareGiven)]
    assert {f"{one.note[-1]}|{one.box}" for one in cares} == set(boxes[:2])
    assert all(one.care == "mist" and one.note.startswith("Ada, standing in") for one in cares)
    assert [one.fact.text for one in fresh if isinstance(one.fact, Noted)] == [
        "Ada, standing in: A smell in the room"
    ]


def test_a_stand_in_writes_only_what_stands_on_the_sheet(house: House) -> None:
    caller = house.signed("stand_in")
    told = {"_csrf_token": token(caller.get("/stand-in").text), "wetted": "99|A05"}
    before = len(entries(house.room))
    answer = caller.post("/stand-in", data=told)
    assert answer.status_code == 422
    assert "not to be wetted" in words(answer.text)
    assert len(entries(house.room)) == before


def test_leaving_signs_the_phone_out_for_good(house: House) -> None:
    phone = house.signed("keeper")
    kept = dict(phone.cookies)
    told = {"_csrf_token": token(phone.get("/boxes/A05").text)}
    assert phone.post("/leave", data=told).status_code == 200
    phone.cookies.update(kept)
    assert phone.get("/boxes").status_code == 401


def test_with_a_password_the_desk_asks_for_it(first_room: Path, tmp_path: Path) -> None:
    house = House(Path(shutil.copy(first_room, tmp_path / "r.mancary")))
    desk = house.signed("desk")
    page = desk.get("/phones")
    told = {"_csrf_token": token(page.text), "do": "password", "password": "litter and hides"}
    desk.post("/phones", data=told)
    asked = desk.get("/boxes")
    assert asked.status_code == 401
    assert "Sign in" in words(asked.text)
    told = {"_csrf_token": token(asked.text), "password": "litter and hides"}
    assert desk.post("/pair", data=told).status_code == 200
    assert desk.get("/boxes").status_code == 200


def test_the_book_itself_holds_no_secret(house: House) -> None:
    with open_book(house.room) as book:
        kinds = {one.fact.kind for one in book.entries()}
    assert not any("phone" in kind or "pass" in kind for kind in kinds)
