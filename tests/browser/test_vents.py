"""The bench of vents at phone width, without script: asked, drawn, bookmarked."""

import re

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.chromium import PHONE, opened
from tests.browser.visits import look

pytestmark = pytest.mark.browser
ASKED = "/vents?litres=3&species=Porcellio+scaber"


def test_a_keeper_asks_for_holes_and_draws_a_choice_without_script(
    browser: Browser, new_book_at: str
) -> None:
    with opened(browser, size=PHONE, script=False) as context:
        page = context.new_page()
        page.goto(f"{new_book_at}/vents")
        page.get_by_label("Litres").fill("3")
        page.get_by_label("Or a ventilation class").select_option("medium")
        page.get_by_text("cupboard", exact=True).click()
        page.get_by_role("button", name="Work it out").click()
        expect(page.get_by_role("heading", name="A box of 3 L")).to_be_visible()
        low_high = page.locator("table.bench").nth(2)
        expect(low_high.locator("caption")).to_have_text("Low at one end, high at the other")
        page.locator("#all > summary").click()
        link = low_high.get_by_role("link", name=re.compile("of 3 mm"))
        holes = (link.text_content() or "").split()[0]
        link.click()
        expect(page.locator("#drawn")).to_have_text(f"{holes} holes of 3 mm")
        expect(page.locator("svg.plan circle.hole")).to_have_count(int(holes))
        address = page.url
        expect(page.get_by_label("cupboard")).to_be_checked()
        again = context.new_page()
        again.goto(address)
        expect(again.locator("#drawn")).to_have_text(f"{holes} holes of 3 mm")


@pytest.mark.parametrize("address", ["/vents", f"{ASKED}&draw=two_heights-3", "/vents?litres=3"])
def test_the_page_is_axe_clean_fits_a_phone_and_is_thumb_sized(
    browser: Browser, new_book_at: str, address: str
) -> None:
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{new_book_at}{address}")
        assert look(page, PHONE, enhanced=False).bad() == {}
