"""The register, a box's card, and the codes that make an address hard."""

import csv
import io
import re
from html import unescape
from pathlib import Path

import pytest
from msgspec.structs import replace

from mancary.book import open_book
from mancary.husbandry.codes import code
from mancary.husbandry.facts import BoxDescribed, BoxRetired, FigureChosen, Noted
from mancary.usecases.record import write
from mancary.usecases.zone import zone_of
from mancary.web.registered import Looking, csv_of, found_boxes
from mancary.web.templating import STATIC
from mancary.web.wording import box_address
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, posted, words


def test_the_register_is_found_by_any_word(client: Client) -> None:
    for asked in ("ardentiella", "Ember Bee", "line-03", "a04", "ARDENTIELLA bee"):
        assert 'href="/boxes/A04"' in client.get("/boxes", params={"q": asked}).text
    none = client.get("/boxes", params={"q": "no such thing"}).text
    assert "0 boxes with “no such thing”" in words(none)


def test_the_register_says_what_is_spare_and_what_is_set_apart(client: Client) -> None:
    assert "spare" in words(client.get("/boxes?q=B07").text)
    assert "set apart" in words(client.get("/boxes?q=A18").text)


def test_the_register_is_sorted_by_a_link(client: Client) -> None:
    html = client.get("/boxes?sort=litres").text
    assert html.index("1.5\u00a0L") < html.index("12\u00a0L")
    assert client.get("/boxes?sort=nonsense").status_code == 200


def test_the_register_is_turned_round_and_blanks_stay_last(client: Client) -> None:
    up, down = (codes(client, sort="litres", turned=turned) for turned in ("", "yes"))
    assert up != down
    assert sorted(up) == sorted(down)
    spare = set(codes(client, which="spare"))
    for turned in ("", "yes"):
        assert set(codes(client, sort="since", turned=turned)[-len(spare) :]) == spare


def test_the_register_is_filtered_at_an_address(client: Client) -> None:
    every = codes(client)
    parts = {one: codes(client, which=one) for one in ("lived in", "spare", "set apart")}
    assert set(parts["lived in"]) | set(parts["spare"]) == set(every)
    assert not set(parts["lived in"]) & set(parts["spare"])
    assert "A18" in parts["set apart"]
    shelves = re.findall(r'<option value="([^"]*)"', client.get("/boxes").text.split("of-shelf")[2])
    by_shelf = [codes(client, shelf=one) for one in shelves if one != "any"]
    assert len(by_shelf) > 1
    assert sorted(box for boxes in by_shelf for box in boxes) == sorted(every)
    assert codes(client, which="no such") == every
    assert "1 box so." in words(client.get("/boxes?which=set+apart").text)


def test_what_is_shown_is_had_as_a_table(client: Client) -> None:
    """RFC 4180, read again by Python's own reader; order and boxes are those of the page."""
    html = client.get("/boxes?sort=since&turned=yes&q=a").text
    address = re.search(r'href="(/boxes\.csv[^"]*)"', html)
    assert address
    answer = client.get(unescape(address[1]))
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    rows = list(csv.DictReader(io.StringIO(answer.text, newline="")))
    assert [row["box"] for row in rows] == codes(client, q="a", sort="since", turned="yes")
    assert any(row["litres"] == "5.5" for row in rows)


def test_no_cell_of_the_table_starts_a_formula(room: Path) -> None:
    with open_book(room) as book:
        one = found_boxes(book, zone_of(book), Looking(q="A04"))[0]
    hostile = replace(one, as_bought="=1+1", morph="@SUM(1)")
    row = next(csv.DictReader(io.StringIO(csv_of([hostile]), newline="")))
    assert (row["bought_as"], row["morph"]) == ("'=1+1", "'@SUM(1)")


def codes(client: Client, **asked: str) -> list[str]:
    html = client.get("/boxes", params=asked).text
    return re.findall(r'<li><a href="/boxes/[^"]+"><b>([^<]+)</b>', html)


def test_a_long_register_comes_in_parts(client: Client, room: Path) -> None:
    with open_book(room) as book:
        facts = [BoxDescribed(box=f"X{number:03d}") for number in range(200)]
        write(book, facts, pen=evening_pen(2))
    first = client.get("/boxes").text
    assert "The next 100" in first
    assert "X199" not in first
    assert "X199" in client.get("/boxes?after=200").text


@pytest.mark.parametrize(
    "typed", ["A 1/2", "A.1", "Ö 3", "A-1+2", "A#4", "A/../B", "5.JSON", "A1.json"]
)
def test_any_code_a_label_can_carry_has_an_address(client: Client, room: Path, typed: str) -> None:
    with open_book(room) as book:
        write(book, [BoxDescribed(box=code(typed), litres=3)], pen=evening_pen(2))
    address = box_address(code(typed))
    assert f'href="{address}"' in client.get("/boxes", params={"q": typed}).text
    answer = client.get(address)
    assert answer.status_code == 200
    assert code(typed) in words(answer.text)
    posted(client, address, word="look")
    assert client.get(f"{address}.json").json()["box"]["code"] == code(typed)


def test_paths_match_without_case(client: Client) -> None:
    assert words(client.get("/boxes/a01").text) == words(client.get("/boxes/A01").text)


def test_the_card_says_what_is_not_told(client: Client, room: Path) -> None:
    with open_book(room) as book:
        write(book, [BoxDescribed(box="X1")], pen=evening_pen(2))
    said = words(client.get("/boxes/X1").text)
    for sentence in (
        "Length and width are not told, so this is a sketch and not to scale.",
        "Litres not told",
        "Damp share of the floor not told.",
        "Vents not told.",
        "It stands on no shelf that the book knows of",
        "no colony lives in it",
    ):
        assert sentence in said


def test_a_known_box_is_drawn_to_scale_with_its_vents(client: Client) -> None:
    html = client.get("/boxes/A01").text
    assert html.count('class="hole"') == 24
    assert "drawn to scale" in html
    assert "10 cm" in html


def test_a_rhythm_says_whose_it_is_and_how_well_it_is_known(client: Client) -> None:
    said = words(client.get("/boxes/A01").text)
    assert "the handbook, common practice, no source" in said
    assert "the handbook, memory" in said
    assert "About weekly, taken as every 6 to 9 days: the handbook" in said


def test_a_figure_of_the_keepers_own_is_said_to_be_his(client: Client, room: Path) -> None:
    with open_book(room) as book:
        own = FigureChosen(
            scope="box", code="A01", figure="vegetable_days", low=10, high=20, why="eats slowly"
        )
        write(book, [own], pen=evening_pen(2))
    said = words(client.get("/boxes/A01").text)
    assert "Every 10 to 20 days: yours, for this box (eats slowly)" in said


def test_the_time_line_is_cut_and_opens_in_full(client: Client, room: Path) -> None:
    with open_book(room) as book:
        facts = [Noted(what="box", code="A01", text=f"line {number}") for number in range(60)]
        write(book, facts, pen=evening_pen(2), happened="2026-11-01")
    short = client.get("/boxes/A01").text
    assert short.count("<time>") == 40
    total = len(client.get("/boxes/A01.json").json()["time_line"])
    assert f"All {total} facts" in words(short)
    assert client.get(f"/boxes/A01?most={total}").text.count("<time>") == total


def test_a_withdrawn_fact_stays_on_the_time_line_with_its_reason(client: Client) -> None:
    said = client.get("/boxes/A01").text
    assert "<s>dead 30</s>" in said
    assert "withdrawn: counted the sheds, not the animals" in words(said)


def test_a_state_is_said_in_words_beside_its_hatching(client: Client, room: Path) -> None:
    with open_book(room) as book:
        write(book, [BoxRetired(box="B07", why="cracked")], pen=evening_pen(2))
    apart, over = client.get("/boxes/A18").text, client.get("/boxes/B07").text
    assert 'class="state apart"><strong>Set apart since 1 November</strong>' in apart
    assert 'class="state over"><strong>Out of use</strong>' in over
    assert 'class="state' not in client.get("/boxes/A01").text
    css = (STATIC / "mancary.css").read_text(encoding="utf-8")
    for mark in (".apart", ".over"):
        assert f"{mark} {{ background: repeating-linear-gradient(" in css


def test_a_count_of_a_colony_that_left_is_not_shown(client: Client) -> None:
    assert "Last count" in words(client.get("/boxes/A01").text)
    assert "Last count" not in words(client.get("/boxes/B07").text)


def test_check_says_that_the_seals_hold(client: Client, room: Path) -> None:
    with open_book(room) as book:
        head = book.head()
    said = words(client.get("/check").text)
    assert f"All {head.count} facts stand as they were written" in said
    assert head.seal in said
