"""The words by which people say where vents are and what they are made of."""

import re
from collections.abc import Iterable
from typing import Final, Literal

Place = Literal["lid", "high", "low", "side", "not_said"]
End = Literal["damp", "dry", "not_said"]

NUMBER_WORDS: Final[dict[str, int]] = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "sixteen": 16,
    "eighteen": 18, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "dozen": 12,
}  # fmt: skip
_HEIGHTS: Final[dict[str, Place]] = {
    **dict.fromkeys(("lid", "lids", "top", "lock", "locket", "deckel", "roof", "cover"), "lid"),
    **dict.fromkeys(("high", "higher", "upper", "hogt", "oben"), "high"),
    **dict.fromkeys(("low", "lower", "bottom", "lagt", "unten"), "low"),
    **dict.fromkeys(
        [
            "side", "sides", "sida", "sidor", "sidan", "seite", "seiten", "wall", "walls",
            "front", "back", "rear", "ends",
        ], "side"
    ),
}  # fmt: skip
_ENDS: Final[dict[str, End]] = {
    **dict.fromkeys(("damp", "wet", "moist", "fuktig", "fuktiga", "feucht", "feuchten"), "damp"),
    **dict.fromkeys(("dry", "torr", "torra", "trocken", "trockenen"), "dry"),
}
_END_WORDS: Final = frozenset({"end", "ends", "side", "anden", "ande", "ende"})
_OTHER_END: Final = frozenset({"one", "other", "another", "opposite"})  # fmt: skip
EACH: Final = frozenset({"each", "every", "per", "varje", "je", "jede", "jeder"})  # fmt: skip
HOLES: Final = frozenset(
    [
        "hole",
        "holes",
        "hal",
        "halen",
        "loch",
        "locher",
        "st",
        "stk",
        "pcs",
        "pieces",
        "vent",
        "vents",
        "drilled",
        "round",
    ]
)  # fmt: skip
MESH: Final = frozenset(
    ["mesh", "meshes", "net", "nets", "nat", "gaze", "gitter", "gauze", "window", "windows"]
)  # fmt: skip
FINE: Final = frozenset({"fine", "fin", "fein"})  # fmt: skip
COARSE: Final = frozenset({"coarse", "grov", "grob"})  # fmt: skip
TIMES: Final = frozenset({"x", "×", "*"})  # fmt: skip
OPEN_CLOSED: Final = frozenset(
    [
        "taped",
        "tape",
        "covered",
        "blocked",
        "plugged",
        "closed",
        "shut",
        "stopped",
        "tejpade",
        "tejpad",
        "verklebt",
    ]
)  # fmt: skip
_IDLE: Final = frozenset(
    [
        "a",
        "an",
        "the",
        "of",
        "at",
        "in",
        "on",
        "over",
        "near",
        "by",
        "to",
        "up",
        "down",
        "a",
        "à",
        "@",
        "mit",
        "med",
        "with",
        "im",
        "i",
        "den",
        "der",
        "dem",
        "am",
        "och",
        "row",
        "rows",
        "only",
        "spread",
        "evenly",
        "height",
        "heights",
        "same",
        "level",
        "both",
        "all",
        "total",
        "wide",
        "across",
        "diameter",
        "of",
        "them",
        "it",
        "is",
        "are",
        "about",
        "ca",
        "circa",
        "roughly",
        "together",
        "o",
        "ø",
        "dia",
        "diameter",
    ]
)  # fmt: skip
_WORD = re.compile(r"[^\W\d_]+|[×*@]")


def words_of(text: str) -> list[str]:
    """The words and signs of a plain text, numbers left out."""
    return _WORD.findall(text)


def strangers(words: Iterable[str]) -> list[str]:
    """The words that tell nothing a vent can be told by."""
    known = (
        HOLES | MESH | FINE | COARSE | TIMES | EACH | _IDLE | _END_WORDS | _OTHER_END
        | _HEIGHTS.keys() | _ENDS.keys() | {"mm", "cm"}
    )  # fmt: skip
    return [word for word in words if word not in known]


def places_of(words: Iterable[str]) -> list[Place]:
    """The heights that the words name, each once; "in the sides, low" is low."""
    told = list(words)
    named = list(dict.fromkeys(_HEIGHTS[word] for word in _without_ends(told) if word in _HEIGHTS))
    at_ends = bool((_OTHER_END | EACH).intersection(told)) and bool(_END_WORDS.intersection(told))
    if not named:
        return ["side"] if at_ends else []
    return [one for one in named if one != "side"] if {"low", "high"} & set(named) else named


def _without_ends(words: list[str]) -> list[str]:
    """The words without the "side" of "the damp side", which is an end of the floor."""
    return [
        word
        for at, word in enumerate(words)
        if not (word in _END_WORDS - {"ends"} and at and words[at - 1] in _ENDS)
    ]


def ends_of(words: Iterable[str]) -> list[End]:
    """The ends of the floor that the words name, each once."""
    return list(dict.fromkeys(_ENDS[word] for word in words if word in _ENDS))
