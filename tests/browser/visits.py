"""Every page visited once in a window, and all that is looked at there."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from typing import Final

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.chromium import DESK, PHONE, opened
from tests.browser.names import name_faults

PAGES: Final = (
    "/", "/wants", "/boxes", "/boxes?q=laevis", "/boxes/A01", "/boxes/A18", "/boxes/B07", "/species",
    "/species?q=Porcelio+scaber", "/species/porcellio-laevis", "/take-in", "/new-box", "/check",
    "/boxes/Z99", "/boxes/A01/work", "/boxes/A18/work", "/boxes/B07/work", "/shelves",
    "/hygrometer", "/labels", "/phones", "/pair", "/reading", "/read-label", "/watch", "/away",
    "/vents", "/vents?box=A01", "/rhythms", "/boxes/A01/colony", "/round/ticks", "/shelves/logger",
)  # fmt: skip
A_SHEET: Final = "a sheet"
ON_THE_ROUND: Final = ("/", "/wants", "/boxes/A01", "/boxes/A18", "/boxes/A01/work", "/shelves")
TOUCHED: Final = "button, .step, summary, nav a, .round a, .register a, .rest a, .watchbox, .words label, .timeline a, .names a, .steps a, .tick, input:not([type=radio]):not([type=hidden]):not([type=checkbox]), select, textarea"  # fmt: skip
THUMB_PX: Final = 47.5
"""48 CSS px is our brief's thumb; the half is for the rounding of fractions of a pixel."""
WIDTHS: Final = {PHONE["width"]: (320, 390, 640, 820), DESK["width"]: (DESK["width"],)}
TWICE: Final = (720, "212.5%")
"""A window of 1440 px at 200 %; the root's letters are 106.25 % of the reader's."""
_FIRST, _LAST = 12, 6  # boxes of the round axe looks into; the last ones stand in quarantine


@dataclass(slots=True, kw_only=True)
class Seen:
    """What one page showed."""

    faults: list[str]
    dark_faults: list[str]
    names: list[str]
    small: list[str]
    wide: list[int]
    """Widths of the window, px, at which something stuck out to the side."""
    wide_at_twice: bool
    moving: int
    own_scripts: int

    def bad(self) -> dict[str, object]:
        """Of all that, what is to be said."""
        return {name: one for name, one in asdict(self).items() if one}


@dataclass(slots=True)
class Visit:
    """All pages in one window, what was asked of the net, and what the console said."""

    pages: dict[str, Seen] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def bad(self, what: str) -> dict[str, object]:
        """The pages of which something is to be said."""
        told = {address: getattr(seen, what) for address, seen in self.pages.items()}
        return {address: one for address, one in told.items() if one}


def visit(browser: Browser, at: str, size: dict[str, int]) -> Visit:
    """Loads every page once in a window of a size."""
    made = Visit()
    with opened(browser, size=size) as context:
        context.on("request", lambda request: made.asked.append(request.url))
        page = context.new_page()
        page.on("console", lambda message: made.said.append(message.text))
        page.on("pageerror", lambda error: made.said.append(str(error)))
        for address in PAGES:
            page.goto(at + address)
            made.pages[address] = look(page, size, enhanced=address in ON_THE_ROUND)
            page.set_viewport_size({"width": size["width"], "height": size["height"]})
        the_sheet(page, at)
        made.pages[A_SHEET] = look(page, size, enhanced=False)
    return made


def look(page: Page, size: dict[str, int], *, enhanced: bool) -> Seen:
    """All that is looked at on a page that stands open; leaves it narrow and its letters large."""
    moving = page.evaluate("document.getAnimations().length")
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    in_hand = size == PHONE
    names = name_faults(page) if in_hand else []
    small = too_small(page) if in_hand else []
    _close_most(page)
    faults = violations(page, enhanced=enhanced)
    with _dark(page):
        dark_faults = contrasts(page, enhanced=enhanced)
    wide = [width for width in WIDTHS[size["width"]] if sticks_out(page, width)]
    width, large = TWICE
    page.evaluate("large => { document.documentElement.style.fontSize = large }", large)
    return Seen(
        faults=faults,
        dark_faults=dark_faults,
        names=names,
        small=small,
        wide=wide,
        wide_at_twice=sticks_out(page, width),
        moving=moving,
        own_scripts=page.locator('script:not([src^="/static/"])').count(),
    )


def _close_most(page: Page) -> None:
    page.evaluate(
        "([first, last]) => document.querySelectorAll('.stop').forEach("
        "(one, at, all) => one.open = at < first || at >= all.length - last)",
        [_FIRST, _LAST],
    )


@contextmanager
def _dark(page: Page) -> Iterator[None]:
    page.emulate_media(color_scheme="dark")
    yield
    page.emulate_media(color_scheme="light")


def sticks_out(page: Page, width: int) -> bool:
    """Whether something does in a window so wide."""
    page.set_viewport_size({"width": width, "height": 640})
    return bool(page.evaluate("document.documentElement.scrollWidth") > width)


def too_small(page: Page) -> list[str]:
    """What is touched, and is smaller than a thumb; of the details, those that stand open."""
    found: list[str] = page.evaluate(
        "([touched, least]) => [...document.querySelectorAll(touched)]"
        ".map(one => [one, one.getBoundingClientRect()])"
        ".filter(([, box]) => box.height && Math.min(box.height, box.width) < least)"
        ".map(([one, box]) => `${one.innerText || one.name} ${box.width} x ${box.height}`)",
        [TOUCHED, THUMB_PX],
    )
    return found


def violations(page: Page, *, enhanced: bool) -> list[str]:
    """What axe-core finds wrong; ``enhanced`` asks for WCAG's contrast of 7 to 1."""
    return _axe(page, {"rules": {"color-contrast-enhanced": {"enabled": enhanced}}})


def contrasts(page: Page, *, enhanced: bool) -> list[str]:
    """Of that, what colours do: the dark theme is other colours and nothing else."""
    rules = ["color-contrast", *(["color-contrast-enhanced"] if enhanced else [])]
    return _axe(page, {"runOnly": {"type": "rule", "values": rules}})


def _axe(page: Page, options: dict[str, object]) -> list[str]:
    found = Axe().run(page, options={"resultTypes": ["violations"], **options})
    return [
        f"{fault['id']}: {node['html'][:160]}"
        for fault in found.response["violations"]
        for node in fault["nodes"]
    ]


def the_sheet(page: Page, at: str) -> None:
    """Leaves the page on the preview of a sheet with something to mend."""
    page.goto(f"{at}/take-in")
    text = "Box;Species;Litres;Since\nQ1;Porcelio scaber;3;2026\nQ2;laevis;-3;31.02.2025\n"
    page.get_by_label("The file").set_input_files(
        {"name": "odd.csv", "mimeType": "text/csv", "buffer": text.encode()}
    )
    page.get_by_role("button", name="Show what it says").click()
    expect(page.get_by_role("heading", name="To mend")).to_be_visible()
