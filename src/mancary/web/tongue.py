"""The words of the pages, in the language of the one who reads.

English stands in the pages themselves. Every other language is a catalogue beside this module, in
the format of GNU gettext: ``words/sv.po``.
"""

import re
from collections.abc import Mapping
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Final

from babel.support import NullTranslations, Translations

from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import Told
from mancary.web.reading import READING

_ENGLISH: Final = ("en", "en_US")
_PLACE: Final = re.compile(r"%(?:\((\w+)\)([\d.+]*[sdfgr])|%)")
_NUMBERS: Final = re.compile(r"\d+(\.\d+)?(-\d+(\.\d+)?)?( %)?")
CATALOGUES: Final = Path(__file__).parent / "words"


@cache
def translations(language: str) -> NullTranslations:
    """The catalogue of a language; that of English is empty, for its words are the keys."""
    path = CATALOGUES / f"{language}.po"
    if not path.is_file():
        return NullTranslations()
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    packed = BytesIO()
    with path.open("rb") as file:
        write_mo(packed, read_po(file))
    packed.seek(0)
    return Translations(packed)


def gettext(message: str) -> str:
    """The words of one message, its places still to be filled; what the book told is filled."""
    if isinstance(message, Told):
        return _told(message)
    if not message or READING.get().language in _ENGLISH:
        return message
    return translations(READING.get().language).gettext(message)


def spoken(value: object) -> object:
    """What the book told, in the reader's language; anything else as it is."""
    if type(value) is str:
        return value
    if isinstance(value, Told):
        return _told(value)
    return spoken(value.args[0]) if isinstance(value, Refusal) and value.args else value


def sentence(fault: Exception) -> str:
    """What a fault says, in the reader's language where the book told it."""
    return str(spoken(fault))


def _told(told: Told) -> str:
    """Its message looked up and filled anew, numbers with the reader's decimal sign."""
    if READING.get().language in _ENGLISH:
        return told
    words = translations(READING.get().language).gettext(told.message) if told.message else ""
    if told.values:
        words = _PLACE.sub(lambda place: _filled(place, told.values), words)
    return words[:1].upper() + words[1:] if told.capital else words


def _filled(place: re.Match[str], values: Mapping[str, object]) -> str:
    name, form = place.groups()
    if not name:
        return "%"
    value = spoken(values[name])
    said = f"%{form}" % (value,)
    return said.replace(".", ",") if _NUMBERS.fullmatch(said) else said


def ngettext(one: str, more: str, number: float) -> str:
    """The same for one or for several, by the rule of the language."""
    return translations(READING.get().language).ngettext(one, more, number)  # type: ignore[arg-type]


def _(message: str, **values: object) -> str:
    """The words of a message with its places, such as ``%(box)s``, filled."""
    return gettext(message) % {name: spoken(value) for name, value in values.items()}


def counted(one: str, more: str, number: float, **values: object) -> str:
    """As ``_`` for a number of things, which stands at ``%(num)d`` or ``%(num)s``."""
    filled = {name: spoken(value) for name, value in values.items()}
    return ngettext(one, more, number) % ({"num": number} | filled)


def N_(message: str) -> str:  # noqa: N802  the mark GNU gettext has for this
    """Marks words that are put into the reader's language later, where they are shown."""
    return message
