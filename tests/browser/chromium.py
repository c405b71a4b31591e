"""The system's own Chromium, started so that it asks nobody for anything."""

import os
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

NAMES: Final = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
ARGS: Final = (
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
)
NARROW: Final = {"width": 320, "height": 640}
PHONE: Final = {"width": 390, "height": 844}
DESK: Final = {"width": 1440, "height": 900}
# ms; a journey is no timed test: where pages come slowly, what is awaited still comes
PATIENCE: Final = 30_000


def executable() -> str:
    """The Chromium named in CHROMIUM, else the first one found.

    Raises:
        FileNotFoundError: saying how one is come by.
    """
    for name in (os.environ.get("CHROMIUM", ""), *NAMES):
        if name and (found := shutil.which(name)):
            return found
    raise FileNotFoundError("No Chromium found; install one, or name it in CHROMIUM.")


@contextmanager
def chromium() -> Iterator[Browser]:
    """A browser without a window."""
    with sync_playwright() as play, started(play) as browser:
        yield browser


@contextmanager
def started(play: Playwright) -> Iterator[Browser]:
    """A browser of one playwright; a thread can have one of these alone."""
    browser = play.chromium.launch(executable_path=executable(), args=arguments())
    try:
        yield browser
    finally:
        browser.close()


def arguments() -> list[str]:
    """What Chromium is started with; as root it has no sandbox."""
    return [*ARGS, *(("--no-sandbox",) if os.geteuid() == 0 else ())]


@contextmanager
def opened(
    browser: Browser, *, size: dict[str, int], dark: bool = False, script: bool = True
) -> Iterator[BrowserContext]:
    """A context of one size and theme, with or without script."""
    context = browser.new_context(
        viewport={"width": size["width"], "height": size["height"]},
        color_scheme="dark" if dark else "light",
        java_script_enabled=script,
        has_touch=size == PHONE,
    )
    context.set_default_timeout(PATIENCE)
    try:
        yield context
    finally:
        context.close()


def until(page: Page, expression: str, seconds: float = PATIENCE / 1000) -> None:
    """Waits until an expression is true; asked from outside, for pages forbid scripts of strings."""
    end = time.monotonic() + seconds
    while not page.evaluate(expression):
        if time.monotonic() > end:
            raise TimeoutError(expression)
        time.sleep(0.05)


@contextmanager
def phone(play: Playwright, profile: Path, *more: str) -> Iterator[Page]:
    """A browser with a disk of its own: closed and opened again it is the same phone."""
    context = play.chromium.launch_persistent_context(
        str(profile),
        executable_path=executable(),
        args=[*arguments(), *more],
        viewport={"width": PHONE["width"], "height": PHONE["height"]},
        has_touch=True,
    )
    context.set_default_timeout(PATIENCE)
    try:
        yield context.pages[0] if context.pages else context.new_page()
    finally:
        context.close()
