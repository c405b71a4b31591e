"""At the desk: the register found while one types, from the keyboard alone, at addresses to keep."""

import csv
import io
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from mancary.usecases.pen import Pen
from tests.browser.bug_room import make_room
from tests.browser.chromium import DESK, PHONE, opened, until
from tests.browser.serving import served

pytestmark = pytest.mark.browser


def test_the_register_is_found_while_one_types_and_keeps_its_address(
    browser: Browser, room_at: str
) -> None:
    with opened(browser, size=DESK) as context:
        page = context.new_page()
        page.goto(f"{room_at}/boxes")
        page.keyboard.press("/")
        expect(page.locator("#q")).to_be_focused()
        page.keyboard.type("laevis")
        expect(page.locator("#found-said")).to_contain_text("with “laevis”")
        count = page.locator(".register li").count()
        assert 0 < count < 96
        until(page, "location.search === '?q=laevis'")
        page.get_by_label("Which").select_option("lived in")
        until(page, "location.search === '?q=laevis&which=lived+in'")
        # A slow finger: leaving the field must not draw the list anew under it.
        page.locator("#q").fill("laevi")
        until(page, "location.search.includes('q=laevi&')")
        page.get_by_role("link", name="species", exact=True).click(delay=600)
        until(page, "location.search.includes('sort=species')")
        told = page.locator(".register b").all_inner_texts()
        with page.expect_download() as started:
            page.get_by_role("link", name="These as a table").click()
        table = started.value.path().read_text(encoding="utf-8")
        assert [row["box"] for row in csv.DictReader(io.StringIO(table))] == told
        again = context.new_page()
        again.goto(page.url)
        assert again.locator(".register b").all_inner_texts() == told


def test_from_the_search_to_a_card_and_a_note_by_keys_alone(
    browser: Browser, tmp_path: Path
) -> None:
    room = make_room(tmp_path / "room.mancary", boxes=12, days=30)
    with served(room, pen=Pen()) as at, opened(browser, size=DESK) as context:
        page = context.new_page()
        page.goto(f"{at}/boxes")
        page.keyboard.press("/")
        page.keyboard.type("a07")
        until(page, "location.search === '?q=a07'")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("Enter")
        expect(page.locator("h1")).to_have_text("Box A07")
        page.keyboard.press("Tab")
        expect(page.locator(".skip")).to_be_focused()
        for _ in range(60):
            if page.evaluate("document.activeElement.name") == "word":
                break
            page.keyboard.press("Tab")
        page.keyboard.press("Space")
        assert page.evaluate("document.activeElement.checked")
        word = page.evaluate("document.activeElement.labels[0].innerText")
        page.keyboard.press("Enter")
        expect(page.locator("#written")).to_contain_text(word)


def test_without_script_the_same_form_finds(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE, script=False) as context:
        page = context.new_page()
        page.goto(f"{room_at}/boxes")
        page.get_by_label("Box, shelf, species, trade name or line").fill("laevis")
        page.get_by_role("button", name="Find").click()
        expect(page.locator("#found-said")).to_contain_text("with “laevis”")


def test_reading_is_chosen_and_the_round_follows(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE, script=False) as context:
        page = context.new_page()
        page.goto(room_at)
        usual = page.locator("h1").evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
        page.get_by_role("link", name="How pages read").click()
        page.get_by_label("large and dark").check()
        page.get_by_label("Svenska").check()
        page.get_by_role("button", name="Read it so").click()
        assert page.url.rstrip("/") == room_at
        night = page.locator("h1").evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
        assert night > 1.25 * usual
        ground = page.locator("body").evaluate("one => getComputedStyle(one).backgroundColor")
        assert ground == "rgb(23, 26, 21)"
        expect(page.locator("html")).to_have_attribute("lang", "sv")
        expect(page.get_by_role("link", name="Lådor")).to_be_visible()
