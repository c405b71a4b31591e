"""A phone is let in at the desk, a stand-in is given one sheet, and both are shown out again."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from mancary.access.tls import Vouching
from mancary.book import open_book
from mancary.husbandry.facts import CareGiven
from mancary.web.reach import Reach
from tests.browser.bug_room import EVENING, TODAY, evening_pen, make_room
from tests.browser.chromium import DESK, PHONE, arguments, executable, opened
from tests.browser.names import name_faults
from tests.browser.serving import served_to_network
from tests.browser.visits import look, violations

pytestmark = pytest.mark.browser
NAME = "mancary.local"


@pytest.fixture
def here(play: Playwright) -> Iterator[Browser]:
    """A browser that finds the name of the home network on this machine."""
    mapped = f"--host-resolver-rules=MAP {NAME} 127.0.0.1"
    browser = play.chromium.launch(executable_path=executable(), args=[*arguments(), mapped])
    yield browser
    browser.close()


@pytest.fixture
def room(tmp_path: Path) -> Path:
    return make_room(tmp_path / "room.mancary", boxes=16, days=60)


def clear(page: Page) -> None:
    """Nothing for axe to find, each name of its own, nothing sticking out to the side."""
    assert violations(page, enhanced=False) == []
    assert name_faults(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_phone_is_let_in_seen_and_signed_out(
    here: Browser,
    room: Path,
    script: bool,  # noqa: FBT001
) -> None:
    open_to = Reach(names=frozenset({NAME}), addresses=(f"http://{NAME}",))
    with (
        served_to_network(room, evening_pen(9), open_to, name=NAME) as (at, _),
        opened(here, size=DESK, script=script) as at_desk,
        opened(here, size=PHONE, script=script) as in_hand,
    ):
        desk, phone = at_desk.new_page(), in_hand.new_page()
        desk.goto(f"http://127.0.0.1:{urlsplit(at).port}/phones")
        expect(desk.locator(".qr svg").first).to_be_visible()
        code = desk.locator(".code").inner_text()

        phone.goto(f"{at}/boxes/A01")
        expect(phone.get_by_role("heading", level=1)).to_have_text("Pair this phone")
        assert "A01" not in phone.locator("main").inner_text()
        assert "Fernhollow" not in phone.content()
        phone.get_by_label("Code shown at the desk").fill("000 000")
        phone.get_by_label("What this phone is called").fill("Rack phone")
        phone.get_by_role("button", name="Pair this phone").tap()
        expect(phone.get_by_role("alert")).to_be_visible()
        phone.get_by_label("Code shown at the desk").fill(code)
        phone.get_by_role("button", name="Pair this phone").tap()
        expect(phone.get_by_role("heading", level=1)).to_contain_text("round")
        kept = next(one for one in in_hand.cookies() if one["name"].startswith("mancary_in_"))
        assert (kept["httpOnly"], kept["sameSite"]) == (True, "Lax")
        phone.goto(f"{at}/phones")
        expect(phone.get_by_role("heading", level=1)).not_to_have_text("Phones")

        desk.reload()
        assert desk.locator(".code").inner_text() != code
        desk.get_by_role("button", name="Sign out Rack phone").click()
        expect(desk.get_by_text("None yet.")).to_be_visible()
        phone.goto(at)
        expect(phone.get_by_role("heading", level=1)).to_have_text("Pair this phone")


def test_a_stand_in_sees_and_records_the_one_sheet_and_nothing_else(
    here: Browser, room: Path
) -> None:
    open_to = Reach(names=frozenset({NAME}), addresses=(f"http://{NAME}",))
    with (
        served_to_network(room, evening_pen(9), open_to, name=NAME) as (at, keeper),
        opened(here, size=DESK) as at_desk,
        opened(here, size=PHONE) as in_hand,
    ):
        desk, phone = at_desk.new_page(), in_hand.new_page()
        desk.goto(f"http://127.0.0.1:{urlsplit(at).port}/phones")
        desk.get_by_label("Who stands in").fill("Robin")
        desk.get_by_label("Leaving", exact=True).fill(TODAY.isoformat())
        desk.get_by_label("Back", exact=True).fill((TODAY + timedelta(days=16)).isoformat())
        desk.get_by_role("button", name="Give a pass").click()
        link = desk.locator(".just .breaks").inner_text()
        clear(desk)
        desk.reload()
        phone.set_content(f'<a href="{at}{urlsplit(link).path}">as it came by mail</a>')
        phone.get_by_role("link").tap()
        expect(phone.get_by_role("heading", level=1)).to_have_text("For the stand-in")
        clear(phone)
        told = phone.locator("label:has(input[name=wetted])").first
        name = told.locator("b").inner_text()
        told.tap()
        phone.get_by_label("What you noticed").first.fill("All well")
        phone.get_by_role("button", name="Write visit 1 down").tap()
        expect(phone.get_by_role("status").filter(has_text="written down")).to_be_visible()
        for address in ("/", "/boxes", f"/boxes/{name}", "/phones", "/away"):
            phone.goto(at + address)
            expect(phone.get_by_role("heading", level=1)).not_to_contain_text(name)
            assert phone.locator(".round, .register").count() == 0
        keeper.remove_pass(keeper.access().passes[-1].id)
        phone.goto(f"{at}/stand-in")
        expect(phone.get_by_role("heading", level=1)).not_to_have_text("For the stand-in")
    with open_book(room) as book:
        given = [one for one in book.entries() if "Robin" in getattr(one.fact, "note", "")]
    pours = [one.fact for one in given if isinstance(one.fact, CareGiven)]
    assert [(one.box, one.care) for one in pours] == [(name, "mist")]


def test_the_pages_before_the_door_are_clear_at_every_size(here: Browser, room: Path) -> None:
    vouched = Vouching(room, NAME, ["192.168.1.5"], lambda: EVENING)
    open_to = Reach(
        names=frozenset({NAME}), addresses=(f"https://{NAME}",), authority=vouched.authority.der
    )
    with served_to_network(room, evening_pen(9), open_to, name=NAME) as (at, _):
        for size in (PHONE, DESK):
            for address in ("/pair", "/authority"):
                with opened(here, size=size) as context:
                    page = context.new_page()
                    page.goto(at + address)
                    assert look(page, size, enhanced=False).bad() == {}
