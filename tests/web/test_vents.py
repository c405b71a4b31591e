"""The bench of vents: an address that can be bookmarked, ranges, drawings, and what is refused."""

import re

import pytest

from mancary.husbandry.vent_choices import Tool, drilled
from mancary.web.drawing.ends import ends
from tests.web.conftest import Client, words

ASKED = {"litres": "3", "species": "Porcellio scaber"}


def test_the_empty_page_asks_and_says_nothing_of_holes(client: Client) -> None:
    page = client.get("/vents")
    assert page.status_code == 200
    assert "<table" not in page.text
    assert 'name="_csrf_token"' not in page.text
    assert 'method="post"' not in page.text


def test_the_choices_stand_side_by_side_with_ranges_and_words(client: Client) -> None:
    page = client.get("/vents", params=ASKED)
    said = words(page.text)
    assert page.status_code == 200
    assert page.text.count('<table class="bench">') == 3
    assert re.search(
        r"\d+ of 3 mm in the lid only, spread evenly (\d+(\.\d+)?) to (\d+(\.\d+)?) (\d+) to (\d+)",
        said,
    )
    for sentence in (
        "of Porcellio scaber", "is ours", "one row more, +", "differs little between the ends",
        "glasses", "clamp", "empty", "fumes", "heat mat", "Assumed, since nobody told",
        "a wall of 1.5 mm",
    ):  # fmt: skip
        assert sentence in said, sentence


def test_no_figure_of_a_choice_is_without_its_range(client: Client) -> None:
    page = client.get("/vents", params=ASKED).text
    cells = re.findall(r"<td>(.*?)</td>", page)
    assert len(cells) > 60
    for cell in cells:
        plain = words(f"<main>{cell}")
        assert re.match(r"[\d.]+( to [\d.]+)?\b", plain)
        assert " to " in plain


def test_a_box_of_the_book_says_how_it_is_now(client: Client) -> None:
    said = words(client.get("/vents", params={"box": "a01"}).text)
    assert "Box A01" in said
    assert re.search(r"As it is , \d+ vents?: [\d.]+ to [\d.]+ mL a week", said)


def test_each_choice_has_an_address_that_draws_it(client: Client) -> None:
    page = client.get("/vents", params=ASKED).text
    addresses = re.findall(r'<th scope="row"><a href="([^"]+)"', page)
    assert len(addresses) > 10
    for address in addresses[:: len(addresses) // 4]:
        drawn = client.get(address.replace("&amp;", "&").partition("#")[0]).text
        shown = re.search(r'<tr class="shown">.*?>(\d+) of ([\d.]+) mm<', drawn)
        assert shown
        headline = re.search(r'<h2 id="drawn">(\d+) (?:hole|window)s? of ([\d.]+) mm', drawn)
        assert headline
        assert headline.groups() == shown.groups()
        marks = len(re.findall(r'<(?:circle|rect) class="(?:hole|mesh)"', drawn))
        assert marks == int(shown[1])


@pytest.mark.parametrize(
    ("asked", "status", "said"),
    [
        ({"litres": "3"}, 422, "Say what air the box wants"),
        ({"ventilation": "low"}, 422, "Say how large the box is"),
        ({"litres": "three", "ventilation": "low"}, 422, "is not a number"),
        ({"litres": "3", "ventilation": "low", "room": "attic"}, 422, "expected cupboard"),
        ({"litres": "3", "ventilation": "low", "mm": "3 x"}, 422, "is not a number"),
        ({"box": "Z99"}, 422, "There is no box Z99"),
        ({"litres": "3", "ventilation": "low", "draw": "nonsense"}, 200, "holes of"),
        ({"litres": "2,5", "ventilation": "low", "nothing": "here"}, 200, "A box of 2.5 L"),
    ],
)
def test_what_is_typed_is_read_or_the_field_is_named(
    client: Client, asked: dict[str, str], status: int, said: str
) -> None:
    page = client.get("/vents", params=asked)
    assert page.status_code == status
    assert said in words(page.text)
    for name, typed in asked.items():
        if name in ("litres", "box", "mm"):
            assert f'value="{typed}"' in page.text


def test_what_is_typed_is_escaped(client: Client) -> None:
    page = client.get("/vents", params={"species": '"><b>x</b>', "litres": "3"})
    assert "<b>x</b>" not in page.text


def test_the_ends_are_drawn_to_scale_above_the_floor() -> None:
    vents = drilled("two_heights", 16, Tool(3))
    made = ends(12.5, 12, 8, "two_heights", vents)
    scale = made.width / 12.5
    assert made.height == pytest.approx(12 * scale, abs=0.1)
    assert made.soil == pytest.approx(4 * scale, abs=0.1)
    for hole in made.holes:
        assert hole.r == pytest.approx(0.15 * scale, abs=0.01)
    heights = sorted({hole.y for hole in made.holes})
    assert heights[1] - heights[0] == pytest.approx(6 * scale, abs=0.2)
    floor = made.top + made.height - made.soil
    assert all(made.top < hole.y + hole.r <= floor for hole in made.holes)


@pytest.mark.parametrize("holes", [2, 8, 20, 40])
def test_all_holes_of_both_ends_are_drawn_apart(holes: int) -> None:
    made = ends(12.5, 12, 8, "both_ends", drilled("both_ends", holes, Tool(3)))
    assert len(made.holes) == holes
    spots = [(hole.x, hole.y) for hole in made.holes]
    r = made.holes[0].r
    for i, (x, y) in enumerate(spots):
        for u, v in spots[i + 1 :]:
            assert ((x - u) ** 2 + (y - v) ** 2) ** 0.5 > 2 * r


def test_next_to_nothing_wanted_is_asked_about(client: Client) -> None:
    page = client.get("/vents", params={"litres": "3", "ml_a_week": "1e-320"})
    assert page.status_code == 422
    assert "expected a figure of 0.001 or more" in words(page.text)
