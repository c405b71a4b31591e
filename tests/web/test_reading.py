"""How pages read on one device: language, units and size, and what they are turned by."""

from collections.abc import Iterator
from datetime import date
from zoneinfo import ZoneInfo

import pytest
from scipy import constants

from mancary.web import measures
from mancary.web.measures import celsius, centimetres, grams, kelvins, litres, millilitres, num
from mancary.web.reading import COOKIE, READING, Reading, reading
from mancary.web.wording import Wording, rhythm, span
from tests.web.conftest import Client, posted, words


@pytest.fixture(autouse=True)
def as_usual() -> Iterator[None]:
    yield
    READING.set(Reading())


def test_a_choice_is_kept_in_the_browser_and_leads_back(client: Client) -> None:
    answer = posted(client, "/reading", language="sv", units="us", size="night", back="/boxes?q=a")
    assert answer.url.path == "/boxes"
    assert client.cookies[COOKIE] == "sv.us.night"
    assert '<html lang="sv" data-size="night">' in answer.text
    assert 'content="dark"' in answer.text
    again = client.get("/reading").text
    for chosen in ("sv", "us", "night"):
        assert f'value="{chosen}" checked' in again


@pytest.mark.parametrize(
    "foreign", ["//example.org/", "https://example.org/", "/\\example.org", ""]
)
def test_nobody_is_led_out_of_the_book(client: Client, foreign: str) -> None:
    asked = {"_csrf_token": "", "back": foreign}
    page = client.get("/reading", params={"back": foreign}).text
    assert 'name="back" value="/"' in page
    asked["_csrf_token"] = page.split('name="_csrf_token" value="')[1].split('"')[0]
    answer = client.post("/reading", data=asked, follow_redirects=False)
    assert answer.headers["location"] == "/"


@pytest.mark.parametrize(
    "told", ["", "x", "sv", "xx.yy.zz", "sv.us.night.more", "..", "sv.furlong.big"]
)
def test_a_cookie_that_is_not_understood_does_no_harm(client: Client, told: str) -> None:
    client.cookies.set(COOKIE, told)
    answer = client.get("/reading")
    assert answer.status_code == 200
    assert f'lang="{"sv" if told == "sv.furlong.big" else "en"}"' in answer.text


def test_the_browsers_own_language_counts_until_one_is_chosen(client: Client) -> None:
    swedish = {"accept-language": "sv-SE,sv;q=0.9,en;q=0.8"}
    assert '<html lang="sv"' in client.get("/reading", headers=swedish).text
    assert '<html lang="en"' in client.get("/reading", headers={"accept-language": "de"}).text
    client.cookies.set(COOKIE, reading("en", "metric", "usual").kept())
    assert '<html lang="en"' in client.get("/reading", headers=swedish).text


def test_dates_stand_in_the_order_of_the_language() -> None:
    """Unicode CLDR 46: the long and full dates of en_GB, en_US and sv. The comma after the day of
    the week in British English is left out, as British style does."""
    say = Wording(on=date(2026, 11, 25), zone=ZoneInfo("Europe/Stockholm"))
    told = {}
    for language in ("en", "en_US", "sv"):
        READING.set(reading(language, "metric", "usual"))
        told[language] = (
            say.full(date(2026, 11, 25)),
            say.day(date(2025, 3, 1)),
            say.moment("2026-11-05T16:05:00Z"),
        )
    assert told == {
        "en": ("Wednesday 25 November 2026", "1 March 2025", "5 November, 17:05"),
        "en_US": ("Wednesday, November 25, 2026", "March 1, 2025", "November 5, 5:05\u202fPM"),
        "sv": ("onsdag 25 november 2026", "1 mars 2025", "5 november, 17:05"),
    }


def test_swedish_counts_and_writes_its_numbers() -> None:
    READING.set(reading("sv", "metric", "usual"))
    assert (span(1), span(5)) == ("1 dag", "5 dagar")
    assert num(2.5) == "2,5"
    assert num(1.25, 1) == "1,2"
    assert num(-3) == "−3"
    assert rhythm(28, 56) == "var 4:e till 8:e vecka"
    READING.set(Reading())
    assert num(2.5) == "2.5"


FACTORS = [
    ("CM_AN_INCH", constants.inch * 100),
    ("G_AN_OUNCE", constants.oz * 1000),
    ("ML_A_FLUID_OUNCE", constants.fluid_ounce * 1e6),
    ("L_A_QUART", constants.gallon * 1000 / 4),
    ("L_A_GALLON", constants.gallon * 1000),
]
EXACT = 1e-12
"""Both sides are exact definitions (NIST SP 811, appendix B); only the last digits of a double."""


@pytest.mark.parametrize(("name", "other"), FACTORS)
def test_the_factors_are_those_of_scipy(name: str, other: float) -> None:
    assert getattr(measures, name) == pytest.approx(other, rel=EXACT)


def test_an_imperial_gallon_would_be_found() -> None:
    assert pytest.approx(constants.gallon_imp * 1000, rel=EXACT) != measures.L_A_GALLON


def test_measures_are_shown_in_the_units_chosen() -> None:
    """Worked by hand from NIST SP 811: 454 g is 16.014 oz, 1.00 lb; 6 L is 1.585 gal."""
    asked = (
        (grams, 20, "20 g", "0.705 oz"),
        (grams, 454, "454 g", "1 lb"),
        (millilitres, 20, "20 mL", "0.676 fl oz"),
        (litres, 1.5, "1.5 L", "1.59 qt"),
        (litres, 6, "6 L", "1.59 gal"),
        (centimetres, 20, "20 cm", "7.87 in"),
        (celsius, 23.5, "23.5 °C", "74.3 °F"),
        (celsius, -5, "−5 °C", "23 °F"),
        (kelvins, 2, "2 °C", "3.6 °F"),
    )
    for say, value, metric, american in asked:
        READING.set(reading("en", "metric", "usual"))
        assert say(value).replace("\u00a0", " ") == metric
        READING.set(reading("en", "us", "usual"))
        assert say(value).replace("\u00a0", " ") == american


def test_a_round_kept_for_one_reader_is_not_shown_to_another(client: Client) -> None:
    pages = {}
    for kept in ("en.metric.usual", "sv.metric.night", "en.metric.usual"):
        client.cookies.set(COOKIE, kept)
        pages[kept] = client.get("/").text
    assert '<html lang="en" data-size="usual">' in pages["en.metric.usual"]
    assert '<html lang="sv" data-size="night">' in pages["sv.metric.night"]


def test_a_page_is_read_in_swedish(client: Client) -> None:
    client.cookies.set(COOKIE, "sv.metric.usual")
    said = words(client.get("/boxes").text)
    assert said.startswith("Lådor")
    assert "32 lådor" in said
