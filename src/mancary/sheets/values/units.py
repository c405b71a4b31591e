"""Units as people write them, to the few the book holds.

The pound is 0.45359237 kg and the ounce its sixteenth by definition (international yard and pound
agreement, 1959; from memory).
"""

from functools import cache
from typing import Final

from mancary.husbandry.facts.care import Unit
from mancary.sheets.faults import Unreadable

_WORDS: Final[dict[tuple[Unit, float], str]] = {
    ("mL", 1): "ml|millilitre|millilitres|milliliter|milliliters|cc",
    ("mL", 10): "cl|centilitre|centiliter",
    ("mL", 100): "dl|decilitre|deciliter",
    ("L", 1): "l|litre|litres|liter|liters|ltr|lit",
    ("g", 1): "g|gr|gram|grams|gramm|gm|grammes",
    ("g", 0.001): "mg|milligram|milligrams|milligramm",
    ("g", 1000): "kg|kilo|kilos|kilogram|kilograms|kilogramm",
    ("g", 453.59237): "lb|lbs|pound|pounds",
    ("g", 28.349523125): "oz|ounce|ounces",
    ("animals", 1): "animals|animal|ind|individuals|djur|tiere|tier|isopods|springtails",
    (
        "piece",
        1,
    ): "piece|pieces|pcs|pc|st|stk|stuck|bit|bits|bit of|cube|cubes|chunk|chunks|leaf|leaves|"
    "bitar|blad|blatter|flake|flakes|flingor|flocken|pellet|pellets|twig|twigs|pea|peas",
    ("slice", 1): "slice|slices|skiva|skivor|scheibe|scheiben",
    ("pinch", 1): "pinch|pinches|nypa|nypor|prise|prisen|dash|sprinkle|sprinkling",
    ("handful", 1): "handful|handfuls|handfull|nave|navar|handvoll|fistful",
    (
        "spoon",
        1,
    ): "spoon|spoons|spoonful|tsp|teaspoon|teaspoons|tbsp|tablespoon|tablespoons|sked|skedar|"
    "tesked|teskedar|tsk|matsked|msk|loffel|teeloffel|tl|essloffel|el|scoop|scoops",
    (
        "squirt",
        1,
    ): "squirt|squirts|spray|sprays|puff|puffs|pump|pumps|sprut|sprutar|duschar|dusch|tryck|"
    "spruhstoss|spruhstosse|spritzer|spruher|squeeze|squeezes|press|presses",
}

EXPECTED: Final = "g, mL, L, animals, pieces, slices, pinches, handfuls, spoons or squirts"
MEASURED: Final = frozenset({"g", "mL", "L", "animals"})


@cache
def _units() -> dict[str, tuple[Unit, float]]:
    return {word: unit for unit, words in _WORDS.items() for word in words.split("|")}


def unit_of(word: str) -> tuple[Unit, float]:
    """The book's unit of a plain word, and how many of it one makes: "kg" is ("g", 1000).

    Raises:
        Unreadable: where the word is no unit known here.
    """
    bare = word.strip(" .")
    if not bare:
        return "not_said", 1
    if (found := _units().get(bare)) is not None:
        return found
    raise Unreadable(f"{bare!r} is no unit known here; expected {EXPECTED}")


def is_unit(word: str) -> bool:
    """True where a plain word is a unit known here."""
    return word.strip(" .") in _units()
