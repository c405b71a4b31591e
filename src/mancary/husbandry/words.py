"""The words of the trade that the book stores, and how they are said.

Common practice, no source: the trade has no standard vocabulary; these are its plain words.
"""

from typing import Final, Literal, get_args

from mancary.husbandry.sentences import Told, tell

Seen = Literal[
    "young_seen",
    "none_seen",
    "gravid",
    "dead",
    "left_over",
    "all_gone",
    "stuck_moult",
    "violet_sheen",
    "on_the_walls",
    "escaped",
    "mould",
    "mites",
    "gnats",
    "ants",
    "smells",
    "dry",
    "wet",
    "springtails_many",
    "springtails_few",
    "springtails_gone",
]
SEEN: Final[tuple[str, ...]] = get_args(Seen)

Care = Literal[
    "look",
    "mist",
    "vegetable",
    "protein",
    "algae",
    "calcium",
    "minerals",
    "leaf_litter",
    "wood",
    "springtails",
    "springtail_check",
    "substrate_half",
    "substrate_whole",
    "leftovers_out",
    "label_check",
]
CARES: Final[tuple[str, ...]] = get_args(Care)

CARE_WORDS: Final[dict[str, str]] = {
    "look": "a look",
    "mist": "misting",
    "vegetable": "vegetable",
    "protein": "protein",
    "algae": "algae",
    "calcium": "calcium powder",
    "minerals": "reptile multi-minerals",
    "leaf_litter": "leaf litter",
    "wood": "lichen twigs and wood",
    "springtails": "springtails added",
    "springtail_check": "springtail check",
    "substrate_half": "half change of substrate",
    "substrate_whole": "whole change of substrate",
    "leftovers_out": "leftovers out",
    "label_check": "label check",
}

AT_HAND: Final[tuple[str, ...]] = (
    "look", "leftovers_out", "mist", "vegetable", "protein", "algae", "calcium", "minerals",
    "leaf_litter", "wood", "springtail_check", "springtails", "substrate_half", "substrate_whole",
    "label_check",
)  # fmt: skip
"""Ours: the order of the hand at an open box, old food out before new food in."""

Band = Literal["none", "few", "tens", "many", "crowded"]
BANDS: Final[dict[str, tuple[int, int | None]]] = {
    "none": (0, 0),
    "few": (1, 9),
    "tens": (10, 49),
    "many": (50, 199),
    "crowded": (200, None),
}

EndCause = Literal[
    "died_out",
    "dried_out",
    "stagnant_wet",
    "heat",
    "cold",
    "mites",
    "contamination",
    "virus",
    "insecticide",
    "given_away",
    "sold",
    "joined",
    "culled",
    "not_known",
    "other",
]


FIGURE_WORDS: Final[dict[str, str]] = {
    "adult_length_mm": "adult length",
    "temperature_c": "temperature",
    "damp_share": "damp share",
    "humidity_note": "damp and dry",
    "protein_feeds_per_week": "protein",
    "calcium_need": "calcium need",
    "growth_speed": "growth",
    "air_changes_per_day": "air changes a day",
    "brood_size": "brood",
    "months_to_first_brood": "wait for the first brood",
    "substrate_depth_cm": "substrate depth",
    "climate_origin": "where from",
    "authority": "named by",
}


def figure_said(name: str) -> str:
    """A figure's name without its unit: ``adult_length_mm`` is "adult length"."""
    if name in FIGURE_WORDS:
        return Told(FIGURE_WORDS[name], {})
    if name.endswith("_minutes"):
        return tell("minutes on %(day)s", day=Told(name.removesuffix("_minutes"), {}))
    care = name.removesuffix("_days")
    return tell("%(care)s, days between", care=said(care)) if care != name else said(name)


def said(word: str) -> str:
    """The stored word as a keeper says it: ``young_seen`` is "young seen"."""
    return Told(CARE_WORDS.get(word, word.replace("_", " ")), {})


def band_said(band: str) -> str:
    """The size band with its numbers: "tens (10-49)"."""
    low, high = BANDS[band]
    if high is None:
        return Told(band, {}) + f" ({low}+)"
    return Told(band, {}) + (f" ({low}-{high})" if high else "")
