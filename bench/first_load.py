"""The round of 96 boxes opened for the first time over a slow link, in a real browser.

A link of 3G as browsers' own tools simulate it: 1.6 Mbit/s down, 0.75 Mbit/s up, 300 ms there and
back. The shelf counts as shown when its picture is laid out and the style sheet holds.
"""

import statistics
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from playwright.sync_api import Browser, sync_playwright
from tests.browser.chromium import PHONE, opened, started

from bench.page import DAY, PATH, PEN, served
from bench.result import Result, against
from mancary.book import open_book
from mancary.demo import make_demo
from mancary.usecases.round_plan import accept_plan

TIMES: Final = 7
LONGEST: Final = 30.0
THREE_G: Final = {
    "offline": False,
    "latency": 300,
    "downloadThroughput": 1_600_000 / 8,
    "uploadThroughput": 750_000 / 8,
}
SHOWN: Final = """() => {
    const strip = document.querySelector("svg.strip");
    return Boolean(strip) && strip.getBoundingClientRect().height > 0
        && getComputedStyle(document.body).fontVariantNumeric === "tabular-nums";
}"""


def measure() -> Iterator[Result]:
    """The bytes of the first load as they are sent, and the time until the first shelf is shown."""
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "demo.mancary"
        make_demo(book, on=DAY)
        with open_book(book) as opened_book:
            accept_plan(opened_book, on=DAY, named=True, pen=PEN)
        with served(book) as port, sync_playwright() as play, started(play) as browser:
            address = f"http://127.0.0.1:{port}{PATH}"
            _first(browser, address, slow=False)
            slow = [_first(browser, address, slow=True) for _ in range(TIMES)]
            quick = [_first(browser, address, slow=False) for _ in range(TIMES)]
    weight = max(one[1] for one in slow) / 1000
    yield against("first load of the round, 96 boxes, as sent", weight, 60, "kB", "60 kB")
    yield against(
        "first shelf of the round shown over 3G, the slowest of 7",
        max(one[0] for one in slow),
        statistics.median(one[0] for one in quick),
        "s",
        "the same without the slow link, median",
    )


def _first(browser: Browser, address: str, *, slow: bool) -> tuple[float, int]:
    """Seconds until the first shelf is shown, and bytes of all that was loaded, headers too."""
    sizes: list[int] = []
    with opened(browser, size=PHONE) as context:
        page = context.new_page()
        asked = context.new_cdp_session(page)
        asked.send("Network.enable")
        asked.on("Network.loadingFinished", lambda told: sizes.append(told["encodedDataLength"]))
        if slow:
            asked.send("Network.emulateNetworkConditions", THREE_G)
        begun = time.monotonic()
        page.goto(address, wait_until="commit")
        while not page.evaluate(SHOWN):
            if time.monotonic() > begun + LONGEST:
                raise TimeoutError(address)
            time.sleep(0.01)
        took = time.monotonic() - begun
        page.wait_for_load_state("networkidle", timeout=20_000)
    return took, round(sum(sizes))
