"""Numbers and measures as the reader writes them: metric or those of the United States.

Inside and in the book all is metric; only what is shown is turned. Factors are exact by definition
(NIST SP 811, 2008, appendix B): inch, avoirdupois ounce and pound, and the US gallon of 231 cubic
inches with its quart and fluid ounce.
"""

from typing import Final

from babel.numbers import format_decimal

from mancary.web.reading import READING

CM_AN_INCH: Final = 2.54
G_AN_OUNCE: Final = 28.349523125
ML_A_FLUID_OUNCE: Final = 29.5735295625
L_A_QUART: Final = 0.946352946
L_A_GALLON: Final = 3.785411784
_OUNCES_A_POUND: Final = 16
_QUARTS_A_GALLON: Final = 4
_SPACE: Final = "\u00a0"
_MOST_DECIMALS: Final = 6


def num(number: float, decimals: int | None = None) -> str:
    """A number with the reader's decimal sign, at most six figures where none is said."""
    told = f"{number:g}" if decimals is None else f"{number:.{decimals}f}"
    if READING.get().language.startswith("en"):
        return told.replace("-", "−", 1) if told.startswith("-") else told
    places = len(told.partition(".")[2]) if "e" not in told else _MOST_DECIMALS
    pattern = "0." + "0" * places if places else "0"
    said = str(format_decimal(float(told), pattern, locale=READING.get().language))
    return said.replace("-", "−")


def _us() -> bool:
    return READING.get().units == "us"


def _said(number: float, unit: str) -> str:
    return f"{num(number)}{_SPACE}{unit}"


def grams(mass_g: float) -> str:
    """A mass: "1462 g", or "51.6 oz"; from a pound on "3.22 lb"."""
    if not _us():
        return _said(mass_g, "g")
    ounces = mass_g / G_AN_OUNCE
    if abs(ounces) >= _OUNCES_A_POUND:
        return _said(_figures(ounces / _OUNCES_A_POUND), "lb")
    return _said(_figures(ounces), "oz")


def millilitres(volume_ml: float) -> str:
    """Water to be poured: "20 mL", or "0.68 fl oz"."""
    if not _us():
        return _said(volume_ml, "mL")
    return _said(_figures(volume_ml / ML_A_FLUID_OUNCE), "fl oz")


def litres(volume_l: float) -> str:
    """The volume of a box: "5.5 L", or in quarts, from four on in gallons, of the US."""
    if not _us():
        return _said(volume_l, "L")
    quarts = volume_l / L_A_QUART
    if quarts >= _QUARTS_A_GALLON:
        return _said(_figures(volume_l / L_A_GALLON), "gal")
    return _said(_figures(quarts), "qt")


def centimetres(length_cm: float) -> str:
    """A length of a box or a depth: "20 cm", or "7.87 in"."""
    return _said(_figures(length_cm / CM_AN_INCH), "in") if _us() else _said(length_cm, "cm")


def millimetres(length_mm: float) -> str:
    """A small length: "3 mm", or "0.118 in"."""
    return _said(_figures(length_mm / 10 / CM_AN_INCH), "in") if _us() else _said(length_mm, "mm")


def celsius(temp_c: float) -> str:
    """A temperature: "23.5 °C", or "74.3 °F"."""
    return _said(round(temp_c * 1.8 + 32, 1), "°F") if _us() else _said(temp_c, "°C")


def kelvins(step_c: float) -> str:
    """A difference of two temperatures: "2 °C", or "3.6 °F"."""
    return _said(round(step_c * 1.8, 1), "°F") if _us() else _said(step_c, "°C")


def _figures(number: float) -> float:
    """Three figures: what is turned is known no better."""
    return float(f"{number:.3g}")
