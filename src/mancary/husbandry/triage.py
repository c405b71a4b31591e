"""Where to look when a colony fails: the usual order, narrowed by what the book knows of the box.

The order and what each sign means are common practice, from memory. What the book found comes
first, then what it cannot know; what it can rule out is left out.
"""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Final

from msgspec import Struct

from mancary.husbandry.sentences import capital, in_a_row, tell
from mancary.husbandry.words import said

LATELY: Final = timedelta(days=56)
"""Ours: signs and changes further back than eight weeks are not laid to a fall of now."""

_MEANS: Final = {
    "smells": tell(
        "sour or eggy means stagnant wet, sharp means ammonia: lid off an hour, dig down"
    ),
    "dry": tell("wet a damp corner at once, not a flood; fewer open holes"),
    "wet": tell("lid off an hour, black layer out, a new dry third, more air"),
    "on_the_walls": tell("animals high on the walls by day: too wet, bad air, hungry"),
    "dead": tell(
        "look whether they are half-shed (calcium, damp), limp (heat) or bitten (protein)"
    ),
    "stuck_moult": tell("too dry, or short of calcium"),
    "violet_sheen": tell("may be an iridovirus: set apart, own tools, nothing passed on"),
    "mites": tell("lens: slow and pale on food, or fast and brown; no food for ten days"),
    "gnats": tell("less water and food, sticky cards"),
    "ants": tell("shelf feet in moats; bait outdoors only"),
    "springtails_gone": tell(
        "often the first alarm of a poison; ask what was new in the last five days"
    ),
    "mould": tell("food out, stop feeding a week, add springtails"),
    "escaped": tell("look at lid and vents"),
}
_SMELL, _WATER, _HEAT, _DEAD, _CHANGES, _LENS, _OTHERS = range(7)
_STEP: Final = {
    "smells": _SMELL, "dry": _WATER, "wet": _WATER, "on_the_walls": _WATER, "dead": _DEAD,
    "stuck_moult": _DEAD, "violet_sheen": _LENS, "mites": _LENS, "gnats": _LENS, "ants": _LENS,
    "springtails_gone": _CHANGES, "mould": _SMELL, "escaped": _OTHERS,
}  # fmt: skip
_CHANGES_SHOWN: Final = 5


class Known(Struct, frozen=True, kw_only=True):
    """What the book knows of a box that may tell why its colony fails.

    ``seen`` are words with the day they were last noted; ``water`` says what the scale tells,
    ``warmth`` the spells its shelf was out of range (None where the shelf was never read);
    ``changes`` are days with what was new; ``alike`` names other boxes with a sign of their own and
    what they share with this one.
    """

    seen: Mapping[str, date]
    water: str = ""
    warmth: tuple[str, ...] | None = None
    changes: Sequence[tuple[date, str]] = ()
    alike: tuple[str, ...] = ()
    protein: date | None = None


def look_for(known: Known, on: date) -> tuple[str, ...]:
    """Sentences, what was found first, each group in the usual order."""
    found = sorted([*_signs(known, on), *_findings(known, on)], key=lambda one: one[0])
    named = {step for step, _ in found}
    open_ = [
        (step, words)
        for step, words in _OPEN
        if step not in named and not (step == _HEAT and known.warmth == ())
    ]
    return tuple(words for _, words in (*found, *open_))


def _signs(known: Known, on: date) -> list[tuple[int, str]]:
    return [
        (
            step,
            tell(
                "%(word)s noted on %(seen)s: %(means)s.",
                word=capital(said(word)),
                seen=known.seen[word],
                means=_MEANS[word],
            ),
        )
        for word, step in _STEP.items()
        if word in known.seen and on - known.seen[word] <= LATELY
    ]


def _findings(known: Known, on: date) -> list[tuple[int, str]]:
    found = []
    if known.water:
        found.append((_WATER, known.water))
    found += [(_HEAT, words) for words in known.warmth or ()]
    lately = sorted((one for one in known.changes if on - one[0] <= LATELY), reverse=True)
    if lately:
        told = in_a_row(
            "; ",
            (
                tell("%(words)s on %(day)s", words=words, day=day)
                for day, words in lately[:_CHANGES_SHOWN]
            ),
        )
        found.append((_CHANGES, tell("New in the last eight weeks: %(told)s.", told=told)))
    if known.protein is not None and on - known.protein > LATELY:
        missing = tell("look for bitten backs and missing soft animals.")
        found.append(
            (_DEAD, tell("No protein noted since %(protein)s: %(missing)s", known, missing=missing))
        )
    found += [(_OTHERS, words) for words in known.alike]
    return found


_OPEN: Final[tuple[tuple[int, str], ...]] = (
    (_SMELL, tell("Smell it first: sour or eggy means stagnant wet, sharp means ammonia.")),
    (_WATER, tell("Weigh it, and a finger 3 cm down at the damp end: what it holds is not known.")),
    (_HEAT, tell("The highest temperature of its shelf was not read: read it.")),
    (_DEAD, tell("Count the dead, and look whether any is half-shed.")),
    (_LENS, tell("A lens over white paper: mites, small strangers, springtails alive.")),
)
