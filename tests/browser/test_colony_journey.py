"""A keeper finds the failing colony from the watch, sees why, counts it, and asks what may go.

On the invented demonstration room; no number of it is a check value.
"""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from mancary.book import open_book
from mancary.usecases.grow import grow
from mancary.usecases.pen import Pen
from tests.browser.chromium import DESK, PHONE, opened
from tests.browser.serving import served
from tests.browser.visits import look

pytestmark = pytest.mark.browser
NOW = datetime(2026, 11, 25, 18, 30, tzinfo=UTC)
TODAY = NOW.date()
FAILING = "D11"
THRIVING = "A05"


@pytest.fixture
def at(demo: Path) -> Iterator[str]:
    with served(demo, pen=Pen(clock=lambda: NOW), today=lambda: TODAY) as address:
        yield address


def percent(words: str) -> float:
    """The chance a sentence of the watch begins with."""
    if words.startswith("under"):
        return 0.5
    found = re.match(r"(?:over )?(\d+)\s%", words)
    assert found, words
    return float(found[1])


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_from_the_watch_to_a_count_and_to_saturdays_fair(
    browser: Browser,
    demo: Path,
    at: str,
    script: bool,  # noqa: FBT001
) -> None:
    with opened(browser, size=PHONE, script=script) as context:
        page = context.new_page()
        page.goto(at)
        page.get_by_role("link", name="Watch", exact=True).first.tap()
        first = page.locator(".onwatch > li").first
        expect(first.locator(".watchbox")).to_have_text(FAILING)
        chance = first.locator(".chance").inner_text()
        first.locator(".watchbox").tap()

        watched = page.locator("section[aria-labelledby=watch]")
        expect(watched.get_by_text(chance).first).to_be_visible()
        expect(watched.get_by_role("heading", name="Why")).to_be_visible()
        assert re.search(r"(raised|lowered) it from", watched.inner_text())
        assert watched.locator("ol li").count() >= 2

        page.get_by_role("link", name="Count it").tap()
        page.get_by_text("The whole box", exact=True).tap()
        form = page.locator("#count-full")
        form.get_by_label("How many animals").fill("2")
        form.get_by_role("button").tap()
        expect(page.get_by_text("Counted 2 in the whole box.")).to_be_visible()
        moved = page.locator(".moved").inner_text()
        assert f"{chance} without this count" in moved
        now = watched.locator(".chance").inner_text()
        assert now in moved
        assert percent(now) > percent(chance) + 10
        expect(page.get_by_text("bound by watch")).to_be_visible()

        page.goto(f"{at}/boxes/{THRIVING}")
        page.get_by_role("link", name="How it goes").tap()
        with open_book(demo) as book:
            may = grow(book, THRIVING, on=TODAY).surplus
        assert may.animals >= 20, "the demo's thriving box bears the question of the test"
        page.get_by_role("link", name="What may go").tap()
        expect(page.get_by_text(f"{may.animals} animals", exact=True)).to_be_visible()
        page.get_by_label("Show what taking so many does").fill("20")
        page.get_by_role("button", name="Show it").tap()
        expect(page.get_by_text("Taking 20 is within what may go.")).to_be_visible()
        expect(page.locator(".curve.taken")).to_be_visible()
        page.get_by_role("link", name="Write that 20 were taken").tap()
        expect(page.get_by_label("How many").locator("visible=true")).to_have_value("20")


def test_a_count_in_the_other_way_would_move_it_down(browser: Browser, at: str) -> None:
    """The sibling of the journey: many found must lower what a few found raises."""
    with opened(browser, size=PHONE, script=False) as context:
        page = context.new_page()
        page.goto(f"{at}/boxes/{FAILING}/colony")
        before = page.locator("section[aria-labelledby=watch] .chance").inner_text()
        page.get_by_text("The whole box", exact=True).tap()
        page.locator("#count-full").get_by_label("How many animals").fill("25")
        page.locator("#count-full").get_by_role("button").tap()
        expect(page.get_by_text("Counted 25 in the whole box.")).to_be_visible()
        after = page.locator("section[aria-labelledby=watch] .chance").inner_text()
        assert percent(after) < percent(before) - 10


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_its_pages_are_clear_and_fit_the_screen_and_the_thumb(
    browser: Browser, at: str, size: dict[str, int]
) -> None:
    addresses = ["/watch", f"/boxes/{THRIVING}/colony?taking=20"]
    if size == PHONE:
        addresses += [f"/boxes/{FAILING}/colony", f"/boxes/{THRIVING}/colony?taking=much"]
    bad: dict[str, object] = {}
    with opened(browser, size=size) as context:
        page = context.new_page()
        for address in addresses:
            page.goto(at + address)
            if told := look(page, size, enhanced=False).bad():
                bad[address] = told
            page.set_viewport_size({"width": size["width"], "height": size["height"]})
    assert bad == {}
