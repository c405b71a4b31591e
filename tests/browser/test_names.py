"""What a screen reader lists: each link, button and field has a name, and the name means one thing."""

import re
from collections import defaultdict

import pytest
from playwright.sync_api import Browser, Page

from mancary.web.reading import COOKIE
from tests.browser.chromium import NARROW, PHONE, opened
from tests.browser.test_pages import PAGES, the_sheet

pytestmark = pytest.mark.browser
_LINE = re.compile(
    r"\s*- '?(link|button|textbox|searchbox|combobox|checkbox|radio|spinbutton)\b(?: \"((?:[^\"\\]|\\.)*)\")?"
)  # fmt: skip


def faults(page: Page) -> list[str]:
    """Names that are missing, links that say the same and lead elsewhere, buttons of one name.

    Read off the page's accessibility tree (WAI-ARIA 1.2 names) as Playwright writes it down; one
    name for one purpose is WCAG 2.2, 2.4.9 and 3.2.4.
    """
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    lines = page.locator("body").aria_snapshot().splitlines()
    leads: dict[str, set[str]] = defaultdict(set)
    pressed: dict[str, int] = defaultdict(int)
    found: list[str] = []
    for at, line in enumerate(lines):
        if not (read := _LINE.match(line)):
            continue
        role, name = read.groups()
        if not name:
            found.append(f"no name: {line.strip()}")
        elif role == "link":
            leads[name].update(one.strip() for one in lines[at + 1 : at + 3] if "/url:" in one)
        elif role == "button":
            pressed[name] += 1
    found += [f"{name} leads to {len(to)} places" for name, to in leads.items() if len(to) > 1]
    return found + [f"{name} stands on {n} buttons" for name, n in pressed.items() if n > 1]


def test_every_name_is_said_and_means_one_thing(browser: Browser, room_at: str) -> None:
    found: dict[str, list[str]] = {}
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        for address in (*PAGES, "/?today=true"):
            page.goto(room_at + address)
            found[address] = faults(page)
        the_sheet(page, room_at)
        found["a sheet"] = faults(page)
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
            found[address] = faults(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= NARROW["width"], address
    assert {address: said for address, said in found.items() if said} == {}


def test_a_name_taken_away_or_used_twice_would_be_seen(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{room_at}/boxes")
        page.evaluate("document.querySelector('label[for=q]').remove()")
        page.evaluate("document.querySelectorAll('.register a').forEach(one => one.text = 'Box')")
        page.evaluate("document.querySelector('.find button').after(document.querySelector('.find button').cloneNode(true))")  # fmt: skip
        said = "; ".join(faults(page))
    assert re.search(r"no name: - searchbox.*Box leads to \d\d.*Find stands on 2 buttons", said), said  # fmt: skip
