"""What a keeper is told beside a fact: where somebody, or a colony, can come to harm.

Common practice unless it says otherwise; none of it replaces a doctor, an authority or a rule.
"""

import re
from collections.abc import Iterable
from typing import Final

from mancary.husbandry.facts import (
    BatchMade,
    BoxDescribed,
    CareGiven,
    Counted,
    Ended,
    Fact,
    Founded,
    HygrometerChecked,
    SeenInBox,
    Taken,
)
from mancary.husbandry.sentences import tell

DUST: Final = tell(
    "Old substrate, rotted wood and dry leaves carry mould spores and Legionella"
    " (published): damp them first, air the room, mask (FFP2) and gloves, wash"
    " your hands."
)
WAIT: Final = tell(
    "An empty-looking box is not dead: keep it damp and lightly fed for at least 8"
    " weeks, 12 for cave forms, before it is cleared (common practice, from"
    " memory)."
)
RULES: Final = tell(
    "Rules for moving, selling and importing live animals differ by place and"
    " change: ask your authority. Never release animals; freeze what is thrown"
    " away for at least 72 hours."
)
GATHERING: Final = tell(
    "Gathering: landowner's leave, no protected or sprayed places, look for ticks"
    " the same day; local rules go first."
)
DRILLING: Final = tell(
    "Drilling vents: clamp the box, slow drill, tape on the spot, glasses; hot"
    " tools give off bad fumes, outdoors only."
)
ALLERGY: Final = tell(
    "Dried shrimp and dusty feeds can set off an allergy to shellfish or mites:"
    " keep dust low, and stop and see a doctor at a wheeze or a rash."
)

SALTS: Final = tell(
    "Salts of a test: away from animals, food, children and metal. Potassium"
    " carbonate irritates: gloves and glasses. No lithium salts, they are"
    " poisonous. Throw them away as the packet and your local rules say, and wash"
    " your hands."
)

LIME: Final = tell(
    "Lime: ground limestone, chalk or shell only; never quicklime nor slaked"
    " (builders') lime: they burn eyes, skin and animals. Mask and glasses against"
    " the dust (common practice, from memory)."
)
HEAT: Final = tell(
    "A heat mat or lamp: with a thermostat and a tested plug with an earth-fault"
    " switch; on the side, never below nor under a stack, never in a shut"
    " cupboard; tried for some days first without animals. Local rules go first"
    " (common practice, from memory)."
)

_SIGNS: Final[dict[str, str]] = {
    "violet_sheen": (
        tell(
            "A violet-blue sheen can be an iridovirus: set the box apart with its own"
            " tools, take sick animals out and freeze them, pass nothing on from this line."
        )
    ),
    "springtails_gone": (
        tell(
            "Springtails are often the first alarm (imidacloprid harms them at doses"
            " woodlice survive, published): what was new in the last five days? Food,"
            " leaves, a batch, a neighbour?"
        )
    ),
    "ants": tell("Ants can strip a box overnight: shelf feet in moats, bait outdoors only."),
    "smells": tell(
        "Sour or eggy: stagnant wet; sharp: ammonia. Lid off for an hour, dig to the floor."
    ),
    "none_seen": WAIT,
    "stuck_moult": tell("Half-shed and stuck: too dry, or short of calcium? Look at both."),
    "on_the_walls": tell(
        "High on the walls by day: too wet, bad air, hungry, or only just moved in."
    ),
}
_LIME_IN: Final = re.compile(r"\b(?:quick)?lime\b", re.IGNORECASE)
"""Limestone is none, and leaves and wood are those of the lime tree."""

_DUSTY: Final = frozenset({"substrate_half", "substrate_whole", "leaf_litter", "wood"})


def cautions(facts: Iterable[Fact]) -> tuple[str, ...]:
    """The sentences that belong beside these facts, each once."""
    return tuple(dict.fromkeys(line for fact in facts for line in _of(fact)))


def _of_care(given: CareGiven) -> tuple[str, ...]:
    if given.care == "protein" and given.what:
        return (ALLERGY,)
    if given.care == "calcium":
        return (LIME,)
    return (DUST,) if given.care in _DUSTY else ()


def _lime(made: BatchMade) -> tuple[str, ...]:
    named = made.what not in ("leaves", "wood") and _LIME_IN.search(f"{made.name} {made.note}")
    return (LIME,) if made.what == "calcium" or named else ()


def _of(fact: Fact) -> tuple[str, ...]:
    match fact:
        case SeenInBox(word=word):
            return (_SIGNS[word],) if word in _SIGNS else ()
        case Counted(low=0, high=0) | Ended():
            return (WAIT,)
        case Taken():
            return (RULES,)
        case CareGiven():
            return _of_care(fact)
        case BatchMade(what=what, treatment=treatment):
            gathered = (GATHERING,) if treatment == "as_found" or fact.place else ()
            dusty = (DUST,) if what in ("leaves", "wood", "substrate") else ()
            return (*gathered, *dusty, *_lime(fact))
        case HygrometerChecked():
            return (SALTS,)
        case BoxDescribed(vents=vents, warmer_c=warmer_c):
            return (*((DRILLING,) if vents else ()), *((HEAT,) if warmer_c else ()))
        case Founded(note=note) if "wild" in note.lower():
            return (GATHERING, RULES)
    return ()
