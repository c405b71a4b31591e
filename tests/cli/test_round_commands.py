"""The commands of the round as a keeper types them: done by halves or late, rhythms edited."""

import json
from pathlib import Path
from secrets import token_bytes
from typing import Any

import pytest
from click.testing import CliRunner, Result

from mancary.book import Book, open_book
from mancary.cli.front import front
from mancary.husbandry.facts import CareGiven, FigureChosen
from mancary.usecases.figures import choose_figure
from mancary.usecases.pen import Pen
from mancary.usecases.round_kept import accepted_round
from tests.conftest import HandClock
from tests.paper.conftest import SUNDAY, furnish

ON = ("--on", SUNDAY.isoformat())


@pytest.fixture
def room(
    book: Book, path: Path, pen: Pen, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> Path:
    """Eight boxes and twelve minutes a week; the commands' pens go by the tests' clock."""
    furnish(book, pen, 8)
    for name in ("wednesday_minutes", "sunday_minutes"):
        choose_figure(book, name, low=6, high=6, why="", scopes={}, pen=pen)
    book.close()
    monkeypatch.setattr(Pen.__init__, "__kwdefaults__", {"clock": clock, "chance": token_bytes})
    return path


def typed(room: Path, *words: str) -> Result:
    return CliRunner().invoke(front, ["--book", str(room), *words])


def told(room: Path, *words: str) -> str:
    answer = typed(room, *words)
    assert answer.exit_code == 0, answer.output
    return answer.stdout


def as_json(room: Path, *words: str) -> Any:
    return json.loads(told(room, *words, "--json"))


def facts(room: Path) -> int:
    with open_book(room) as book:
        return book.head().count


def stops(room: Path) -> list[tuple[str, str]]:
    with open_book(room) as book:
        kept = accepted_round(book, SUNDAY)
    assert kept
    return [(stop.box, care) for stop in kept.evenings[0].stops for care in stop.cares]


def test_done_without_a_kept_plan_says_so_keeps_it_and_is_not_done_twice(room: Path) -> None:
    first = as_json(room, "done", *ON)
    assert not first["plan_was_kept"]
    assert first["given"] == len(stops(room)) > 0
    before = facts(room)
    words = told(room, "done", *ON)
    assert "0 cares written as given" in words
    assert "Already written, and not again" in words
    assert facts(room) == before


def test_the_answer_tells_whether_the_plan_was_kept(room: Path) -> None:
    assert "No plan was kept for that evening" in told(room, "done", *ON)
    assert "No plan was kept" not in told(room, "done", *ON)


def test_two_halves_make_one_round(room: Path) -> None:
    told(room, "round", *ON, "--accept")
    boxes = list(dict.fromkeys(box for box, _ in stops(room)))
    assert len(boxes) > 1
    hers, his = boxes[::2], boxes[1::2]
    one = as_json(room, "done", *ON, *(word for box in his for word in ("--except", box)))
    two = as_json(room, "done", *ON, *(word for box in hers for word in ("--except", box)))
    assert one["given"] + two["given"] == len(stops(room))
    assert {box for box, _ in two["already"]} == set(hers)
    with open_book(room) as book:
        given = [e.fact for e in book.entries() if e.id in (*one["facts"], *two["facts"])]
    assert sorted((f.box, f.care) for f in given if isinstance(f, CareGiven)) == sorted(stops(room))


def test_an_exception_that_never_was_in_the_round_is_refused(room: Path) -> None:
    told(room, "done", *ON)
    before = facts(room)
    answer = typed(room, "done", *ON, "--except", "B00:substrate-whole")
    assert answer.exit_code == 1
    assert "The round has no" in answer.stderr
    assert facts(room) == before


def test_a_late_round_has_its_own_day(room: Path, clock: HandClock) -> None:
    told(room, "round", *ON, "--accept")
    clock.forward(days=4)
    done = as_json(room, "done", *ON)
    with open_book(room) as book:
        days = {entry.happened for entry in book.entries() if entry.id in done["facts"]}
    assert days == {"2026-11-01"}


def test_rhythms_are_edited_and_accepted(room: Path) -> None:
    found = as_json(room, "sustainable", *ON)
    assert found["proposals"]
    first, second = found["proposals"][:2]
    name = f"{first['care']}:{first['care_group']}"
    out = f"{second['care']}:{second['care_group']}"
    edit = ("--set", f"{name}={first['proposed_days'] * 3:g}", "--without", out)
    before = facts(room)
    edited = as_json(room, "sustainable", *ON, *edit)
    assert facts(room) == before
    rows = {(one["care"], one["care_group"]): one["proposed_days"] for one in edited["proposals"]}
    assert rows[first["care"], first["care_group"]] == pytest.approx(
        first["proposed_days"] * 3, rel=0.001
    )
    assert (second["care"], second["care_group"]) not in rows
    assert edited["minutes_proposed"] != found["minutes_proposed"]
    words = told(room, "sustainable", *ON, *edit, "--accept")
    assert f"Under your edited rhythms {edited['minutes_proposed'] / 60:.1f} h a week" in words
    with open_book(room) as book:
        chosen = [e.fact for e in book.entries(after=before) if isinstance(e.fact, FigureChosen)]
    assert len(chosen) == len(edited["proposals"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--set", "vegetable=9"), "expected CARE:GROUP"),
        (("--set", "vegetable:nowhere=9"), "No box wants vegetable of nowhere"),
        (("--set", "vegetable:nowhere"), "expected CARE:GROUP=DAYS"),
        (("--set", "{row}=soon"), "is not a number of days"),
        (("--set", "{row}=0"), "0 days is no rhythm"),
        (("--without", "vegetable:nowhere"), "is not among the rhythms"),
    ],
)
def test_bad_edits_are_refused_by_name_and_nothing_is_accepted(
    room: Path, words: tuple[str, ...], said: str
) -> None:
    first = as_json(room, "sustainable", *ON)["proposals"][0]
    row = f"{first['care']}:{first['care_group']}"
    before = facts(room)
    answer = typed(room, "sustainable", *ON, *(word.format(row=row) for word in words), "--accept")
    assert answer.exit_code == 1, answer.output
    assert said in answer.stderr
    assert facts(room) == before
