"""Whom the page answers, with which headers, and that it asks nobody else for anything."""

import re
from pathlib import Path

import pytest
from litestar.testing import TestClient

from mancary.web.app import create_app
from mancary.web.door import HEADERS
from mancary.web.entering import host_of
from tests.web.conftest import Client

PAGES = (
    "/", "/wants", "/boxes", "/boxes?q=ardentiella&sort=litres", "/boxes/A01", "/species", "/species?q=laevis",
    "/species/porcellio-laevis", "/take-in", "/new-box", "/check", "/nothing-here", "/boxes/Z99",
)  # fmt: skip


@pytest.mark.parametrize("address", [*PAGES, "/wants.json", "/openapi.json", "/static/mancary.css"])
def test_every_answer_carries_the_headers(client: Client, address: str) -> None:
    answer = client.get(address)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value, name


def test_the_policy_allows_own_scripts_alone_and_no_other_host() -> None:
    policy = HEADERS["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self';" in policy
    assert "unsafe" not in policy
    assert "http" not in policy


@pytest.mark.parametrize("address", PAGES)
def test_pages_hold_nothing_inline_and_no_outside_address(client: Client, address: str) -> None:
    html = client.get(address).text
    html = re.sub(r'<script type="module" src="/static/[\w.]+\?[0-9a-f]+"></script>', "", html)
    assert not re.search(r"<script|<style|\sstyle=|\son\w+=|javascript:", html, re.IGNORECASE)
    assert not re.findall(r'(?:href|src|action)="(?:https?:)?//', html)


def test_the_stylesheet_fetches_nothing(client: Client) -> None:
    css = client.get("/static/mancary.css").text
    assert not re.search(r"@import|url\(|@font-face", css)


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8714", "127.0.0.1.evil.example", ""]
)
def test_another_name_for_this_machine_is_turned_away(client: Client, host: str) -> None:
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "A01" not in answer.text


@pytest.mark.parametrize(
    "host", ["127.0.0.1", "localhost:8714", "LOCALHOST", "[::1]:8714", "[::1]"]
)
def test_its_own_names_are_answered(client: Client, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 200


def test_a_request_without_a_host_has_no_name() -> None:
    assert host_of({"headers": [(b"accept", b"*/*")]}) == ""  # type: ignore[arg-type]


def test_pages_are_not_kept_by_caches_but_the_sheet_is(client: Client) -> None:
    assert client.get("/").headers["cache-control"] == "no-store"
    address = re.search(r'href="(/static/mancary\.css[^"]*)"', client.get("/").text)
    assert address
    assert "max-age=31536000" in client.get(address.group(1)).headers["cache-control"]


def test_the_token_cookie_is_for_this_app_alone(room: Path, client: Client) -> None:
    cookie = client.get("/boxes/A01").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "samesite=lax" in cookie.lower()
    with TestClient(create_app(room), base_url="http://127.0.0.1") as other:
        theirs = other.get("/boxes/A01").headers["set-cookie"]
    assert cookie.split("=")[0] != theirs.split("=")[0]


def test_the_first_load_of_the_round_is_light(client: Client) -> None:
    """The look's own limit, 60 kB, as the bytes are sent; the room of 96 boxes is in bench/."""
    packed = {"accept-encoding": "gzip"}
    sent = 0
    page = client.get("/?today=true", headers=packed).text
    addresses = re.findall(r'(?:href|src)="(/(?:static/|manifest)[^"]+)"', page)
    assert len(addresses) >= 4
    for address in ("/?today=true", *addresses, "/static/outbox.js"):
        with client.stream("GET", address, headers=packed) as answer:
            sent += sum(len(part) for part in answer.iter_raw())
    assert 5_000 < sent < 60_000


def test_a_static_file_is_sent_again_only_when_it_changed(client: Client) -> None:
    first = client.get("/static/outbox.js")
    assert first.headers["cache-control"] == "no-cache"
    again = client.get("/static/outbox.js", headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    other = client.get("/static/outbox.js", headers={"if-none-match": '"other"'})
    assert other.content == first.content
    assert client.get("/static/nothing.js").status_code == 404
