"""One browser for all tests of this folder, and the invented rooms served to it."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright, expect, sync_playwright

from mancary.demo import make_demo
from mancary.usecases.learning import learn
from mancary.usecases.opening import open_new
from tests.browser.bug_room import TODAY, evening_pen, make_room
from tests.browser.chromium import DESK, PATIENCE, PHONE, started
from tests.browser.serving import served
from tests.browser.visits import Visit, visit


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
    learn(room, on=TODAY)
    with served(room, pen=evening_pen(9)) as at:
        yield at


@pytest.fixture(scope="session")
def on_phone(browser: Browser, room_at: str) -> Visit:
    """Every page of the room, visited in a phone's window."""
    return visit(browser, room_at, PHONE)


@pytest.fixture(scope="session")
def on_desk(browser: Browser, room_at: str) -> Visit:
    """Every page of the room, visited in a desk's window."""
    return visit(browser, room_at, DESK)


@pytest.fixture(scope="session")
def first_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration of ``TODAY``, its colonies learned from: twenty seconds spent once."""
    path = tmp_path_factory.mktemp("demo") / "demo.mancary"
    assert make_demo(path, on=TODAY).boxes == 96
    learn(path, on=TODAY)
    return path


@pytest.fixture
def demo(first_demo: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may write into."""
    return Path(shutil.copy(first_demo, tmp_path / "demo.mancary"))


@pytest.fixture
def new_book_at(tmp_path: Path) -> Iterator[str]:
    """The address of an empty book."""
    path = tmp_path / "new.mancary"
    open_new(path, name="New room", zone="Europe/Stockholm", pen=evening_pen()).close()
    with served(path, pen=evening_pen(9)) as at:
        yield at
