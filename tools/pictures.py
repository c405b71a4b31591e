"""Takes the pictures of the README and the guide from the demonstration book: all of it invented.

Named a folder, it takes every page in both sizes and all themes into that folder, to be looked at.
"""

import sys
import tempfile
from collections.abc import Iterable
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from playwright.sync_api import Browser, Page  # noqa: E402
from tests.browser.chromium import chromium, opened  # noqa: E402
from tests.browser.serving import served  # noqa: E402

from mancary.demo import NAME, make_demo  # noqa: E402
from mancary.usecases.opening import open_new  # noqa: E402
from mancary.usecases.pen import Pen  # noqa: E402
from mancary.web.reading import COOKIE  # noqa: E402

ON: Final = date(2026, 11, 25)
EVENING: Final = datetime.combine(ON, time(20, 30), UTC)
FOLDER: Final = ROOT / "docs" / "guide" / "pictures"
SHEET: Final = ROOT / "tests" / "sheets" / "data" / "boxes.csv"
SIZES: Final = {"phone": {"width": 390, "height": 844}, "desktop": {"width": 1280, "height": 860}}
PAGES: Final = {
    "round": "/",
    "box": "/boxes/A02",
    "work": "/boxes/A02/work",
    "boxes": "/boxes",
    "shelves": "/shelves",
    "species": "/species/cubaris-murina",
    "watch": "/watch",
    "colony": "/boxes/D11/colony",
    "vents": "/vents?box=A02",
    "take-in": "/take-in",
}
SHOWN: Final = (
    "round-phone-light",
    "round-desktop-light",
    "box-phone-light",
    "species-desktop-light",
    "colony-desktop-light",
    "vents-desktop-light",
    "round-phone-night",
)
"""The pictures that the README and the guide show, and no others are kept."""


def every_name() -> Iterable[str]:
    """Each page in each size and theme."""
    return (
        f"{page}-{size}-{theme}"
        for page in PAGES
        for size in SIZES
        for theme in ("light", "dark", "night")
    )


def show(page: Page, name: str, at: str, empty: str) -> None:
    """Goes to a page; of taking in a sheet the preview is shown."""
    if name != "take-in":
        page.goto(at + PAGES[name])
        return
    page.goto(empty + PAGES[name])
    page.get_by_label("The file").set_input_files(SHEET)
    page.get_by_role("button", name="Show what it says").click()
    page.get_by_role("heading", name="boxes.csv").wait_for()


def take(browser: Browser, picture: str, folder: Path, at: str, empty: str) -> None:
    """One picture, named by page, size and theme."""
    name, size, theme = picture.rsplit("-", 2)
    with opened(browser, size=SIZES[size], dark=theme == "dark") as context:
        if theme == "night":
            context.add_cookies([{"name": COOKIE, "value": "en.metric.night", "url": at}])
        page = context.new_page()
        show(page, name, at, empty)
        page.screenshot(path=folder / f"{picture}.png")
    sys.stdout.write(f"{picture}.png\n")


def main(folder: Path = FOLDER, pictures: Iterable[str] = SHOWN) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as held:
        book, new = Path(held) / "demo.mancary", Path(held) / "new.mancary"
        make_demo(book, on=ON)
        pen = Pen(clock=lambda: EVENING)
        open_new(new, name=NAME, zone="Europe/Stockholm", pen=pen, invented=True).close()
        with chromium() as browser, served(book, pen=pen) as at, served(new, pen=pen) as empty:
            for picture in pictures:
                take(browser, picture, folder, at, empty)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]), every_name())
    else:
        main()
