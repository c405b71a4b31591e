"""Every word of the pages is asked of a catalogue, and the Swedish one has them all."""

import re
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po
from tools.catalogue import gathered

from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import capital, tell
from mancary.web.reading import COOKIE, READING, Reading, reading
from mancary.web.tongue import CATALOGUES, _, counted, sentence, spoken
from tests.web.bare_words import TEMPLATES, bare_words
from tests.web.conftest import Client, words

LANGUAGES = sorted(path.stem for path in CATALOGUES.glob("*.po"))
ADDRESSES = (
    "/", "/wants", "/watch", "/boxes", "/boxes/A01", "/boxes/A18", "/boxes/A01/work", "/shelves",
    "/boxes/A01/colony", "/species", "/species?q=scaber", "/species/porcellio-laevis", "/take-in",
    "/check", "/vents", "/vents?box=A01", "/hygrometer", "/labels", "/read-label", "/rhythms",
    "/away", "/phones", "/pair", "/reading", "/new-box", "/round/ticks",
)  # fmt: skip


def catalogue(language: str) -> Catalog:
    with (CATALOGUES / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language)


def pairs(message: Message) -> list[tuple[str, str]]:
    """Each form of the English beside each form of the translation."""
    if isinstance(message.id, (list, tuple)):
        return [(one, other) for one in message.id for other in message.string]
    return [(str(message.id), str(message.string))]


def places(text: str) -> list[str]:
    return sorted(re.findall(r"%\(\w+\)s", text))


def marks(text: str) -> list[str]:
    return sorted(re.findall(r"</?[a-z]+|&\w+;|%%", text))


def test_there_is_a_swedish_catalogue() -> None:
    assert LANGUAGES == ["sv"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_catalogue_has_every_message_and_no_other(language: str) -> None:
    held = {one.id for one in catalogue(language) if one.id}
    asked = {one.id for one in gathered() if one.id}
    assert held == asked, "python tools/catalogue.py brings it up to date"


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_message_is_translated_and_keeps_its_places(language: str) -> None:
    faults = []
    for message in catalogue(language):
        if not message.id:
            continue
        for english, other in pairs(message):
            lost = places(english) != places(other) or marks(english) != marks(other)
            edges = [text[:1] + text[-1:] for text in (english, other)]
            spaced = [tuple(edge == " " for edge in told) for told in edges]
            if not other or message.fuzzy or lost or spaced[0] != spaced[1]:
                faults.append((english, other))
    assert faults == []


def test_a_lost_place_would_be_found() -> None:
    assert places("Box %(code)s of %(shelf)s") != places("Låda %(code)s")
    assert marks("<b>%(n)s</b>") != marks("%(n)s")


@pytest.mark.parametrize("name", sorted(path.name for path in TEMPLATES.iterdir()))
def test_no_words_stand_bare_in_a_template(name: str) -> None:
    assert bare_words(TEMPLATES / name) == []


@pytest.mark.parametrize(
    "source",
    [
        "<p>Bare words</p>",
        '<a aria-label="Bare words">{{ x }}</a>',
        '{{ "bare words" if x }}',
        '{{ "%s bare words"|format(x) }}',
        "{% if x %}Bare{% endif %}",
    ],
)
def test_bare_words_would_be_found(tmp_path: Path, source: str) -> None:
    (tmp_path / "page.html").write_text(source, encoding="utf-8")
    assert bare_words(tmp_path / "page.html")


@pytest.mark.parametrize(
    "source",
    [
        '<p class="bare words">{{ _("Asked words") }}</p>',
        "{% trans %}Asked words{% endtrans %}",
        '{% if kind == "common practice" %}{{ x }}{% endif %}',
    ],
)
def test_asked_words_are_no_fault(tmp_path: Path, source: str) -> None:
    (tmp_path / "page.html").write_text(source, encoding="utf-8")
    assert bare_words(tmp_path / "page.html") == []


TO_BE_TYPED = {"in the lid only, spread evenly"}
"""What a form is told in English, for its readers of vents know no other words yet."""
PLACES = re.compile(r"%\(\w+\)[\d.+]*[sdfgr]|%%")


def english_left(text: str) -> list[str]:
    """Pieces of English messages, of four words and more, that stand in a Swedish page.

    Shorter ones are also part of what keepers themselves and the handbook's own notes say.
    """
    plain = [(one.id, one.string) for one in catalogue("sv") if isinstance(one.id, str)]
    pieces = {
        " ".join(piece.split())
        for english, other in plain
        if english != other and "&" not in english
        for piece in PLACES.split(english)
        if len(piece.split()) > 3
    }
    return [
        one
        for one in pieces
        if re.search(rf"(?<!\w){re.escape(one)}(?!\w)", text) and one not in TO_BE_TYPED
    ]


@pytest.mark.parametrize("address", ADDRESSES)
def test_no_english_message_is_left_on_a_swedish_page(reader: Client, address: str) -> None:
    page = reader.get(address, headers={"cookie": f"{COOKIE}=sv.metric.usual"})
    assert '<html lang="sv"' in page.text
    assert english_left(words(page.text)) == []


def test_an_english_page_would_be_found(client: Client) -> None:
    assert len(english_left(words(client.get("/boxes/A01").text))) > 5


def test_messages_are_filled_in_the_language_of_the_reader() -> None:
    READING.set(reading("sv", "metric", "usual"))
    try:
        assert _("Box %(code)s", code="A01") == "Låda A01"
        assert counted("%(num)s day", "%(num)s days", 2) == "2 dagar"
        assert _("no such message %(n)s", n=3) == "no such message 3"
    finally:
        READING.set(Reading())


def test_what_the_book_tells_is_looked_up_within_what_it_is_part_of() -> None:
    inner = tell("on %(days)s", days="2026-11-25")
    outer = tell("%(words)s raised it from %(rest)s to %(p_below)s.", words=tell("Young seen %(seen)s", seen=inner), rest="under 1 %", p_below="2.5 %")  # fmt: skip
    READING.set(reading("sv", "metric", "usual"))
    try:
        assert spoken(outer) == "Ungar sedda 2026-11-25 höjde det från under 1 % till 2,5 %."
        assert spoken(capital(tell("common practice"))) == "Vanlig praxis"
        assert _("Wanted: %(said)s.", said=tell("none fits")) == "Önskat: inget får plats."
        assert sentence(Refusal(tell("No box holds a colony."))) == "Ingen låda har en koloni."
        assert spoken("Young seen on 2026-11-25") == "Young seen on 2026-11-25"
    finally:
        READING.set(Reading())
    assert spoken(outer) == outer
