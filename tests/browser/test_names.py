"""What a screen reader lists: each link, button and field has a name, and the name means one thing."""

import re

import pytest
from playwright.sync_api import Browser

from mancary.web.reading import COOKIE
from tests.browser.chromium import NARROW, PHONE, opened
from tests.browser.names import name_faults
from tests.browser.visits import PAGES, Visit

pytestmark = pytest.mark.browser


def test_every_name_is_said_and_means_one_thing(
    browser: Browser, room_at: str, on_phone: Visit
) -> None:
    found = {address: seen.names for address, seen in on_phone.pages.items()}
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{room_at}/?today=true")
        found["/?today=true"] = name_faults(page)
    assert len(found) > len(PAGES)
    assert {address: said for address, said in found.items() if said} == {}


def test_in_another_language_and_large_type_it_is_no_less_so(
    browser: Browser, room_at: str
) -> None:
    """Swedish has longer words, the night's letters are larger: all of it still fits 320 pixels."""
    found: dict[str, list[str]] = {}
    with opened(browser, size=NARROW) as context:
        context.add_cookies([{"name": COOKIE, "value": "sv.us.night", "url": room_at}])
        page = context.new_page()
        for address in (*PAGES, "/?today=true"):
            page.goto(room_at + address)
            found[address] = name_faults(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= NARROW["width"], address
    assert {address: said for address, said in found.items() if said} == {}


def test_a_name_taken_away_or_used_twice_would_be_seen(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{room_at}/boxes")
        page.evaluate("document.querySelector('label[for=q]').remove()")
        page.evaluate("document.querySelectorAll('.register a').forEach(one => one.text = 'Box')")
        page.evaluate("document.querySelector('.find button').after(document.querySelector('.find button').cloneNode(true))")  # fmt: skip
        said = "; ".join(name_faults(page))
    assert re.search(r"no name: - searchbox.*Box leads to \d\d.*Find stands on 2 buttons", said), said  # fmt: skip
