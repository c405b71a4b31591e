"""A keeper finds the failing colony from the watch, sees why, counts it, and asks what may go.

On the invented demonstration room; no number of it is a check value.
"""

import re
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from mancary.book import open_book
from mancary.demo.making import make_demo
from mancary.usecases.grow import grow
from mancary.usecases.pen import Pen
from mancary.usecases.watch import watch
from tests.browser.chromium import DESK, PHONE, opened
from tests.browser.serving import served

pytestmark = pytest.mark.browser
NOW = datetime(2026, 11, 26, 18, 30, tzinfo=UTC)
TODAY = NOW.date()
FAILING = "D11"
THRIVING = "A05"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.mancary"
    make_demo(path, on=TODAY)
    with open_book(path) as book:  # the weights are learned once for all tests
        watch(book, on=TODAY)
    return path


@pytest.fixture
def room(demo: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(demo, tmp_path / "demo.mancary"))


@pytest.fixture
def at(room: Path) -> Iterator[str]:
    with served(room, pen=Pen(clock=lambda: NOW), today=lambda: TODAY) as address:
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
    room: Path,
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
        with open_book(room) as book:
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


def faults(page: Page) -> list[str]:
    found = Axe().run(page, options={"resultTypes": ["violations"]})
    return [f"{one['id']}: {one['nodes'][0]['html'][:200]}" for one in found.response["violations"]]


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_axe_finds_nothing_and_nothing_sticks_out(
    browser: Browser,
    at: str,
    size: dict[str, int],
    dark: bool,  # noqa: FBT001
) -> None:
    found: dict[str, list[str]] = {}
    with opened(browser, size=size, dark=dark) as context:
        page = context.new_page()
        for address in (
            "/watch", f"/boxes/{FAILING}/colony", f"/boxes/{THRIVING}/colony?taking=20",
            f"/boxes/{THRIVING}/colony?taking=much",
        ):  # fmt: skip
            page.goto(at + address)
            page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
            found[address] = faults(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], address
            assert page.locator('script:not([src^="/static/"])').count() == 0
    assert {address: told for address, told in found.items() if told} == {}


def test_it_fits_a_narrow_screen_and_the_thumb(browser: Browser, at: str) -> None:
    touched = "button, .step, summary, nav a, .rest a, .watchbox, .words label, main input:not([type=radio]):not([type=hidden])"  # fmt: skip
    small: list[str] = []
    with opened(browser, size={"width": 320, "height": 640}) as context:
        page = context.new_page()
        for address in ("/watch", f"/boxes/{THRIVING}/colony?taking=20"):
            page.goto(at + address)
            page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
            assert page.evaluate("document.documentElement.scrollWidth") <= 320, address
            for node in page.locator(touched).all():
                box = node.bounding_box()
                if box and box["height"] and min(box["height"], box["width"]) < 47.5:
                    small.append(f"{address}: {node.inner_text()!r} {box}")
    assert small == []
