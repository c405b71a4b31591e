"""A paper sheet typed in at phone width with the keyboard alone, and without script."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from mancary.book import open_book
from mancary.husbandry.facts import CareGiven, Fact, SeenInBox
from mancary.usecases.figures import choose_figure
from mancary.usecases.round_evening import KeptEvening, keep_evening, kept_evening
from tests.browser.bug_room import TODAY, evening_pen, make_room
from tests.browser.chromium import PHONE, opened
from tests.browser.serving import served
from tests.browser.visits import look

pytestmark = pytest.mark.browser
TARGET_PX = 48


@pytest.fixture
def sheet(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """A small room with tonight's plan kept, and from then on with too few minutes a week."""
    room = make_room(tmp_path / "small.mancary", boxes=8, days=60)
    pen = evening_pen(2)
    with open_book(room) as book:
        keep_evening(book, on=TODAY, named=True, minutes=90, pen=pen)
        choose_figure(book, "sunday_minutes", low=9, high=9, why="", scopes={}, pen=pen)
    with served(room, pen=evening_pen(9)) as at:
        yield f"{at}/round/ticks", room


def plan(room: Path) -> KeptEvening:
    with open_book(room) as book:
        kept = kept_evening(book, TODAY)
    assert kept
    return kept


def written(room: Path, before: int) -> list[Fact]:
    with open_book(room) as book:
        return [entry.fact for entry in book.entries(after=before)]


def count(room: Path) -> int:
    with open_book(room) as book:
        return book.head().count


def focused(page: Page) -> str:
    """The name, and for a tick the value, of what has the focus."""
    return str(
        page.evaluate(
            "(() => { const e = document.activeElement;"
            " return e.name === 'tick' ? e.value : (e.name || e.tagName) + ':' + e.value; })()"
        )
    )


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_sheet_is_typed_in_line_by_line_with_the_keyboard_alone(
    browser: Browser,
    sheet: tuple[str, Path],
    script: bool,  # noqa: FBT001
) -> None:
    at, room = sheet
    before = count(room)
    with opened(browser, size=PHONE, script=script) as context:
        page = context.new_page()
        page.goto(at)
        ticks = [one.get_attribute("value") or "" for one in page.locator('[name="tick"]').all()]
        boxes = list(dict.fromkeys(one.partition("|")[0] for one in ticks))
        first = [one for one in ticks if one.startswith(f"{boxes[0]}|")]
        page.locator('[name="do"][value="check"]').focus()
        for number, _ in enumerate(first):
            page.keyboard.press("Tab")
            if number == 0:
                page.keyboard.press("Space")
        page.keyboard.press("Tab")
        page.keyboard.type("dead 2, mould")
        page.keyboard.press("Tab")  # the next line's first tick
        page.keyboard.press("Space")
        page.locator('[name="do"][value="write"]').focus()
        page.keyboard.press("Enter")
        expect(page.locator("#saved")).to_contain_text("2 without a tick left")
    facts = written(room, before)
    seen = [(fact.box, fact.word, fact.animals) for fact in facts if isinstance(fact, SeenInBox)]
    assert seen == [(boxes[0], "dead", 2), (boxes[0], "mould", None)]
    given = {f"{fact.box}|{fact.care}" for fact in facts if isinstance(fact, CareGiven)}
    second = next(one for one in ticks if one.startswith(f"{boxes[1]}|"))
    assert given == set(ticks) - {first[0], second}


def test_tab_goes_line_by_line_through_ticks_and_words(
    browser: Browser, sheet: tuple[str, Path]
) -> None:
    at, _ = sheet
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(at)
        expected = page.evaluate(
            "[...document.querySelectorAll('.ticks li')].flatMap(line => ["
            "...[...line.querySelectorAll('[name=tick]')].map(one => one.value),"
            "line.querySelector('[name^=words]').name + ':'])"
        )
        page.locator('[name="do"][value="check"]').focus()
        walked = []
        for _ in expected:
            page.keyboard.press("Tab")
            walked.append(focused(page))
        assert walked == expected
        assert len(walked) > 10


def test_enter_in_a_field_writes_nothing_and_all_stays(
    browser: Browser, sheet: tuple[str, Path]
) -> None:
    at, room = sheet
    before = count(room)
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(at)
        words = page.locator('[name^="words|"]').first
        words.fill("mould, sparkles")
        words.press("Enter")
        expect(page.locator("#fault")).to_contain_text("'sparkles'")
        again = page.locator('[name^="words|"]').first
        expect(again).to_have_value("mould, sparkles")
        again.fill("mould")
        again.press("Enter")
        expect(page.locator("#checked")).to_be_visible()
    assert count(room) == before


def test_sent_twice_it_is_written_once_and_undone_in_one_step(
    browser: Browser, sheet: tuple[str, Path]
) -> None:
    at, room = sheet
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(at)
        page.locator('[name^="words|"]').first.fill("dead 2")
        page.locator('[name="do"][value="write"]').click()
        expect(page.locator("#saved")).to_be_visible()
        once = count(room)
        page.reload()  # the browser sends the form again
        expect(page.locator("#saved")).to_contain_text("0 cares as given")
        assert count(room) == once
        page.locator("text=Undo all of this").click()
        expect(page.get_by_role("heading", name="Undone")).to_be_visible()
    assert plan(room).recorded == {}


@pytest.mark.parametrize("address", ["/round/ticks", "/rhythms"])
def test_the_pages_are_axe_clean_fit_a_phone_and_are_thumb_sized(
    browser: Browser, sheet: tuple[str, Path], address: str
) -> None:
    at, _ = sheet
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(at.replace("/round/ticks", address))
        assert page.locator('main [type="checkbox"]').count() > 3
        assert look(page, PHONE, enhanced=False).bad() == {}
