"""One browser for all tests of this folder, and the invented room served to it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright, expect, sync_playwright

from mancary.usecases.opening import open_new
from tests.browser.bug_room import evening_pen, make_room
from tests.browser.chromium import PATIENCE, started
from tests.browser.serving import served


@pytest.fixture(scope="session")
def play() -> Iterator[Playwright]:
    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as begun:
        yield begun


@pytest.fixture(scope="session")
def browser(play: Playwright) -> Iterator[Browser]:
    with started(play) as one:
        yield one


@pytest.fixture(scope="session")
def room_at(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the room of 96 boxes. Tests that write use a book of their own."""
    room = make_room(tmp_path_factory.mktemp("browsed") / "room.mancary", days=120)
    with served(room, pen=evening_pen(9)) as at:
        yield at


@pytest.fixture
def new_book_at(tmp_path: Path) -> Iterator[str]:
    """The address of an empty book."""
    path = tmp_path / "new.mancary"
    open_new(path, name="New room", zone="Europe/Stockholm", pen=evening_pen()).close()
    with served(path, pen=evening_pen(9)) as at:
        yield at
