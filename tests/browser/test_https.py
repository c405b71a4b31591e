"""A page at another name than the desk's: over trusted HTTPS it has a worker, in the open none."""

import base64
import hashlib
import ssl
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from playwright.sync_api import Page, Playwright, expect

from mancary.access.tls import Vouching
from mancary.usecases.pen import Pen
from mancary.web.reach import Reach
from tests.browser.bug_room import make_room
from tests.browser.chromium import phone, until
from tests.browser.serving import served_to_network

pytestmark = pytest.mark.browser
NAME = "mancary.local"
OWN_ONLY = "--host-resolver-rules=MAP mancary.local 127.0.0.1"


@pytest.fixture
def room(tmp_path: Path) -> Path:
    return make_room(tmp_path / "room.mancary", boxes=16, days=30)


def trusting(leaf: Path) -> str:
    """Chromium's switch to take a key; whether the chain is good OpenSSL says in test_authority."""
    key = x509.load_pem_x509_certificate(leaf.read_bytes()).public_key()
    spki = key.public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    held = base64.b64encode(hashlib.sha256(spki).digest()).decode()
    return f"--ignore-certificate-errors-spki-list={held}"


@pytest.fixture
def context(room: Path) -> ssl.SSLContext:
    return Vouching(room, NAME, ["192.168.1.5"], lambda: datetime.now(UTC)).context


def let_in(page: Page, at: str, code: str) -> None:
    page.goto(f"{at}/pair")
    page.fill("#code", code)
    page.fill("#name", "Phone at the rack")
    page.click("button.wide")
    expect(page.locator("h1")).to_contain_text("round")


@pytest.fixture
def reach() -> Reach:
    return Reach(names=frozenset({NAME}), addresses=(f"https://{NAME}",), secure=True)


def test_over_trusted_https_the_round_opens_with_the_server_gone(
    play: Playwright, tmp_path: Path, room: Path, context: ssl.SSLContext, reach: Reach
) -> None:
    leaf = room.with_name(f"{room.name}.leaf.pem")
    with phone(play, tmp_path / "phone", OWN_ONLY, trusting(leaf)) as page:
        with served_to_network(room, Pen(), reach, name=NAME, tls=context) as (at, keeper):
            let_in(page, at, keeper.code.shown())
            until(page, "document.documentElement.dataset.worker === 'ready'")
            assert page.evaluate("isSecureContext")
            page.reload()
            page.wait_for_load_state("networkidle")
        page.reload()
        expect(page.locator("h1")).to_contain_text("round")


def test_over_plain_http_there_is_no_worker_and_an_open_page_still_keeps(
    play: Playwright, tmp_path: Path, room: Path
) -> None:
    open_to = Reach(names=frozenset({NAME}), addresses=(f"http://{NAME}",))
    with phone(play, tmp_path / "phone", OWN_ONLY) as page:
        with served_to_network(room, Pen(), open_to, name=NAME) as (at, keeper):
            let_in(page, at, keeper.code.shown())
            page.goto(f"{at}/?today=true")
            assert not page.evaluate("isSecureContext")
            assert page.evaluate("document.documentElement.dataset.worker") is None
        page.locator("button[name=only]").first.click()
        expect(page.locator(".kept-note").first).to_contain_text("Taken down on this phone")
        expect(page.locator("#outbox-count")).to_contain_text("1 waiting")
