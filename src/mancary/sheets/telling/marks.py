"""Words beside a weight that say how damp the box was: just right, too dry, too wet.

Common practice, no source: the words of the trade, and plain translations of them.
"""

import re
from typing import Final, Literal

from mancary.sheets.plain import bare_words, plain
from mancary.sheets.telling.beside import NOT

Mark = Literal["just_right", "too_dry", "too_wet"]

_MARKS: Final[dict[Mark, str]] = {
    "just_right": "just right|perfect damp|damp just right|lagom|lagom fuktig|lagom fuktigt|"
    "genau richtig|gerade richtig",
    "too_dry": "too dry|far too dry|bone dry|dried out|torr|for torr|for torrt|uttorkad|"
    "zu trocken|ausgetrocknet",
    "too_wet": "too wet|far too wet|soaking|soaking wet|soaked|waterlogged|swamped|for blot|"
    "for blott|dyblot|zu nass|durchnasst|klatschnass",
}
_BESIDE_WORDS: Final = (
    "a|again|all|and|at|box|bit|damp|ende|end|for|is|it|its|jetzt|just|litter|moss|now|nu|"
    "substrate|still|the|this|time|today|very|wieder|heute|idag|igen|when|weighed"
)
_BESIDE: Final = frozenset(_BESIDE_WORDS.split("|"))
"""Words that may stand with a mark in its part of a sentence and change nothing."""

_DOUBT_WORDS: Final = (
    "almost|bald|before|fast|if|last|maybe|might|nastan|nearly|not|perhaps|soon|snart|kanske|"
    "vielleicht|yesterday|until|ob|om|wenn|getting|than|then|or|oder|eller|dann|sedan|gestern|igar|"
    "was|earlier"
)
_DOUBT: Final = frozenset(_DOUBT_WORDS.split("|"))
"""Words that deny, doubt, ask, or tell of another time than the weighing."""
_PARTS: Final = re.compile(
    r"[,;.!\n()]+(?:\s|$)|\s+[-–—]\s+|(?<=[a-z0-9)])\s*[:]\s+|\s+(?:but|men|aber)\s+"
)
_WEIGHT: Final = re.compile(r"^([\d.,\s]*\d\s*(?:k?g|grams?|gramm)?)\b[\s,;:()–—-]*(.*?)[)\s.!]*$")


def mark_in(text: str) -> Mark | None:
    """The mark that a remark tells of the weight beside it.

    None where no part of it is a mark's own words, where it denies, doubts or asks, and where two
    parts tell different marks.
    """
    if "?" in text:
        return None
    found = {mark for part in _PARTS.split(plain(text)) if (mark := _mark_of(part))}
    denied = not (NOT | _DOUBT).isdisjoint(bare_words(text).split())
    return found.pop() if len(found) == 1 and not denied else None


def split_mark(text: str) -> tuple[str, Mark | None]:
    """A weight such as "1462 g, just right" apart from its mark; other text comes back whole."""
    told = _WEIGHT.match(plain(text))
    mark = mark_in(told[2] if told and "?" not in text else "")
    return (told[1].strip(), mark) if told and mark else (text, None)


def _mark_of(part: str) -> Mark | None:
    words = bare_words(part)
    for mark, phrases in _MARKS.items():
        for phrase in phrases.split("|"):
            held = re.fullmatch(rf"(.*?)\b{re.escape(phrase)}\b(.*)", words)
            if held and set(f"{held[1]} {held[2]}".split()) <= _BESIDE:
                return mark
    return None
