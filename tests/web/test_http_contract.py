"""Every address of the app's own description, driven with made-up input: no bug, no other shape."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import requests
import schemathesis
from hypothesis import HealthCheck, settings
from litestar.testing import TestClient
from schemathesis import Case
from schemathesis.checks import not_a_server_error
from schemathesis.core.failures import FailureGroup
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from mancary.web.app import create_app
from mancary.web.reach import Reach
from tests.browser.bug_room import evening_pen
from tests.browser.serving import served, served_to_network
from tests.web.conftest import HERE, token

EXAMPLES, AT_THE_DOOR = 8, 4
"""Made up for each address; at the door less is read of them than in the house."""
ASKED = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]


@pytest.fixture(scope="module")
def address(first_room: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    copy = tmp_path_factory.mktemp("driven") / "room.mancary"
    with served(Path(shutil.copy(first_room, copy)), pen=evening_pen(9)) as at:
        yield at


@pytest.fixture(scope="module")
def session(address: str) -> Iterator[requests.Session]:
    """A program that carries the form's token, as a page of ours would."""
    with requests.Session() as made:
        page = made.get(f"{address}/boxes/A01", timeout=10)
        made.headers["x-csrftoken"] = token(page.text)
        yield made


def described() -> dict[str, Any]:
    """The description needs no book."""
    with TestClient(create_app(Path("none.mancary")), base_url=HERE) as client:
        told: dict[str, Any] = client.get("/openapi.json").json()
    return told


schema = schemathesis.openapi.from_dict(described())


@schema.parametrize()
@settings(
    max_examples=EXAMPLES, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
def test_made_up_input_never_finds_a_bug(
    case: Case[Any], address: str, session: requests.Session
) -> None:
    answer = case.call(base_url=address, session=session)
    case.validate_response(answer, checks=ASKED if own_shape(case) else [not_a_server_error])


def own_shape(case: Case[Any]) -> bool:
    """Not so where a made-up part ends an address for pages as those for programs end."""
    return bool(case.formatted_path.endswith(".json") == case.path.endswith(".json"))


def test_an_address_that_ends_as_one_for_programs_answers_as_one(address: str) -> None:
    """Whatever stands before the end; so what is left out above is looked at here."""
    answer = requests.get(f"{address}/take-in/.json", timeout=10)
    assert answer.status_code == 404
    assert answer.json()["status"] == 404
    page = requests.get(f"{address}/take-in/json", timeout=10)
    assert page.headers["content-type"].startswith("text/html")


THERE = "mancary.local"
FOR_ANYONE = {
    "/pair", "/pair/{code}", "/stand-in/{token}", "/authority", "/authority.crt", "/reading",
    "/manifest.webmanifest", "/worker.js", "/static/{name}",
}  # fmt: skip


@pytest.fixture(scope="module")
def foreign(first_room: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The book as a machine of the network reaches it that is not paired."""
    copy = Path(shutil.copy(first_room, tmp_path_factory.mktemp("foreign") / "room.mancary"))
    reach = Reach(names=frozenset({THERE}), addresses=(f"http://{THERE}:8714",))
    with served_to_network(copy, evening_pen(9), reach, name="127.0.0.1") as (at, _):
        yield at


@pytest.mark.filterwarnings("ignore:.*SpooledTemporaryFile:pytest.PytestUnraisableExceptionWarning")
@schema.parametrize()
@settings(
    max_examples=AT_THE_DOOR,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
def test_without_a_session_made_up_input_is_turned_away(case: Case[Any], foreign: str) -> None:
    """No bug, and never the book: an address opens to anyone, or it asks who is there."""
    answer = case.call(base_url=foreign, headers={"host": THERE})
    case.validate_response(answer, checks=[not_a_server_error])
    assert "Fernhollow" not in answer.text
    if case.path not in FOR_ANYONE:
        assert 400 <= answer.status_code < 500


def test_a_bug_would_be_found(
    address: str, session: requests.Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("mancary.web.routes.check.check", broken)
    case = schema["/check"]["GET"].Case()
    answer = case.call(base_url=address, session=session)
    with pytest.raises(FailureGroup):
        case.validate_response(answer, checks=[not_a_server_error])
