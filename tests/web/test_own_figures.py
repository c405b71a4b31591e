"""Figures of the keeper's own: chosen and given back on a card and a species' page."""

from pathlib import Path

import pytest

from mancary.book import open_book
from mancary.husbandry.facts import FigureChosen
from mancary.usecases.record import write
from mancary.usecases.standings import register_of
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, posted, words

FORM, AT = "/boxes/A01", "/boxes/A01/figures"


def figures(room: Path) -> dict[tuple[str, str, str], FigureChosen]:
    with open_book(room) as book:
        return register_of(book).figures


def test_nothing_chosen_is_said(client: Client) -> None:
    assert "None: the handbook’s figures hold." in words(client.get(FORM).text)


def test_a_rhythm_is_chosen_for_this_box(client: Client, room: Path) -> None:
    answer = posted(
        client, AT, form=FORM, do="choose", figure="vegetable_days", low="8", high="10,5",
        scope="box:A01", why="they eat slowly",
    )  # fmt: skip
    chosen = figures(room)["box", "A01", "vegetable_days"]
    assert (chosen.low, chosen.high, chosen.why) == (8, 10.5, "they eat slowly")
    said = words(answer.text)
    assert "Written: own figure: vegetable, days between 8-10.5: they eat slowly" in said
    assert "Vegetable, days between 8-10.5, for this box, A01: they eat slowly. It holds." in said
    assert "yours, for this box (they eat slowly)" in said


def scopes(room: Path) -> dict[str, str]:
    with open_book(room) as book:
        line = register_of(book).line_in("A01")
    assert line
    return {"line": line.slug, "species": line.species}


@pytest.mark.parametrize("kind", ["line", "species", "care_group", "all"])
def test_every_scope_can_be_chosen_and_given_back(client: Client, room: Path, kind: str) -> None:
    code = {**scopes(room), "care_group": "fast-compost", "all": ""}[kind]
    fields = {"figure": "protein_feeds_per_week", "scope": f"{kind}:{code}"}
    posted(client, AT, form=FORM, do="choose", low="2", **fields)
    assert figures(room)[kind, code, "protein_feeds_per_week"].low == 2
    answer = posted(client, AT, form=FORM, do="back", **fields)
    assert figures(room) == {}
    assert "own figure given back" in words(answer.text)


def test_the_nearest_holds_and_the_other_gives_way(client: Client, room: Path) -> None:
    for scope in ("all:", "box:A01"):
        posted(client, AT, form=FORM, figure="mist_days", low="3", scope=scope)
    said = words(client.get(FORM).text)
    assert "Misting, days between 3, for this box, A01. It holds." in said
    assert "for all boxes. It gives way to yours for this box, A01." in said
    elsewhere = words(client.get("/boxes/A02").text)
    assert "for all boxes. It holds." in elsewhere


def test_the_species_page_chooses_for_the_species(client: Client, room: Path) -> None:
    told = scopes(room)
    at = f"/species/{told['species']}"
    answer = posted(
        client, f"{at}/figures", form=at, figure="vegetable_days", low="5",
        scope=f"species:{told['species']}",
    )  # fmt: skip
    assert answer.url.path == at
    assert "Vegetable, days between 5, for this species. It holds." in words(answer.text)
    assert "yours, for this species" in words(client.get(FORM).text)


def test_the_species_page_shows_its_lines_beside(client: Client, room: Path) -> None:
    told = scopes(room)
    with open_book(room) as book:
        facts = [
            FigureChosen(scope="line", code=told["line"], figure="vegetable_days", low=4, high=4),
            FigureChosen(scope="all", figure="vegetable_days", low=6, high=7),
        ]
        write(book, facts, pen=evening_pen(3))
    said = words(client.get(f"/species/{told['species']}").text)
    assert f"for the line {told['line']}. It holds there." in said
    assert "6-7, for all boxes. It holds." in said


@pytest.mark.parametrize(
    ("fields", "field", "said"),
    [
        ({"figure": "nonsense"}, "figure", "Choose which figure."),
        ({"scope": "room:1"}, "scope", "Choose what it is for."),
        ({"low": ""}, "low", "Say a number."),
        ({"low": "often"}, "low", "is not a number"),
        ({"low": "9", "high": "2"}, "low", "is no range"),
        ({"low": "-1"}, "low", "is no range"),
        ({"scope": "line:none"}, "low", "There is no line"),
    ],
)
def test_what_does_not_fit_is_named_and_kept(
    client: Client, room: Path, fields: dict[str, str], field: str, said: str
) -> None:
    told = {"figure": "vegetable_days", "low": "5", "scope": "box:A01", "why": "kept", **fields}
    for form, at in (
        (FORM, AT),
        ("/species/porcellio-scaber", "/species/porcellio-scaber/figures"),
    ):
        answer = posted(client, at, form=form, **told)
        assert answer.status_code == 422
        assert f'id="fault-own-{field}"' in answer.text
        assert said in words(answer.text)
        assert 'name="why" value="kept"' in answer.text
    assert figures(room) == {}


def test_slack_is_said_once(client: Client) -> None:
    assert words(client.get(FORM).text).count("a seventh of it either way is ours") == 1
