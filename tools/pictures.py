"""Takes the pictures of the README and the guide from the demonstration book: all of it invented."""

import sys
import tempfile
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

ON: Final = date(2026, 11, 25)
EVENING: Final = datetime.combine(ON, time(20, 30), UTC)
FOLDER: Final = ROOT / "docs" / "guide" / "pictures"
SHEET: Final = ROOT / "tests" / "sheets" / "data" / "boxes.csv"
SIZES: Final = {"phone": {"width": 390, "height": 844}, "desktop": {"width": 1280, "height": 860}}
PAGES: Final = {
    "home": "/",
    "box": "/boxes/A02",
    "boxes": "/boxes",
    "species": "/species/cubaris-murina",
}


def take(page: Page, name: str) -> None:
    page.screenshot(path=FOLDER / f"{name}.png")
    sys.stdout.write(f"{name}.png\n")


def take_in(page: Page, at: str, name: str) -> None:
    """The preview of the sheet that the tests take in."""
    page.goto(f"{at}/take-in")
    page.get_by_label("The file").set_input_files(SHEET)
    page.get_by_role("button", name="Show what it says").click()
    page.get_by_role("heading", name="boxes.csv").wait_for()
    take(page, name)


def all_of(browser: Browser, at: str, empty: str, size: str, *, dark: bool) -> None:
    """Every page in one size and theme."""
    end = f"{size}-{'dark' if dark else 'light'}"
    with opened(browser, size=SIZES[size], dark=dark) as context:
        page = context.new_page()
        for name, address in PAGES.items():
            page.goto(at + address)
            take(page, f"{name}-{end}")
        take_in(page, empty, f"take-in-{end}")


def main() -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        book, new = Path(folder) / "demo.mancary", Path(folder) / "new.mancary"
        make_demo(book, on=ON)
        pen = Pen(clock=lambda: EVENING)
        open_new(new, name=NAME, zone="Europe/Stockholm", pen=pen, invented=True).close()
        with chromium() as browser, served(book, pen=pen) as at, served(new, pen=pen) as empty:
            for size in SIZES:
                for dark in (False, True):
                    all_of(browser, at, empty, size, dark=dark)


if __name__ == "__main__":
    main()
