"""The finder, the pages of the handbook, and the keeper's own."""

from pathlib import Path

import pytest

from mancary import handbook
from mancary.book import open_book
from mancary.husbandry.facts import CareGiven, Founded, LineNamed, SeenInBox
from mancary.usecases.record import write
from tests.browser.bug_room import evening_pen
from tests.web.conftest import Client, posted, words


def test_every_page_is_listed_under_its_care_group(client: Client) -> None:
    html = client.get("/species").text
    for slug in handbook.species_slugs():
        assert f'href="/species/{slug}"' in html
    for group in handbook.groups():
        assert group.name.casefold() in html.casefold()


@pytest.mark.parametrize("slug", handbook.species_slugs()[::7])
def test_each_figure_says_kind_and_source(client: Client, slug: str) -> None:
    said = words(client.get(f"/species/{slug}").text)
    for figure in handbook.figures(slug).values():
        citation = figure.seen.rpartition(" [")[0] or figure.seen
        assert f"({figure.basis}): " in said
        assert citation.split()[0] in said


def test_a_figure_of_the_care_group_is_said_to_be_so(client: Client) -> None:
    lent = [
        one for one in handbook.figures("porcellio-laevis").values() if one.from_ == "care group"
    ]
    said = words(client.get("/species/porcellio-laevis").text)
    assert lent
    assert said.count("answered from the care group") == len(lent)


def test_blanks_are_said_as_blanks(client: Client) -> None:
    blank = [
        slug
        for slug in handbook.species_slugs()
        if set(handbook.page(slug).blank) - set(handbook.figures(slug))
    ]
    assert blank
    assert "Not known:" in words(client.get(f"/species/{blank[0]}").text)


def test_the_finder_says_how_sure_it_is(client: Client) -> None:
    said = words(client.get("/species", params={"q": "Porcelio scaber"}).text)
    assert "Porcellio scaber" in said
    assert "as good as certain, 95 %" in said
    assert "by a spelling near to it" in said


def test_an_unknown_form_becomes_a_page_of_the_keepers_own(client: Client) -> None:
    form = "/species?q=Cubaris+harbour+fog"
    answer = posted(
        client, "/species", form=form, name="Cubaris sp. Harbour Fog",
        care_group="asian-cave-armadillidae",
    )  # fmt: skip
    assert answer.status_code == 200
    said = words(answer.text)
    assert "Your own page." in said
    assert "tropical Asian Armadillidae" in said
    assert "(yours)" in client.get("/species").text


@pytest.mark.parametrize(("name", "group"), [("", "springtails"), ("Cubaris sp. Fog", "nonsense")])
def test_an_own_page_that_does_not_fit_is_said(client: Client, name: str, group: str) -> None:
    answer = posted(client, "/species", form="/species?q=x", name=name, care_group=group)
    assert answer.status_code == 422
    assert 'class="fault"' in answer.text


def test_the_page_tells_what_the_keepers_boxes_say(client: Client) -> None:
    said = words(client.get("/species/agabiformius-lentus").text)
    assert "A01 since 1 March 2025" in said
    assert "not what is true of the species" in said


def test_practice_is_said_with_its_kind(client: Client) -> None:
    said = words(client.get("/species/porcellio-laevis").text)
    assert "Quarantine 4 to 8 weeks Common practice, no source." in said
    assert "A starter 8-12 animals" in said
    assert "Before an empty-looking box is cleared 8 weeks Memory." in said
    caves = words(client.get("/species/cubaris-sp-rubber-ducky").text)
    assert "Before an empty-looking box is cleared 12 weeks Memory." in caves
    springtails = words(client.get("/species/folsomia-candida").text)
    assert "Before an empty-looking box" not in springtails


def test_the_first_young_are_said_as_well_as_they_are_known(client: Client, room: Path) -> None:
    slug = "porcellio-scaber-lava"
    with open_book(room) as book:
        facts = [
            LineNamed(line="watched", species=slug, as_bought="Lava"),
            Founded(colony="B07.1", box="B07", line="watched"),
        ]
        write(book, facts, pen=evening_pen(3), happened="2026-01-10")
        write(book, [CareGiven(box="B07", care="look")], pen=evening_pen(4), happened="2026-01-12")
        young = SeenInBox(box="B07", word="young_seen")
        write(book, [young], pen=evening_pen(5), happened="2026-05-10")
    said = words(client.get(f"/species/{slug}").text)
    assert "First young written down after 3.9 months, 10 May; there may have been young" in said
    late = words(client.get("/species/agabiformius-lentus").text)
    assert "First young written down after at most" in late
    assert "nothing was written of it at first" in late
