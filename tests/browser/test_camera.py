"""A phone's camera before a label and before a box, with the connection and without it."""

from pathlib import Path
from urllib.parse import urlsplit

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, Playwright, expect

from mancary.book import open_book
from mancary.book.pictures import folder_of, read
from mancary.husbandry.facts import Pictured
from mancary.paper.qr import label_text
from mancary.usecases.pen import Pen
from tests.browser.bug_room import make_room
from tests.browser.chromium import PHONE, opened, phone, until
from tests.browser.serving import served
from tests.paper.test_label_reading import code, in_a_room, jpeg
from tests.usecases.test_pictures import photograph

pytestmark = pytest.mark.browser


@pytest.fixture
def room(tmp_path: Path) -> Path:
    return make_room(tmp_path / "room.mancary", boxes=12, days=30)


def film(path: Path, picture: Image.Image, frames: int = 4) -> Path:
    """What Chromium takes for a camera: YUV4MPEG2, planes of 4:2:0."""
    width, height = picture.size
    planes = picture.convert("YCbCr").split()
    small = [np.asarray(one.resize((width // 2, height // 2))) for one in planes[1:]]
    frame = b"FRAME\n" + b"".join(one.tobytes() for one in (np.asarray(planes[0]), *small))
    path.write_bytes(f"YUV4MPEG2 W{width} H{height} F10:1 Ip A1:1 C420\n".encode() + frame * frames)
    return path


def pictured(room: Path) -> list[Pictured]:
    with open_book(room) as book:
        facts = [entry.fact for entry in book.entries_of(("pictured",))]
    return [fact for fact in facts if isinstance(fact, Pictured)]


def test_a_label_before_the_camera_opens_its_card(
    play: Playwright, tmp_path: Path, room: Path
) -> None:
    label = in_a_room(code(label_text("http://mancary.local:8714", "A05"))).resize((800, 600))
    camera = film(tmp_path / "label.y4m", label)
    asked = (
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={camera}",
    )
    with served(room, pen=Pen()) as at, phone(play, tmp_path / "phone", *asked) as page:
        page.goto(f"{at}/read-label")
        page.get_by_role("button", name="Open the camera").click()
        page.wait_for_url("**/A05", timeout=30_000)
        expect(page.locator("h1")).to_have_text("Box A05")


def test_without_a_camera_the_page_says_so_and_a_picture_does(
    browser: Browser, room: Path, tmp_path: Path
) -> None:
    picture = tmp_path / "label.jpg"
    picture.write_bytes(jpeg(in_a_room(code(label_text("http://mancary.local:8714", "A07")))))
    for script in (True, False):
        with served(room, pen=Pen()) as at, opened(browser, size=PHONE, script=script) as context:
            page = context.new_page()
            page.goto(f"{at}/read-label")
            if script:
                page.get_by_role("button", name="Open the camera").click()
                expect(page.locator("#camera-said")).to_contain_text("gives no picture here")
            else:
                expect(page.get_by_role("button", name="Open the camera")).to_be_hidden()
            page.get_by_label("Take a picture of the label").set_input_files(picture)
            page.get_by_role("button", name="Open the card").click()
            expect(page.locator("h1")).to_have_text("Box A07")


def test_a_picture_taken_while_the_book_is_away_goes_up_when_it_is_back(
    play: Playwright, tmp_path: Path, room: Path
) -> None:
    picture = tmp_path / "IMG_0001.jpg"
    picture.write_bytes(photograph())
    with phone(play, tmp_path / "phone") as page:
        with served(room, pen=Pen()) as at:
            port = urlsplit(at).port or 0
            page.goto(f"{at}/boxes/A05")
        page.get_by_label("Take or choose a picture").set_input_files(picture)
        page.locator("#picture-note").fill("roots in the corner")
        page.get_by_role("button", name="Keep the picture").click()
        expect(page.locator("#outbox-count")).to_contain_text("1 waiting")
        assert pictured(room) == []
        with served(room, pen=Pen(), port=port):
            page.evaluate("window.dispatchEvent(new Event('online'))")
            expect(page.locator("#outbox")).to_be_hidden(timeout=30_000)
            page.goto(f"{at}/boxes/A05")
            shown = page.locator(".pictures img").first
            shown.scroll_into_view_if_needed()
            until(page, "document.querySelector('.pictures img').naturalWidth > 0")
            expect(shown).to_have_attribute("width", "1600")
    fact = pictured(room)[0]
    assert (fact.box, fact.note) == ("A05", "roots in the corner")
    kept = read(folder_of(room), fact.picture)
    assert kept
    assert b"Exif" not in kept


def test_without_script_a_picture_is_sent_as_any_form(browser: Browser, room: Path) -> None:
    with served(room, pen=Pen()) as at, opened(browser, size=PHONE, script=False) as context:
        page = context.new_page()
        page.goto(f"{at}/boxes/A05")
        page.get_by_label("Take or choose a picture").set_input_files(
            {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": photograph(400, 300)}
        )
        page.get_by_role("button", name="Keep the picture").click()
        expect(page.locator("#written")).to_contain_text("a picture")
    assert len(pictured(room)) == 1
