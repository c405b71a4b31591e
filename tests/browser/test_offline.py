"""The server gone in the middle of a round: nothing is lost, nothing is written twice."""

from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from mancary.book import open_book
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, Noted
from mancary.usecases.pen import Pen
from tests.browser.bug_room import make_room
from tests.browser.chromium import phone, until
from tests.browser.serving import served

pytestmark = pytest.mark.browser
MANY = 100


@pytest.fixture
def room(tmp_path: Path) -> Path:
    return make_room(tmp_path / "room.mancary", boxes=32, days=60)


def entries(room: Path) -> list[Entry]:
    with open_book(room) as book:
        return list(book.entries())


def note(page: Page, words: str) -> None:
    form = page.locator("form[data-keep^=Box]")
    form.locator("input[name=word][value=note]").dispatch_event("click")
    form.locator("textarea").fill(words)
    page.locator("form[data-keep^=Box] button:has-text('Write it down')").click()


def kept(page: Page) -> int:
    return int(
        page.evaluate("async () => (await (await import('/static/outbox.js')).all()).length")
    )


KEEP_MANY = """async ([address, many]) => {
    const { keep, newId } = await import('/static/outbox.js');
    for (let n = 0; n < many; n += 1) {
        const body = new URLSearchParams({ word: 'note', once: newId(), note: `entry ${n}`, amount: '', day: '', mark: '' });
        await keep({ id: newId(), address, body: body.toString(), typed: Date.now(), words: `Entry ${n}` });
    }
}"""


def test_the_server_killed_mid_round_loses_nothing_and_doubles_nothing(
    play: Playwright, tmp_path: Path, room: Path
) -> None:
    with served(room, pen=Pen()) as at, phone(play, tmp_path / "phone") as page:
        port = urlsplit(at).port or 0
        page.goto(f"{at}/?today=true")
        until(page, "document.documentElement.dataset.worker === 'ready'")
        page.goto(f"{at}/boxes/A01")
        until(page, "navigator.serviceWorker.controller !== null")
        page.goto(f"{at}/?today=true")
        page.goto(f"{at}/boxes/A01")
    before = len(entries(room))

    with phone(play, tmp_path / "phone") as page:  # the server is gone
        page.goto(f"{at}/?today=true")
        expect(page.locator("h1")).to_contain_text("round")
        page.locator("button[name=only]").first.click()
        expect(page.locator(".kept-note").first).to_contain_text("Taken down on this phone")
        expect(page.locator("#outbox-count")).to_contain_text("1 waiting")
        page.goto(f"{at}/boxes/A01")
        note(page, "seen by the headlamp")
        expect(page.locator("#outbox-count")).to_contain_text("2 waiting")
        page.evaluate(KEEP_MANY, [f"{at}/boxes/A01", MANY - 2])
        page.reload()
        expect(page.locator("#outbox-count")).to_contain_text(f"{MANY} waiting")

    with phone(play, tmp_path / "phone") as page:  # closed and opened again, still no server
        page.goto(f"{at}/boxes/A01")
        expect(page.locator("#outbox-count")).to_contain_text(f"{MANY} waiting")
        bodies = page.evaluate("async () => (await (await import('/static/outbox.js')).all())")
        assert len(entries(room)) == before
        with served(room, pen=Pen(), port=port):
            page.reload()
            expect(page.locator("#outbox")).to_be_hidden(timeout=60_000)
            fresh = entries(room)[before:]
            for _ in range(2):  # sent again, as after an answer that got lost
                last = page.evaluate(
                    """async (bodies) => {
                        const { keep, sendAll } = await import('/static/outbox.js');
                        for (const one of bodies) await keep({ ...one, number: undefined });
                        return await sendAll();
                    }""",
                    bodies,
                )
                assert kept(page) == 0, last
            assert len(entries(room)) == before + len(fresh)

    words = [one.fact.text for one in fresh if isinstance(one.fact, Noted)]
    assert words == ["seen by the headlamp", *(f"entry {n}" for n in range(MANY - 2))]
    assert any(isinstance(one.fact, CareGiven) for one in fresh)
    assert all(one.clock_error_s is not None and abs(one.clock_error_s) < 60 for one in fresh)


def test_a_refused_entry_comes_back_with_the_sentence_and_the_rest_goes_up(
    play: Playwright, tmp_path: Path, room: Path
) -> None:
    with served(room, pen=Pen()) as at, phone(play, tmp_path / "phone") as page:
        page.goto(f"{at}/boxes/A01")
        before = len(entries(room))
        page.evaluate(
            """async (address) => {
                const { keep, newId } = await import('/static/outbox.js');
                const made = (fields) => new URLSearchParams({ amount: '', day: '', mark: '', note: '', once: newId(), ...fields }).toString();
                for (const fields of [{ word: 'count', amount: 'seven or so' }, { word: 'look' }])
                    await keep({ id: newId(), address, body: made(fields), typed: Date.now(), words: 'Box A01' });
            }""",
            f"{at}/boxes/A01",
        )
        page.reload()
        expect(page.locator("#outbox-count")).to_have_text("1 not taken", timeout=20_000)
        bar = page.locator("#outbox")
        expect(bar).to_contain_text("Not taken:")
        expect(bar).to_contain_text("seven or so")
        assert len(entries(room)) == before + 1
        page.reload()
        expect(page.locator("#outbox-count")).to_contain_text("1 not taken")
        page.get_by_role("button", name="Throw it away").click()
        expect(bar).to_be_hidden()


def test_the_phones_clock_error_is_kept_with_each_entry(
    play: Playwright, tmp_path: Path, room: Path
) -> None:
    """A phone that runs two hours ahead: it happened by the book's clock, and the error is told."""
    with served(room, pen=Pen()) as at, phone(play, tmp_path / "phone") as page:
        page.add_init_script("const now = Date.now; Date.now = () => now() + 7200000;")
        page.goto(f"{at}/boxes/A01")
        note(page, "an hour that is none")
        page.wait_for_url("**written=**")
        entry = entries(room)[-1]
    assert entry.clock_error_s == pytest.approx(7200, abs=60)  # a slow machine answers late
    happened = datetime.fromisoformat(entry.happened)
    assert abs((datetime.now(UTC) - happened).total_seconds()) < 120
    assert (datetime.fromisoformat(entry.typed) - happened).total_seconds() == pytest.approx(
        7200, abs=60
    )


def test_two_phones_at_once_each_write_their_half(
    play: Playwright, tmp_path: Path, room: Path
) -> None:
    before = len(entries(room))
    with (
        served(room, pen=Pen()) as at,
        phone(play, tmp_path / "one") as one,
        phone(play, tmp_path / "two") as two,
    ):
        for page in (one, two):
            page.goto(f"{at}/boxes/A01")
            page.evaluate(KEEP_MANY, [f"{at}/boxes/A01", 20])
        for page in (one, two):
            page.reload()
        for page in (one, two):
            expect(page.locator("#outbox")).to_be_hidden(timeout=60_000)
    assert len(entries(room)) == before + 40


def test_without_script_the_round_is_sent_as_it_is(room: Path, browser: Browser) -> None:
    before = len(entries(room))
    with served(room, pen=Pen()) as at:
        page = browser.new_context(java_script_enabled=False).new_page()
        page.goto(f"{at}/boxes/A01")
        note(page, "no script here")
        expect(page.locator("main")).to_contain_text("no script here")
        assert page.locator("#outbox").is_hidden()
    assert len(entries(room)) == before + 1
