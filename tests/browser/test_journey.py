"""From an empty book to a box's time line: both files taken in, two rows mended in the page."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.chromium import DESK, PHONE, opened

pytestmark = pytest.mark.browser
SHEETS = Path(__file__).parents[1] / "sheets" / "data"


def take_in_boxes(page: Page) -> None:
    page.get_by_label("The file").set_input_files(SHEETS / "boxes.csv")
    page.get_by_role("button", name="Show what it says").click()
    expect(page.get_by_text("58 understood, 4 asked about, 2 refused")).to_be_visible()
    page.get_by_role("group", name="Row 7, Since").get_by_label("It should read").fill("28.02.2025")
    page.get_by_role("group", name="Row 43, Litres").get_by_label("It should read").fill("3")
    page.get_by_role("group", name="Row 19, Box").get_by_label("Choose").select_option("B02")
    page.get_by_role("button", name="Read again with these answers").click()
    expect(page.get_by_text("64 understood, 0 asked about, 0 refused")).to_be_visible()
    page.get_by_role("button", name="Take in 64 rows").click()
    expect(page.get_by_text("64 of 64 rows are in the book")).to_be_visible()


def take_in_journal(page: Page) -> None:
    page.get_by_role("link", name="Take in another sheet").click()
    page.get_by_label("The file").set_input_files(SHEETS / "journal.csv")
    page.get_by_role("button", name="Show what it says").click()
    expect(page.get_by_text("901 rows read")).to_be_visible()
    mend = page.get_by_role("group", name="Amount “12 fathoms”")
    mend.get_by_label("It should read").fill("12 ml")
    page.get_by_role("button", name="Take in").click()
    expect(page.get_by_role("heading", name="Taken in")).to_be_visible()


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_from_an_empty_book_to_a_time_line(
    browser: Browser,
    new_book_at: str,
    size: dict[str, int],
    script: bool,  # noqa: FBT001
) -> None:
    with opened(browser, size=size, script=script) as context:
        page = context.new_page()
        page.goto(new_book_at)
        page.get_by_role("link", name="Take in the sheet you have").click()
        take_in_boxes(page)
        take_in_journal(page)
        page.get_by_role("link", name="The round").click()
        expect(page.get_by_role("heading", name=re.compile("round$"))).to_be_visible()
        page.get_by_role("link", name="Wants").click()
        expect(page.get_by_role("heading", name="Shelf A1")).to_be_visible()
        page.get_by_role("link", name="A12").first.click()
        expect(page.get_by_role("heading", name="Box A12")).to_be_visible()
        line = page.get_by_role("list").filter(has_text="misting, 20 ml")
        expect(line.get_by_text("1 Jan", exact=True)).to_be_visible()
        expect(page.get_by_text("colony A12.1 founded")).to_be_visible()


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_writing_down_and_mending_by_touch(
    browser: Browser,
    new_book_at: str,
    script: bool,  # noqa: FBT001
) -> None:
    with opened(browser, size=PHONE, script=script) as context:
        page = context.new_page()
        page.goto(f"{new_book_at}/new-box")
        page.get_by_label("What the label says").fill("a1")
        page.get_by_label("Who lives in it").fill("Porcellio scaber")
        page.get_by_role("button", name="Show what it says").click()
        page.get_by_role("button", name="Take in 1 row").click()
        expect(page.get_by_role("heading", name="Taken in")).to_be_visible()
        page.goto(f"{new_book_at}/boxes/a1")
        page.get_by_role("group", name="Given").get_by_text("misting", exact=True).tap()
        page.get_by_label("How much").fill("20 mL")
        page.get_by_role("button", name="Write it down").tap()
        expect(page.get_by_role("status")).to_contain_text("Written: misting, 20 mL")
        page.get_by_role("link", name="That was a mistake").tap()
        page.get_by_label("Why it was a mistake").fill("another box")
        page.get_by_role("button", name="Withdraw the fact").tap()
        expect(page.get_by_text("withdrawn: another box")).to_be_visible()


def test_the_keyboard_alone(browser: Browser, new_book_at: str) -> None:
    with opened(browser, size=DESK) as context:
        page = context.new_page()
        page.goto(f"{new_book_at}/new-box")
        page.keyboard.press("Tab")
        expect(page.get_by_role("link", name="To the page itself")).to_be_focused()
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        expect(page.get_by_label("What the label says")).to_be_focused()
        page.keyboard.type("K1")
        page.keyboard.press("Tab")
        page.keyboard.type("Porcellio scaber")
        page.keyboard.press("Enter")
        press_on(page, "Take in 1 row")
        expect(page.get_by_role("heading", name="Taken in")).to_be_visible()
        page.goto(f"{new_book_at}/boxes/K1")
        page.get_by_role("link", name="To the page itself").focus()
        for _ in range(40):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.name") == "word":
                break
        page.keyboard.press("Space")
        page.keyboard.press("ArrowRight")
        expect(page.get_by_label("misting")).to_be_checked()
        press_on(page, "Write it down")
        expect(page.get_by_role("status")).to_contain_text("Written: misting")


def press_on(page: Page, name: str) -> None:
    """Goes on with Tab until the button is reached, as a keeper would, and presses it."""
    button = page.get_by_role("button", name=name)
    for _ in range(60):
        if button.evaluate("node => node === document.activeElement"):
            page.keyboard.press("Enter")
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{name!r} is not reached with the keyboard")
