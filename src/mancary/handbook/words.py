"""The words the handbook uses: its figures and their units, and how well a number is known."""

from typing import Final, Literal

Kind = Literal["published", "common practice", "memory", "ours"]
Basis = Literal["P", "T", "C", "G", "R", "M", "E"]
Seen = Literal["published", "published, seen second-hand", "common practice", "memory", "ours"]
Rank = Literal["species", "undescribed", "morph"]
Origin = Literal["species", "parent", "care group"]
How = Literal["exact", "trade name", "former name", "abbreviation", "misspelling", "genus"]

KIND_OF: Final[dict[str, Kind]] = {
    "P": "published",
    "T": "published",
    "C": "common practice",
    "G": "common practice",
    "R": "memory",
    "M": "memory",
    "E": "ours",
}
"""Each provenance letter and the kind it stands for."""

LETTERS: Final[dict[str, str]] = {
    "P": "published, seen (mostly as abstract or opening pages)",
    "T": "published, seen second-hand",
    "C": "common practice, on at least one keeper's page",
    "G": "common practice of the care group, not specific to the species",
    "R": "published, recalled from memory, not checked again",
    "M": "common practice from memory, not checked",
    "E": "ours: worked out here from other figures",
}

SEEN_OF: Final[dict[str, tuple[Seen, ...]]] = {
    "P": ("published", "published, seen second-hand"),
    "T": ("published, seen second-hand",),
    "C": ("common practice",),
    "G": ("common practice",),
    "R": ("memory",),
    "M": ("memory",),
    "E": ("ours",),
}
"""How the source of a figure may have been seen, for each letter."""

UNITS: Final[dict[str, str]] = {
    "adult_length_mm": "mm",
    "temperature_c": "°C",
    "damp_share": "of the floor",
    "ventilation_class": "class",
    "humidity_note": "words",
    "protein_feeds_per_week": "feeds a week",
    "calcium_need": "class",
    "growth_speed": "class",
    "brood_size": "young or eggs",
    "months_to_first_brood": "months",
    "difficulty": "of 5",
    "burrows": "yes or no",
    "substrate_depth_cm": "cm",
    "climate_origin": "words",
    "authority": "words",
}
"""Every figure a species or care-group page may hold, in the order shown, with its unit.

``damp_share`` is 0..1; ``difficulty`` runs from 1 (easy) to 5 (hard)."""

PRACTICE_UNITS: Final[dict[str, str]] = {
    "quarantine_days": "days",
    "starter_animals": "animals",
    "starter_box_l": "L",
    "waiting_days": "days",
}
"""The figures of practice that belong to no single care."""
