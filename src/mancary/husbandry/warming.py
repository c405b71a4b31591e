"""How much faster water goes where it is warmer."""

from typing import Final

from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell
from mancary.science.air import saturation_pressure_pa

USUAL_C: Final = 22.0
_MOST_C: Final = 15.0


def drying_factor(warmer_c: float, usual_c: float = USUAL_C) -> tuple[float, str]:
    """How many times as fast water leaves a box ``warmer_c`` above ``usual_c`` °C, and why.

    At one relative humidity inside and out the loss follows the saturation pressure (see the page
    on climate).

    Raises:
        Refusal: for a warmth below 0 or above 15 °C.
    """
    if not 0 <= warmer_c <= _MOST_C:
        raise Refusal(
            tell(
                "%(warmer_c)g °C warmer: expected 0 to %(most_c)g.",
                warmer_c=warmer_c,
                most_c=_MOST_C,
            )
        )
    if warmer_c == 0:
        return 1.0, ""
    hot = float(saturation_pressure_pa(temp_c=usual_c + warmer_c))
    factor = hot / float(saturation_pressure_pa(temp_c=usual_c))
    return factor, (
        tell(
            "water goes %(factor).1f times as fast at %(usual_c).1f °C, %(warmer_c)g °C"
            " warmer than its usual %(usual_c2).1f °C",
            factor=factor,
            usual_c=usual_c + warmer_c,
            warmer_c=warmer_c,
            usual_c2=usual_c,
        )
    )
