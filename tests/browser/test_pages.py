"""Every page: clear to a screen reader, whole at 320 pixels, quiet towards the net, large to the thumb."""

import re
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.bug_room import evening_pen, make_room
from tests.browser.chromium import DESK, NARROW, PHONE, opened
from tests.browser.serving import served

pytestmark = pytest.mark.browser
PAGES = (
    "/", "/wants", "/boxes", "/boxes?q=laevis", "/boxes/A01", "/boxes/A18", "/boxes/B07", "/species",
    "/species?q=Porcelio+scaber", "/species/porcellio-laevis", "/take-in", "/new-box", "/check",
    "/boxes/Z99", "/boxes/A01/work", "/boxes/A18/work", "/boxes/B07/work", "/shelves",
    "/hygrometer", "/labels", "/phones", "/pair", "/reading", "/read-label", "/watch", "/away",
    "/vents", "/vents?box=A01", "/rhythms", "/boxes/A01/colony", "/round/ticks", "/shelves/logger",
)  # fmt: skip
ON_THE_ROUND = ("/", "/wants", "/boxes/A01", "/boxes/A18", "/boxes/A01/work", "/shelves")
TOUCHED = "button, .step, summary, nav a, .round a, .register a, .rest a, .words label, .timeline a, .names a, .steps a, .tick, input:not([type=radio]):not([type=hidden]):not([type=checkbox]), select, textarea"  # fmt: skip


def the_sheet(page: Page, at: str) -> None:
    """Leaves the page on the preview of a sheet with something to mend."""
    page.goto(f"{at}/take-in")
    text = "Box;Species;Litres;Since\nQ1;Porcelio scaber;3;2026\nQ2;laevis;-3;31.02.2025\n"
    page.get_by_label("The file").set_input_files(
        {"name": "odd.csv", "mimeType": "text/csv", "buffer": text.encode()}
    )
    page.get_by_role("button", name="Show what it says").click()
    expect(page.get_by_role("heading", name="To mend")).to_be_visible()


def violations(page: Page, *, enhanced: bool) -> list[str]:
    rules = {"color-contrast-enhanced": {"enabled": enhanced}}
    found = Axe().run(page, options={"resultTypes": ["violations"], "rules": rules})
    return [
        f"{fault['id']}: {node['html'][:160]}"
        for fault in found.response["violations"]
        for node in fault["nodes"]
    ]


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_axe_finds_nothing(
    browser: Browser,
    room_at: str,
    size: dict[str, int],
    dark: bool,  # noqa: FBT001
) -> None:
    found: dict[str, list[str]] = {}
    with opened(browser, size=size, dark=dark) as context:
        page = context.new_page()
        for address in PAGES:
            page.goto(room_at + address)
            page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
            found[address] = violations(page, enhanced=address in ON_THE_ROUND)
        the_sheet(page, room_at)
        found["a sheet"] = violations(page, enhanced=False)
    assert {address: faults for address, faults in found.items() if faults} == {}


def test_axe_would_find_a_fault(browser: Browser, room_at: str) -> None:
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        page.goto(f"{room_at}/new-box")
        page.evaluate("document.querySelector('label').remove()")
        assert any(fault.startswith("label:") for fault in violations(page, enhanced=False))


@pytest.mark.parametrize("width", [320, 390, 640, 820])
def test_nothing_sticks_out_to_the_side(browser: Browser, room_at: str, width: int) -> None:
    with opened(browser, size={"width": width, "height": 640}) as context:
        page = context.new_page()
        for address in PAGES:
            page.goto(room_at + address)
            page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
            assert page.evaluate("document.documentElement.scrollWidth") <= width, address
        the_sheet(page, room_at)
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_text_twice_as_large_still_fits(browser: Browser, room_at: str) -> None:
    with opened(browser, size={"width": 720, "height": 900}) as context:
        page = context.new_page()
        for address in PAGES:
            page.goto(room_at + address)
            page.evaluate("document.documentElement.style.fontSize = '212.5%'")
            assert page.evaluate("document.documentElement.scrollWidth") <= 720, address


def test_no_request_leaves_this_machine(browser: Browser, room_at: str) -> None:
    asked: list[str] = []
    with opened(browser, size=DESK) as context:
        context.on("request", lambda request: asked.append(request.url))
        page = context.new_page()
        for address in PAGES:
            page.goto(room_at + address)
    assert len(asked) > len(PAGES)
    assert {urlsplit(url).hostname for url in asked} == {"127.0.0.1"}


def test_no_page_runs_a_script_or_complains(browser: Browser, room_at: str) -> None:
    said: list[str] = []
    with opened(browser, size=DESK) as context:
        page = context.new_page()
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        for address in PAGES:
            page.goto(room_at + address)
            assert page.locator('script:not([src^="/static/"])').count() == 0
    assert [line for line in said if not re.search("404 ", line)] == []


def test_what_is_touched_is_large_enough(browser: Browser, room_at: str) -> None:
    small: list[str] = []
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        for address in PAGES:
            page.goto(room_at + address)
            for node in page.locator(TOUCHED).all():
                box = node.bounding_box()
                if box and box["height"] and min(box["height"], box["width"]) < 47.5:
                    small.append(f"{address}: {node.inner_text()!r} {box}")
    assert small == []


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


def test_nothing_moves_by_itself(browser: Browser, room_at: str) -> None:
    with opened(browser, size=DESK) as context:
        page = context.new_page()
        for address in PAGES:
            page.goto(room_at + address)
            assert page.evaluate("document.getAnimations().length") == 0
