"""Month names in English, Swedish and German, from the Unicode CLDR by way of Babel."""

from functools import cache

from mancary.sheets.plain import plain

_LANGUAGES = ("en", "sv", "de")
_ALSO = {"sept": 9, "mrz": 3, "jänner": 1, "feber": 2}


@cache
def month_names() -> dict[str, int]:
    """Month names and their short forms, plain, with the month's number."""
    from babel.dates import get_month_names

    found = {plain(name): number for name, number in _ALSO.items()}
    for language in _LANGUAGES:
        for width in ("wide", "abbreviated"):
            for number, name in get_month_names(width, "format", language).items():
                found[plain(name).rstrip(".")] = number
    return found


def month_of(word: str) -> int | None:
    """The month a word names, 1 to 12."""
    return month_names().get(plain(word).rstrip("."))
