"""What the boxes want: shelves in walking order, what presses, and what is quietly unknown."""

import re
from datetime import UTC, date
from pathlib import Path

import pytest
from litestar.testing import TestClient

from mancary.book import open_book
from mancary.husbandry.facts import CareGiven, FigureChosen
from mancary.husbandry.wants import Want
from mancary.usecases.record import write
from mancary.usecases.wants import wants_list
from mancary.web.app import create_app
from mancary.web.pressing import pressing, waiting
from mancary.web.wording import Wording, rhythm, span, stretch
from tests.browser.bug_room import TODAY, evening_pen, make_room
from tests.web.conftest import HERE, Client, words


def want(state: str, latest: date | None = None, late: int = 0, high: float = 10) -> Want:
    return Want(
        care="protein", state=state, last="2026-11-01", low_days=5, high_days=high, due=latest,  # type: ignore[arg-type]
        latest=latest, late_days=late, whose="the handbook", kind="memory", source="memory", said="",
    )  # fmt: skip


def test_what_presses_is_late_or_runs_out_today_or_tomorrow() -> None:
    tomorrow, later = want("due", date(2026, 11, 26)), want("due", date(2026, 11, 27))
    late = want("late", date(2026, 11, 1), 24)
    unknown = want("no_record")
    every = (later, unknown, tomorrow, late)
    assert pressing(every, TODAY) == (late, tomorrow)
    assert waiting(every, TODAY) == (later,)


def test_lateness_is_measured_against_the_rhythm() -> None:
    weekly, yearly = want("late", None, 14, high=7), want("late", None, 20, high=365)
    assert pressing((yearly, weekly), TODAY) == (weekly, yearly)


def test_shelves_come_in_walking_order_with_their_boxes(client: Client) -> None:
    html = client.get("/wants").text
    shelves = re.findall(r"<h2 id=\"s\d+\">([^<]+)</h2>", html)
    assert shelves[:2] == ["Shelf A1", "Shelf A2"]
    assert shelves[-1] == "Set apart, shelf A3"
    assert "6 boxes from the left: A01, A02, A03, A04, A05, A06." in html


def test_every_box_with_a_colony_is_on_the_page_once(client: Client, room: Path) -> None:
    html = client.get("/wants").text
    with open_book(room) as book:
        living = [box.box for box in wants_list(book, on=TODAY).boxes]
    assert sorted(re.findall(r'href="/boxes/(\w+)"', html)) == sorted(living)


def test_a_box_that_is_late_is_drawn_forward_with_a_tag_and_said_in_words(
    client: Client, room: Path
) -> None:
    with open_book(room) as book:
        figure = FigureChosen(scope="box", code="A02", figure="label_check_days", low=2, high=3)
        care = CareGiven(box="A02", care="label_check")
        write(book, [figure], pen=evening_pen(4))
        write(book, [care], pen=evening_pen(5), happened="2026-10-01")
    html = client.get("/wants").text
    assert "label check, 7 weeks late" in html
    assert '<text class="tagword"' in html
    assert ">label</text>" in html
    assert re.search(r"Drawn forward: [^.]*A02", html)


def test_a_care_without_a_date_is_said_quietly_at_the_end(client: Client) -> None:
    said = words(client.get("/wants").text)
    assert "No record yet" in said
    assert "joins the list above" in said
    assert "half change of substrate" in said.partition("No record yet Of these")[2]


def test_invented_data_is_said_on_every_page(client: Client) -> None:
    for address in ("/", "/boxes", "/boxes/A01", "/species", "/take-in", "/check", "/nothing"):
        assert "Invented data." in client.get(address).text
    assert client.get("/wants.json").json()["invented"] is True


def test_a_book_that_is_not_invented_does_not_say_so(empty: Client) -> None:
    assert "Invented" not in empty.get("/wants").text


def test_an_empty_book_says_what_to_do(empty: Client) -> None:
    html = empty.get("/wants").text
    assert 'href="/take-in">Take in the sheet you have' in html
    assert 'href="/new-box">Name the first box' in html


def test_the_day_may_be_handed_in(room: Path) -> None:
    with TestClient(create_app(room, today=lambda: date(2027, 2, 1)), base_url=HERE) as client:
        said = words(client.get("/wants").text)
    assert "Monday 1 February 2027" in said
    assert "The last care written down is of 25 November 2026." in said


def test_the_first_page_of_96_boxes_stays_below_60_kb(tmp_path: Path) -> None:
    room = make_room(tmp_path / "full.mancary", days=60)
    with TestClient(create_app(room, pen=evening_pen()), base_url=HERE) as client:
        for address in ("/", "/boxes", "/boxes/A01", "/species"):
            answer = client.get(address)
            assert int(answer.headers["content-length"]) < 60_000  # as it travels, packed


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (0, "0 days"),
        (1, "1 day"),
        (13, "13 days"),
        (14, "2 weeks"),
        (60, "9 weeks"),
        (63, "2 months"),
    ],
)
def test_days_in_words(days: float, said: str) -> None:
    assert span(days) == said


def test_how_long_in_words() -> None:
    assert stretch(28, 56) == "4 to 8 weeks"
    assert stretch(84, 84) == "12 weeks"
    assert stretch(7, 7) == "1 week"
    assert stretch(5, 9) == "5 to 9 days"


def test_rhythms_in_words() -> None:
    assert rhythm(7, 7) == "every 7 days"
    assert rhythm(28, 56) == "every 4 to 8 weeks"
    assert rhythm(3, 7) == "every 3 to 7 days"
    assert rhythm(182, 274) == "every 6 to 9 months"


def test_dates_in_sentences_are_said_as_a_keeper_says_them() -> None:
    say = Wording(on=date(2026, 11, 25), zone=UTC)
    assert say.prose("seen on 2026-11-24, until 2027-02-16.") == (
        "seen on 24 November, until 16 February 2027."
    )
    assert say.prose("sack 2026-13-45") == "sack 2026-13-45"
