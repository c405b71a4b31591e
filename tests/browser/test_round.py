"""A round of ninety-six boxes with five exceptions: few touches, with and without script."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from mancary.book import open_book
from mancary.husbandry.facts import CareGiven, CareSkipped, Counted, SeenInBox
from mancary.usecases.pen import Pen
from mancary.usecases.shelf_care import boxes_on
from tests.browser.bug_room import evening_pen, make_room
from tests.browser.chromium import PHONE, opened
from tests.browser.serving import served
from tests.browser.visits import look

pytestmark = pytest.mark.browser
EVENING = datetime(2026, 11, 25, 18, 30, tzinfo=UTC)
TODAY = EVENING.date()
MOST = 20


@pytest.fixture
def evening(demo: Path) -> Iterator[tuple[str, Path]]:
    with served(demo, pen=Pen(clock=lambda: EVENING), today=lambda: TODAY) as at:
        yield at, demo


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
    page.goto(f"{at}/?today=true")
    boxes = [one.inner_text() for one in page.locator(".stop > summary b").all()[:5]]
    assert len(boxes) == 5
    thumb = Thumb(page)
    for box in boxes:
        thumb.tap(f'.stop:has(input[value="{box}"]) > summary')
        inside = f'.stop:has(input[name="not"][value="{box}"])'
        match boxes.index(box):
            case 0:
                thumb.tap(f'{inside} label:has(input[name="skip"]) >> nth=0')
                thumb.tap(f'{inside} label:has(input[value="damp enough"])')
            case 1:
                thumb.tap(f'{inside} label:has(input[name="dead|{box}"][value="2"])')
            case 2:
                thumb.tap(f'{inside} label:has(input[value="mould"])')
            case 3:
                thumb.tap(f'{inside} label:has(input[value="left_over"])')
            case 4:
                thumb.digits(f'{inside} input[name="count|{box}"]', "37")
    thumb.tap(".save button")
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
    assert [(fact.box, fact.why) for fact in skipped] == [(boxes[0], "damp enough")]
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
    with opened(browser, size=PHONE, script=False) as context:
        page = context.new_page()
        page.goto(f"{at}/")
        with context.expect_page() as twin:
            page.locator(".save button").click(modifiers=["Control"])  # sent once beside this page
        twin.value.wait_for_load_state()
        with open_book(path) as book:
            once = book.head().count
        page.locator(".save button").click()  # and once more by it
        expect(page.locator("#saved")).to_contain_text("were in the book already")
        with open_book(path) as book:
            assert book.head().count == once
        page.reload()
        page.go_back()  # neither sends anything again, nor does the browser ask
        page.go_forward()
        with open_book(path) as book:
            assert book.head().count == once
        page.locator("#saved button").click()
        expect(page.locator("#saved")).to_contain_text("withdrawn")
        expect(page.locator(".stop").first).to_be_visible()


def test_the_round_by_keyboard_alone(browser: Browser, evening: tuple[str, Path]) -> None:
    at, path = evening
    with open_book(path) as book:
        before = book.head().count
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{at}/?today=true")
        page.locator(".stop > summary").first.focus()
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        page.keyboard.press("Space")
        page.locator(".save button").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#saved")).to_contain_text("left for another evening")
    with open_book(path) as book:
        assert book.head().count > before


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_round_goes_on_shelf_by_shelf_and_marks_elsewhere_stay(
    browser: Browser,
    evening: tuple[str, Path],
    script: bool,  # noqa: FBT001
) -> None:
    at, path = evening
    with opened(browser, size=PHONE, script=script) as context:
        page = context.new_page()
        page.goto(f"{at}/")
        first, second = page.locator("section.shelf:has(button[name=only])").all()[:2]
        done = [one.inner_text() for one in first.locator(".stop > summary b").all()]
        other = second.locator(".stop > summary b").first.inner_text()
        second.locator(".stop > summary").first.click()
        second.locator(f'label:has(input[name="seen|{other}"][value="mould"])').click()
        first.locator("button[name=only]").click()
        expect(page.locator("#saved")).to_contain_text("written as given")
        page.wait_for_load_state()
        assert page.evaluate("location.hash") == "#saved"
        left = [one.inner_text() for one in page.locator(".stop > summary b").all()]
        assert not set(done) & set(left)
        assert left[0] == other
        expect(page.locator(f'input[name="seen|{other}"][value="mould"]')).to_be_checked()
        expect(page.locator(".tagword", has_text="done")).to_have_count(len(done))
        page.locator("#saved button").click()
        expect(page.locator("#saved")).to_contain_text("withdrawn")
        page.wait_for_load_state()
        again = [one.inner_text() for one in page.locator(".stop > summary b").all()]
        assert again == [*done, *left]
    with open_book(path) as book:
        seen = [e.fact for e in book.entries_about(f"box:{other}") if isinstance(e.fact, SeenInBox)]
    assert "mould" not in [fact.word for fact in seen[-1:]]


def test_care_for_a_whole_shelf_takes_two_touches(
    browser: Browser, evening: tuple[str, Path]
) -> None:
    at, path = evening
    with open_book(path) as book:
        before = book.head().count
        on_b2 = boxes_on(book, "B2", on=TODAY)
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{at}/")
        thumb = Thumb(page)
        thumb.tap("text=All of shelf B2 was given")
        thumb.tap('button[value="B2|mist"]')
        expect(page.locator("#saved")).to_contain_text(f"Misting written for {len(on_b2)}")
        assert thumb.activations == 2
        page.reload()
        expect(page.locator("#saved")).to_contain_text(f"Misting written for {len(on_b2)}")
    with open_book(path) as book:
        fresh = [entry.fact for entry in book.entries(after=before)]
    misted = [fact.box for fact in fresh if isinstance(fact, CareGiven) and fact.care == "mist"]
    assert misted == on_b2


def test_the_enter_key_in_a_field_writes_nothing(
    browser: Browser, evening: tuple[str, Path]
) -> None:
    at, path = evening
    with open_book(path) as book:
        before = book.head().count
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{at}/")
        page.locator(".stop > summary").first.click()
        field = page.locator('.stop[open] input[inputmode="numeric"]').first
        field.fill("37")
        field.press("Enter")
        expect(page.locator("#saved")).to_contain_text("Nothing is written yet")
        expect(page.locator('.stop[open] input[inputmode="numeric"]').first).to_have_value("37")
    with open_book(path) as book:
        assert book.head().count == before


def test_a_late_round_is_dated_to_its_day(browser: Browser, evening: tuple[str, Path]) -> None:
    at, path = evening
    late = TODAY - timedelta(days=3)
    with open_book(path) as book:
        before = book.head().count
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{at}/")
        page.locator("text=A round of another day").click()
        page.locator("#on").fill(late.isoformat())
        page.get_by_role("button", name="Show").click()
        expect(page.locator("text=A round of an earlier day")).to_be_visible()
        page.locator(".save button").click()
        expect(page.locator("#saved")).to_contain_text("as given")
    with open_book(path) as book:
        fresh = list(book.entries(after=before))
    given = {entry.happened for entry in fresh if isinstance(entry.fact, CareGiven)}
    assert given == {late.isoformat()}


def test_the_round_is_axe_clean_and_fits_a_narrow_phone(browser: Browser, tmp_path: Path) -> None:
    room = make_room(tmp_path / "small.mancary", boxes=6, days=60)
    with served(room, pen=evening_pen(9)) as at, opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{at}/?today=true")
        assert page.locator(".stop").count() > 3
        assert look(page, PHONE, enhanced=True).bad() == {}


def test_marks_survive_a_look_at_a_card_and_a_closed_page(
    browser: Browser, evening: tuple[str, Path]
) -> None:
    at, _ = evening
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{at}/?today=true")
        stop = page.locator(".stop").first
        box = stop.locator("summary b").inner_text()
        stop.locator("summary").click()
        stop.locator(f'input[name="seen|{box}"]').first.dispatch_event("click")
        stop.get_by_label("Words, or why not").fill("lid stuck")
        stop.locator("a[data-card]").click()
        page.close()
        page = context.new_page()
        page.goto(f"{at}/?today=true")
        again = page.locator(f'.stop:has(input[name="not"][value="{box}"])')
        expect(again.locator(f'input[name="seen|{box}"]').first).to_be_checked()
        expect(again.get_by_label("Words, or why not")).to_have_value("lid stuck")
        page.locator("button[name=only]").first.click()
        expect(page.locator("#saved")).to_be_visible()
        page.goto(f"{at}/?today=true")
        expect(page.locator(f'.stop input[name="seen|{box}"]')).to_have_count(0)
        assert page.locator(".stop input:checked").count() == 0
