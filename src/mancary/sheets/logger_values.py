"""One figure of a logger: degrees or per cent, with its unit where the cell tells it."""

import re
from typing import Final

from mancary.sheets.faults import Unreadable
from mancary.sheets.plain import plain

LOWEST_C: Final = -40.0
HIGHEST_C: Final = 70.0
_FIGURE = re.compile(
    r"([+\-\u2212\u2013]?)\s?(\d+(?:[.,]\d*)?|[.,]\d+)\s*"
    r"((?:\u00b0|o|deg\.?)?\s*[cf]|%\s*(?:r\.?\s?[hf]\.?|h\.?\s?r\.?|rel\.?)?)?",
    re.ASCII,
)


def figure(text: str) -> tuple[float, str] | None:
    """The number and its unit (``c``, ``f``, ``%`` or nothing); None where it is no figure."""
    found = _FIGURE.fullmatch(plain(text))
    if found is None:
        return None
    size = float(found[2].replace(",", "."))
    unit = (found[3] or "").strip()
    return (-size if found[1] in ("-", "\u2212", "\u2013") else size), (
        "%" if unit.startswith("%") else unit[-1:]
    )


def degrees(text: str, unit: str) -> float:
    """Degrees Celsius; ``unit`` (``c`` or ``f``) counts where the cell has none of its own.

    Fahrenheit is 32 at 0 °C and 1.8 a degree, by definition.

    Raises:
        Unreadable: where it is no temperature of a room.
    """
    found = figure(text)
    if found is None or found[1] == "%":
        raise Unreadable("expected degrees, like 21.5")
    value = (found[0] - 32) / 1.8 if (found[1] or unit) == "f" else found[0]
    if not LOWEST_C <= value <= HIGHEST_C:
        raise Unreadable(f"is {value:g} °C; expected {LOWEST_C:g} to {HIGHEST_C:g} °C")
    return value


def share(text: str, whole: float) -> float:
    """Humidity 0..1; ``whole`` is what the column writes for all, 100 or 1.

    Raises:
        Unreadable: where it is no humidity.
    """
    found = figure(text)
    if found is None or found[1] in ("c", "f"):
        raise Unreadable("expected a humidity in percent, like 55")
    value = found[0] / (100 if found[1] == "%" else whole)
    if not 0 <= value <= 1:
        raise Unreadable(f"is {value * 100:g} %; expected 0 to 100 %")
    return value
