"""Which role each column of a sheet has: by its heading, word by word, and the look of its values.

The weights are ours, set by trying sheets made for the tests: a known heading is worth more than
any one look, but for names of species, which nothing else looks like.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Final, Literal

from msgspec import Struct

from mancary.sheets.heading_words import known_headings, split_unit
from mancary.sheets.looks import look
from mancary.sheets.plain import bare_words
from mancary.sheets.reading import Table

Found = Literal["heading", "values", "keeper", "not understood", "not needed"]

_BY_LOOK: Final = (
    "box",
    "species",
    "since",
    "date",
    "what",
    "vents",
    "damp",
    "litres",
    "size",
    "amount",
)
_EXACT, _PART, _MISSPELT, _WORDS = 1.0, 0.8, 0.7, 0.6
_LOOK_WEIGHT, _NAME_WEIGHT = 0.4, 2.0
_LOOK_ENOUGH, _NAMES_ENOUGH = 0.7, 0.55
_UNIT_FITS: Final = 0.2
_NEARLY, _ALIKE = 88, 0.5
_SHORTEST_GUESS = 4
_SAMPLE_ROWS = 400
_LIGHT: Final = frozenset(
    bare_words(
        "a an the of in on it is its i my per each how what which who does was and no nr number"
        " den det av hur der die das im wie pro"
    ).split()
)
_UNITS_OF: Final = {"litres": re.compile(r"l|ml|dl|cl|lit.*|ltr"), "damp": re.compile("%")}
_LENGTH = re.compile("cm|mm|m|in|inch.*")


class Given(Struct, frozen=True):
    """A role given to a column, and on what ground."""

    role: str
    found: Found


class Columns:
    """The columns of a table, scored once for every role that is asked for."""

    def __init__(self, table: Table) -> None:
        self.split = [split_unit(heading) for heading in table.headings]
        rows = table.rows[:_SAMPLE_ROWS]
        self.values = [tuple(row.cells[i] for row in rows) for i in range(len(table.headings))]
        self._looks: dict[tuple[str, int], float] = {}

    def look(self, role: str, at: int) -> float:
        """How well a column's values look like a role's, 0 to 1."""
        if (role, at) not in self._looks:
            self._looks[role, at] = look(role, self.values[at])
        return self._looks[role, at]

    def assigned(self, roles: Sequence[str], told: Mapping[int, str]) -> dict[int, Given]:
        """Each column's role, the best pair of column and role first; a role once but remarks."""
        scored = [
            (score, -at, role, named)
            for at in range(len(self.split))
            if at not in told
            for role in roles
            for score, named in [self._score(role, at)]
            if score
        ]
        given: dict[int, Given] = {}
        taken = set(told.values())
        for _, minus, role, named in sorted(scored, key=lambda one: one[:2], reverse=True):
            if -minus not in given and (role not in taken or role == "remarks"):
                given[-minus] = Given(role, "heading" if named else "values")
                taken.add(role)
        return given

    def _score(self, role: str, at: int) -> tuple[float, bool]:
        named, looks = self.named(role, at), self.look(role, at)
        enough = _NAMES_ENOUGH if role == "species" else _LOOK_ENOUGH
        if not named and (role not in _BY_LOOK or looks < enough):
            return 0.0, False
        weight = _NAME_WEIGHT if role == "species" else _LOOK_WEIGHT
        return named + weight * looks, named > 0

    def named(self, role: str, at: int) -> float:
        """How well a heading names a role, 0 to 1 and a little more where its unit fits."""
        words, unit = self.split[at]
        score = heading_score(words, role)
        return score + _UNIT_FITS if score and _fits(unit, role) else score


def _fits(unit: str, role: str) -> bool:
    if role in ("length", "width", "height", "size"):
        return bool(_LENGTH.fullmatch(unit))
    pattern = _UNITS_OF.get(role)
    return bool(pattern and pattern.fullmatch(unit))


def heading_score(words: str, role: str) -> float:
    """How well the plain words of a heading name a role: known, known in part, misspelt, alike."""
    known = known_headings()
    if words in known:
        return _EXACT if role in known[words] else 0.0
    ours = [word for word in known if role in known[word]]
    parts = [word for word in ours if len(word) > 2 and f" {word} " in f" {words} "]
    if parts:
        return _PART * (0.5 + 0.5 * max(len(part) for part in parts) / len(words))
    if len(words) < _SHORTEST_GUESS:
        return 0.0
    from rapidfuzz import fuzz, process

    long = [word for word in ours if len(word) >= _SHORTEST_GUESS]
    if process.extractOne(words, long, scorer=fuzz.ratio, score_cutoff=_NEARLY):
        return _MISSPELT
    alike = max((_shared(words, word) for word in ours), default=0.0)
    return _WORDS * alike if alike >= _ALIKE else 0.0


def _shared(words: str, phrase: str) -> float:
    """The share of the weighty words that two headings have in common."""
    ours, theirs = _weighty(words), _weighty(phrase)
    return len(ours & theirs) / len(ours | theirs) if ours and theirs else 0.0


def _weighty(words: str) -> frozenset[str]:
    return frozenset(
        word[:-1] if len(word) > 3 and word.endswith("s") else word
        for word in bare_words(words).split()
        if word not in _LIGHT
    )
