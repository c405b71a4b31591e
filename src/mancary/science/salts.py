"""The air over a paste of salt and its own saturated water: a known humidity to check against.

Greenspan 1977, Journal of Research of the National Bureau of Standards 81A:89. Its polynomials in
degrees Celsius were seen second-hand, in two copies in code. Both carry the linear term of
LiCl with a minus, one also that of K2CO3; with a plus they give the table published by Padfield
(seen), with a minus they do not (10.98 for 11.3 % at 20 °C), so the plus is used here. That is
inferred: Greenspan's own page was not seen. NaBr is a table from memory; Padfield's agrees.
"""

from typing import Final

import numpy as np

from mancary.science.validity import Amount, Floats, plain, within

TEMPERATURES_C: Final = (10.0, 30.0)
"""°C, for all salts alike: each polynomial was published for more than this (from memory)."""

_PERCENT: Final = {
    "LiCl": (11.2323, 0.00824245, -2.1489e-4, 0.0),
    "MgCl2": (33.6686, -0.00797397, -1.08988e-3, 0.0),
    "K2CO3": (43.1315, 0.00147523, 0.0, 0.0),
    "NaCl": (75.5164, 0.0398321, -2.65459e-3, 2.848e-5),
    "KCl": (88.619, -0.19334, 8.99706e-4, 0.0),
    "K2SO4": (98.7792, -0.0590502, 0.0, 0.0),
}

_NABR_C: Final = (10.0, 15.0, 20.0, 25.0, 30.0)
_NABR_PERCENT: Final = (62.15, 60.68, 59.14, 57.57, 56.03)

_UNCERTAINTY_PERCENT: Final = {
    "LiCl": 0.3,
    "MgCl2": 0.2,
    "K2CO3": 0.4,
    "NaBr": 0.4,
    "NaCl": 0.15,
    "KCl": 0.3,
    "K2SO4": 0.5,
}

SALTS: Final = tuple(_UNCERTAINTY_PERCENT)
"""From the driest air to the dampest."""


def salt_rh(*, salt: str, temp_c: Amount) -> Amount:
    """Relative humidity, 0..1, over a saturated salt at ``temp_c``, that of salt and air alike.

    Valid 10..30 °C. Known to 0.15-0.5 points (``salt_uncertainty``); the real error is warmth: a
    sensor 1 K warmer than the salt reads 5.9 % of its reading low.

    Raises:
        OutsideValidity: outside that range.
        ValueError: for a salt that is not one of ``SALTS``.
    """
    _known(salt)
    given = within("temp_c", temp_c, *TEMPERATURES_C)
    return plain(_percent(salt, given) / 100)


def salt_uncertainty(*, salt: str) -> float:
    """How well the humidity over a salt is known at 20-25 °C, 0..1: Greenspan 1977, from memory.

    Raises:
        ValueError: for a salt that is not one of ``SALTS``.
    """
    _known(salt)
    return _UNCERTAINTY_PERCENT[salt] / 100


def _known(salt: str) -> None:
    if salt not in SALTS:
        raise ValueError(f"no salt {salt!r} here; there are {', '.join(SALTS)}")


def _percent(salt: str, temp_c: Floats) -> Floats:
    if salt == "NaBr":
        return np.asarray(np.interp(temp_c, _NABR_C, _NABR_PERCENT))
    c = _PERCENT[salt]
    return np.asarray(c[0] + temp_c * (c[1] + temp_c * (c[2] + temp_c * c[3])))
