"""The JSON twins give what the use-cases give; OpenAPI describes them; no page of anybody's is served."""

from datetime import date
from pathlib import Path

import msgspec

from mancary.book import open_book
from mancary.husbandry.sentences import plain
from mancary.usecases.away import plan_absence
from mancary.usecases.box_card import box_card
from mancary.usecases.hygrometers import hygrometers
from mancary.usecases.species_page import species_page
from mancary.usecases.vents import Wish, vents_for
from mancary.usecases.wants import wants_list
from tests.browser.bug_room import TODAY
from tests.web.conftest import Client


def test_the_twins_say_what_the_use_cases_say(client: Client, room: Path) -> None:
    with open_book(room) as book:
        same = {
            "/wants.json": wants_list(book, on=TODAY),
            "/boxes/a01.json": box_card(book, "A01", on=TODAY),
            "/away.json?back=2026-12-09&heat=6": plan_absence(
                book, leaving=TODAY, back=date(2026, 12, 9), heat_c=6
            ),
            "/vents.json?box=A01&mm=3&humidity=55": vents_for(
                book, Wish(box="A01", drills_mm=(3.0,), humidity=0.55)
            ),
            "/hygrometer.json": hygrometers(book, on=TODAY),
            "/species/porcellio-laevis.json": species_page(book, "porcellio-laevis"),
        }
    for address, told in same.items():
        answer = client.get(address)
        assert answer.headers["content-type"] == "application/json"
        assert answer.json() == msgspec.json.decode(msgspec.json.encode(told, enc_hook=plain))


def test_openapi_names_the_twins_and_the_forms_as_they_are_asked_for(client: Client) -> None:
    paths = client.get("/openapi.json").json()["paths"]
    assert {
        "/wants.json",
        "/away.json",
        "/vents.json",
        "/hygrometer.json",
        "/boxes/{box}.json",
        "/species/{slug}.json",
        "/",
        "/boxes/{box}",
    } <= set(paths)
    assert not [path for path in paths if path.startswith("/json")]
    assert "post" in paths["/boxes/{box}"]


def test_no_page_of_somebody_elses_is_served(client: Client) -> None:
    for address in ("/schema", "/schema/swagger", "/schema/redoc", "/docs", "/swagger", "/redoc"):
        assert client.get(address).status_code == 404
    for address in ("/openapi.json", "/json/openapi", "/json/openapi/document"):
        assert "html" not in client.get(address).headers["content-type"]
        assert "cdn" not in client.get(address).text.lower()


def test_programs_are_told_what_cannot_be_asked(client: Client) -> None:
    for asked, status in (
        ("/away.json?leaving=2026-12-09&back=2026-12-01", 409),
        ("/away.json?back=soon", 422),
        ("/vents.json?litres=many", 422),
    ):
        answer = client.get(asked)
        assert answer.status_code == status
        assert answer.json()["error"]
