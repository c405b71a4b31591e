"""The salt test of a hygrometer as it is done at a kitchen table, and what is true over each salt.

The truths are those of ``science.salts``. How it is done, and how long, is common practice from
memory, without a source; what is ours says so.
"""

from collections.abc import Sequence
from typing import Final, get_args

from msgspec import Struct

from mancary.husbandry.facts.instruments import Salt
from mancary.husbandry.hygrometers import MOST_APART, MOST_OFF
from mancary.husbandry.sentences import in_a_row, tell
from mancary.science.salts import salt_rh, salt_uncertainty

TRUTHS_AT_C: Final = (15.0, 20.0, 25.0)
PERCENT_A_KELVIN: Final = 6
"""Per cent of its reading that a sensor 1 K off is worth: so much more vapour warm air can hold."""

NAMES: Final[dict[Salt, str]] = {
    "NaCl": tell("table salt"),
    "MgCl2": tell("magnesium chloride"),
    "K2CO3": tell("potassium carbonate"),
    "NaBr": tell("sodium bromide"),
    "KCl": tell("potassium chloride"),
    "K2SO4": tell("potassium sulphate"),
}

_ALSO: Final[dict[Salt, tuple[str, ...]]] = {
    "NaCl": ("salt", tell("sodium chloride"), tell("kitchen salt"))
}


def salt_named(text: str) -> Salt | None:
    """The salt of a formula or a name as the table has it, "NaCl" or "table salt"; else None."""
    wanted = in_a_row(" ", text.lower().replace("sulfate", "sulphate").split())
    for salt, name in NAMES.items():
        if wanted in (salt.lower(), name, *_ALSO.get(salt, ())):
            return salt
    return None


class SaltTruth(Struct, frozen=True, kw_only=True):
    """Relative humidity over a salt, 0..1, at each of ``TRUTHS_AT_C``, and how well it is known."""

    salt: Salt
    name: str
    true_rh: tuple[float, ...]
    true_error: float


class Step(Struct, frozen=True):
    """One step of the test."""

    do: str
    how: str


def salt_truths(temps_c: Sequence[float] = TRUTHS_AT_C) -> tuple[SaltTruth, ...]:
    """Every salt a keeper may be told to use, from the driest air to the dampest; °C."""
    return tuple(
        SaltTruth(
            salt=salt,
            name=NAMES[salt],
            true_rh=tuple(float(salt_rh(salt=salt, temp_c=at)) for at in temps_c),
            true_error=salt_uncertainty(salt=salt),
        )
        for salt in get_args(Salt)
    )


STEPS: Final = (
    Step(
        tell("Choose two salts, or three"),
        tell(
            "Table salt (NaCl) and magnesium chloride (MgCl2), pure, nothing mixed in: a"
            " room's air lies between them. Two give a line, and nothing tells how exact"
            " it is. A third (K2CO3, NaBr, KCl or K2SO4) gives it an uncertainty too. One"
            " alone tells only how far off it is there."
        ),
    ),
    Step(
        tell("Stir a paste"),
        tell(
            "A bottle cap of one salt, of plastic, half full. Water drop by drop,"
            " stirring, until it looks like wet sand: wet all through, with solid salt"
            " left. Solid salt must remain to the end."
        ),
    ),
    Step(
        tell("Shut it in with the hygrometer"),
        tell(
            "Cap and hygrometer side by side in a small tight clear box, or in two zip"
            " bags, one in the other. The salt must not touch the sensor, nor any metal."
            " One salt at a time."
        ),
    ),
    Step(
        tell("Leave it alone"),
        tell(
            "8 to 12 hours, better 24, out of sun and draught, where the warmth is steady,"
            " 10 to 30 °C. Salt, air and sensor must be equally warm: 1 K off is worth"
            " about %(percent_a_kelvin)s %% of the reading, over table salt some 4 to 5"
            " points.",
            percent_a_kelvin=PERCENT_A_KELVIN,
        ),
    ),
    Step(
        tell("Read without opening"),
        tell(
            "The humidity and the temperature, through the wall, not held in the hand."
            " Look again after an hour: if it moved by more than a point (ours), wait"
            " longer."
        ),
    ),
    Step(
        tell("The next salt"),
        tell(
            "A clean cap and a box or bag of its own, so that no salt gets into another;"
            " wait again."
        ),
    ),
    Step(
        tell("Write it down"),
        tell(
            "What it showed over each salt, not corrected by anything, with the"
            " temperature. The line is worked out from it."
        ),
    ),
)
HOW_BASIS: Final = tell("Common practice from memory, the hours too, without a source.")
TRUTHS_BASIS: Final = tell(
    "Greenspan 1977, Journal of Research of the National Bureau of Standards"
    " 81A:89, its polynomials seen second-hand, one sign in that of K2CO3"
    " inferred; NaBr, and how well each is known (for 20 to 25 °C), from memory."
)
WENT_WRONG: Final = (
    tell("No solid salt is left, only clear liquid: too much water. Add salt, begin anew."),
    tell(
        "The salt looks dry, or only its skin is wet: too little water. A few drops"
        " more, begin anew."
    ),
    tell(
        "It still creeps after 12 hours: the box is large or leaks. A smaller one,"
        " tighter, or longer."
    ),
    tell(
        "Drops on the wall inside: the warmth swung. Stand it where it is steady, and begin anew."
    ),
    tell("Salt on the sensor: this test tells nothing, and the sensor may be spoilt."),
    (
        tell(
            "Two readings over one salt lie more than %(most_apart).0f points apart: not"
            " settled, or not equally warm. They are not taken (that limit is ours).",
            most_apart=MOST_APART * 100,
        )
    ),
    (
        tell(
            "It shows more than %(most_off).0f points off: read too soon, or a slip of the"
            " pen. It is not taken (that limit is ours).",
            most_off=MOST_OFF * 100,
        )
    ),
    tell("Three salts, and the line runs far from one of them: do that one again."),
)
