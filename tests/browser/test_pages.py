"""Every page: clear to a screen reader, whole at 320 pixels, quiet towards the net, large to the thumb."""

import re
from importlib.resources import files
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.bug_room import evening_pen, make_room
from tests.browser.chromium import DESK, NARROW, PHONE, opened
from tests.browser.serving import served
from tests.browser.visits import (
    A_SHEET,
    PAGES,
    Visit,
    contrasts,
    sticks_out,
    the_sheet,
    too_small,
    violations,
)

pytestmark = pytest.mark.browser


@pytest.fixture(params=["phone", "desk"])
def visited(request: pytest.FixtureRequest) -> Visit:
    made: Visit = request.getfixturevalue(f"on_{request.param}")
    assert list(made.pages) == [*PAGES, A_SHEET]
    return made


def test_axe_finds_nothing_in_light_or_dark(visited: Visit) -> None:
    assert visited.bad("faults") == {}
    assert visited.bad("dark_faults") == {}


def test_the_dark_theme_is_other_colours_and_nothing_else() -> None:
    """So that of it, contrasts are all there is to look at."""
    sheet = files("mancary.web").joinpath("static", "mancary.css").read_text("utf-8")
    (dark,) = re.findall(r"@media \(prefers-color-scheme: dark\) \{(.*?)\n\}", sheet, re.DOTALL)
    assert len(re.findall(r"--[a-z-]+: #[0-9a-f]{6};", dark)) > 5
    assert re.sub(r"--[a-z-]+: #[0-9a-f]{6};|:root \{|\}|\s", "", dark) == ""


def test_axe_would_find_a_fault(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{room_at}/new-box")
        assert contrasts(page, enhanced=False) == []
        page.evaluate("document.querySelector('label').style.color = 'Canvas'")
        assert contrasts(page, enhanced=False) != []
        page.evaluate("document.querySelector('label').remove()")
        assert any(fault.startswith("label:") for fault in violations(page, enhanced=False))


def test_nothing_sticks_out_to_the_side(visited: Visit) -> None:
    assert visited.bad("wide") == {}


def test_text_twice_as_large_still_fits(visited: Visit) -> None:
    assert visited.bad("wide_at_twice") == {}


def test_what_sticks_out_or_is_small_would_be_seen(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{room_at}/new-box")
        assert not sticks_out(page, 390)
        assert too_small(page) == []
        page.evaluate("document.querySelector('main button').style.minHeight = '0'")
        page.evaluate("document.querySelector('main button').style.padding = '0'")
        assert len(too_small(page)) == 1
        page.evaluate("document.querySelector('main').style.minWidth = '400px'")
        assert sticks_out(page, 390)


def test_no_request_leaves_this_machine(visited: Visit) -> None:
    assert len(visited.asked) > len(PAGES)
    assert {urlsplit(url).hostname for url in visited.asked} == {"127.0.0.1"}


def test_no_page_runs_a_script_or_complains(visited: Visit) -> None:
    assert visited.bad("own_scripts") == {}
    assert [line for line in visited.said if not re.search("404 ", line)] == []


def test_what_is_touched_is_large_enough(on_phone: Visit) -> None:
    assert on_phone.bad("small") == {}


def test_nothing_moves_by_itself(visited: Visit) -> None:
    assert visited.bad("moving") == {}


def test_all_of_the_work_lies_two_taps_from_the_card(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE, script=False) as context:
        page = context.new_page()
        for box, jobs in (("A01", 7), ("B07", 4)):
            page.goto(f"{room_at}/boxes/{box}")
            page.get_by_role("link", name="Work on").tap()
            expect(page.locator(".job")).to_have_count(jobs)
            for job in page.locator(".job").all():
                job.locator("> summary").first.tap()
                expect(job.get_by_role("button")).to_be_visible()
        for link, heading in (("Shelf A1", "Shelves"), ("lentus", "Agabiformius lentus")):
            page.goto(f"{room_at}/boxes/A01")
            page.get_by_role("link", name=link).first.tap()
            expect(page.get_by_role("heading", level=1, name=heading)).to_be_visible()
        page.goto(f"{room_at}/boxes/A01")
        page.get_by_role("link", name="Own figures").tap()
        page.get_by_text("Choose your own").tap()
        expect(page.get_by_role("button", name="Choose it")).to_be_visible()


def test_the_pages_after_work_are_as_clear(browser: Browser, tmp_path: Path) -> None:
    """What comes back after writing, after a fault, and before an unsure name is confirmed."""
    found: dict[str, list[str]] = {}
    wide: list[str] = []
    room = make_room(tmp_path / "room.mancary", boxes=32, days=30)
    with served(room, pen=evening_pen(9)) as at, opened(browser, size=NARROW) as context:
        page = context.new_page()
        for name, way in AFTER_WORK.items():
            way(page, at)
            page.wait_for_load_state(
                "networkidle"
            )  # a kept form is sent, and then the page goes on
            found[name] = violations(page, enhanced=True)
            if page.evaluate("document.documentElement.scrollWidth") > NARROW["width"]:
                wide.append(name)
    assert {name: faults for name, faults in found.items() if faults} == {}
    assert wide == []


def job(page: Page, at: str, box: str, words: str) -> Locator:
    """Opens one form of a box's work."""
    page.goto(f"{at}/boxes/{box}/work")
    page.get_by_text(words, exact=True).click()
    return page.locator(".job[open]")


def written_with_a_caution(page: Page, at: str) -> None:
    form = job(page, at, "A02", "Take animals out of the room")
    form.get_by_label("How many").fill("12")
    form.get_by_role("button").click()
    expect(page.get_by_text("Mind: Rules for moving")).to_be_visible()


def faulty(page: Page, at: str) -> None:
    form = job(page, at, "A02", "Move all of it into another box")
    form.get_by_label("Into the empty box").fill("A03")
    form.get_by_role("button").click()
    expect(page.get_by_text("holds colony A03.1 already")).to_be_visible()


def name_to_confirm(page: Page, at: str) -> None:
    form = job(page, at, "B07", "Begin a colony in it")
    form.get_by_label("Who goes in").fill("Porcelio lavis")
    form.get_by_role("button").click()
    expect(page.get_by_text("Which page is it?")).to_be_visible()


def shelf_read(page: Page, at: str) -> None:
    page.goto(f"{at}/shelves")
    page.get_by_label("Lowest, °C on shelf A1").fill("9,5")
    page.get_by_label("Highest, °C on shelf A1").fill("33")
    page.get_by_role("button", name="Write down what is filled in").click()
    expect(page.get_by_role("status")).to_contain_text("lowest 9.5, highest 33 °C")


def figure_chosen(page: Page, at: str) -> None:
    page.goto(f"{at}/boxes/A02")
    page.get_by_text("Choose your own").click()
    page.get_by_label("Which figure").select_option("vegetable_days")
    page.get_by_label("From", exact=True).fill("8")
    page.get_by_label("For", exact=True).select_option("all:")
    page.get_by_role("button", name="Choose it").click()
    expect(page.get_by_role("button", name="Give it back")).to_be_visible()


def rested_on(page: Page, at: str) -> None:
    page.goto(f"{at}/boxes/A02?most=500")
    page.get_by_role("link", name="colony A02.1 founded").click()
    page.get_by_role("button", name="Withdraw the fact").click()
    expect(page.get_by_label("Withdraw it even so")).to_be_visible()


def row_left_out(page: Page, at: str) -> None:
    the_sheet(page, at)
    page.get_by_label("Leave this row out").last.check()
    page.get_by_role("button", name="Read again").first.click()
    expect(page.get_by_role("heading", name="Left out, as you said")).to_be_visible()


AFTER_WORK = {
    one.__name__.replace("_", " "): one
    for one in (
        written_with_a_caution, faulty, name_to_confirm, shelf_read, figure_chosen, rested_on,
        row_left_out,
    )
}  # fmt: skip


def test_the_desk_has_the_rack_beside_the_work(browser: Browser, room_at: str) -> None:
    with opened(browser, size=DESK) as context:
        page = context.new_page()
        page.goto(room_at)
        rack, work = page.locator(".rack").first.bounding_box(), page.locator(".work").first.bounding_box()  # fmt: skip
        assert rack
        assert work
        assert rack["x"] + rack["width"] <= work["x"]
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(room_at)
        rack, work = page.locator(".rack").first.bounding_box(), page.locator(".work").first.bounding_box()  # fmt: skip
        assert rack
        assert work
        assert rack["y"] + rack["height"] <= work["y"]


def test_a_print_carries_the_words_and_no_forms(browser: Browser, room_at: str) -> None:
    with opened(browser, size=DESK) as context:
        page = context.new_page()
        page.goto(f"{room_at}/boxes/A01")
        page.emulate_media(media="print")
        assert not page.get_by_role("button", name="Write it down").is_visible()
        assert page.get_by_text("can wait, the first").is_visible()
        assert page.locator(".cares li").last.is_visible()
        page.goto(f"{room_at}/?today=true")
        page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        assert page.locator(".stop > summary").first.is_visible()
        assert page.locator(".rack svg").first.is_visible()
        assert page.locator(".stop fieldset:visible, .walk button:visible").count() == 0
        page.emulate_media(media="screen")
        assert page.locator(".walk button:visible").count() > 0
