"""A round of ninety-six boxes with five exceptions: few touches, with and without script."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from mancary.book import open_book
from mancary.demo import make_demo
from mancary.husbandry.facts import CareGiven, CareSkipped, Counted, SeenInBox
from mancary.usecases.pen import Pen
from tests.browser.bug_room import evening_pen, make_room
from tests.browser.chromium import PHONE, opened
from tests.browser.serving import served

pytestmark = pytest.mark.browser
EVENING = datetime(2026, 11, 25, 18, 30, tzinfo=UTC)
TODAY = EVENING.date()
MOST = 20


@pytest.fixture
def evening(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    path = tmp_path / "demo.mancary"
    made = make_demo(path, on=TODAY)
    assert made.boxes == 96
    with served(path, pen=Pen(clock=lambda: EVENING), today=lambda: TODAY) as at:
        yield at, path


class Thumb:
    """Counts every tap and every digit."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.activations = 0

    def tap(self, where: str) -> None:
        self.page.locator(where).click()
        self.activations += 1

    def digits(self, where: str, number: str) -> None:
        self.tap(where)
        for digit in number:
            self.page.keyboard.press(digit)
            self.activations += 1


def record(page: Page, at: str) -> tuple[list[str], int]:
    page.goto(f"{at}/round?today=true")
    boxes = [one.inner_text() for one in page.locator(".stop > summary b").all()[:5]]
    assert len(boxes) == 5
    thumb = Thumb(page)
    for box in boxes:
        thumb.tap(f'.stop:has(input[value="{box}"]) > summary')
        inside = f'.stop:has(input[name="not"][value="{box}"])'
        match boxes.index(box):
            case 0:
                thumb.tap(f'{inside} label:has(input[name="skip"]) >> nth=0')
            case 1:
                thumb.tap(f'{inside} label:has(input[name="dead|{box}"][value="2"])')
            case 2:
                thumb.tap(f'{inside} label:has(input[value="mould"])')
            case 3:
                thumb.tap(f'{inside} label:has(input[value="left_over"])')
            case 4:
                thumb.digits(f'{inside} input[name="count|{box}"]', "37")
    thumb.tap("text=All done, except what is marked")
    expect(page.locator("#saved")).to_be_visible()
    return boxes, thumb.activations


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_round_of_96_boxes_with_five_exceptions_takes_at_most_twenty_touches(
    browser: Browser,
    evening: tuple[str, Path],
    script: bool,  # noqa: FBT001
) -> None:
    at, path = evening
    with open_book(path) as book:
        before = book.head().count
    with opened(browser, size=PHONE, script=script) as context:
        boxes, activations = record(context.new_page(), at)
    assert activations <= MOST, activations
    with open_book(path) as book:
        fresh = [entry.fact for entry in book.entries(after=before)]
    skipped = [fact for fact in fresh if isinstance(fact, CareSkipped)]
    assert [fact.box for fact in skipped] == [boxes[0]]
    seen = {(f.box, f.word, f.animals) for f in fresh if isinstance(f, SeenInBox)}
    assert seen == {
        (boxes[1], "dead", 2),
        (boxes[2], "mould", None),
        (boxes[3], "left_over", None),
    }
    counted = [(fact.box, fact.low) for fact in fresh if isinstance(fact, Counted)]
    assert counted == [(boxes[4], 37)]
    given = {fact.box for fact in fresh if isinstance(fact, CareGiven)}
    assert len(given) > 50


def test_sending_the_round_twice_writes_it_once_and_undo_takes_it_back(
    browser: Browser, evening: tuple[str, Path]
) -> None:
    at, path = evening
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        record(page, at)
        with open_book(path) as book:
            once = book.head().count
        page.reload()  # the browser sends the form again
        expect(page.locator("#saved")).to_contain_text("were in the book already")
        with open_book(path) as book:
            assert book.head().count == once
        page.go_back()
        record(page, at)
        page.locator("text=Undo all of this").click()
        expect(page.get_by_role("heading", name="Undone")).to_be_visible()


def test_the_round_by_keyboard_alone(browser: Browser, evening: tuple[str, Path]) -> None:
    at, path = evening
    with open_book(path) as book:
        before = book.head().count
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{at}/round?today=true")
        page.locator(".stop > summary").first.focus()
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        page.keyboard.press("Space")
        page.locator("text=All done, except what is marked").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#saved")).to_contain_text("left for another evening")
    with open_book(path) as book:
        assert book.head().count > before


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_the_round_is_axe_clean_and_fits_a_narrow_phone(
    browser: Browser,
    tmp_path: Path,
    dark: bool,  # noqa: FBT001
) -> None:
    room = make_room(tmp_path / "small.mancary", boxes=6, days=60)
    with (
        served(room, pen=evening_pen(9)) as at,
        opened(browser, size={"width": 320, "height": 640}, dark=dark) as context,
    ):
        page = context.new_page()
        page.goto(f"{at}/round?today=true")
        for stop in page.locator(".stop > summary").all():
            stop.click()
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
