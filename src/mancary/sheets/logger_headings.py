"""What a logger's headings say: of a time, of warmth, of humidity, or of something else."""

import re
from typing import Final, Literal

from mancary.sheets.plain import plain

Role = Literal["time", "temperature", "humidity", "other"]

_TIME: Final = frozenset(
    [
        "date",
        "time",
        "timestamp",
        "datetime",
        "day",
        "clock",
        "epoch",
        "unix",
        "utc",
        "datum",
        "zeit",
        "uhrzeit",
        "zeitstempel",
        "zeitpunkt",
        "tid",
        "tidpunkt",
        "tidsstampel",
        "klockslag",
        "fecha",
        "hora",
        "horodatage",
        "heure",
        "jour",
        "data",
        "ora",
        "tijd",
        "pvm",
        "aika",
    ]
)
_WARM: Final = frozenset(["t", "tmp", "celsius", "fahrenheit", "tempc", "tempf", "lampotila"])
_WARM_IN: Final = ("temp",)
_DAMP: Final = frozenset(
    [
        "rh",
        "hum",
        "humi",
        "relhum",
        "rf",
        "hr",
        "ur",
        "rel",
        "humedad",
        "humidite",
        "umidita",
        "kosteus",
        "fukt",
    ]
)
_DAMP_IN: Final = ("humid", "feuchte", "feuchtigkeit", "fuktighet", "vochtigheid")
_NEITHER: Final = (
    "dew", "taupunkt", "daggpunkt", "duggpunkt", "dauwpunt", "kastepiste", "rosee", "rocio",
    "rugiada", "wet bulb", "wetbulb", "heat index", "heatindex", "feels", "hitzeindex", "frost",
    "alarm", "limit", "setpoint", "set point", "abs", "g/m", "vpd", "vapor", "vapour",
    "pressure", "batter", "signal", "specific", "mixing",
)  # fmt: skip
_CELSIUS: Final = frozenset({"c", "oc", "degc", "celsius", "tempc", "tc"})
_FAHRENHEIT: Final = frozenset({"f", "of", "degf", "fahrenheit", "tempf", "tf"})
_UNITS: Final = _CELSIUS | _FAHRENHEIT | {"deg", "degree", "degrees", "rh", "rf", "hr", "r", "h"}
_WORDS = re.compile(r"[^\W\d_]+|\d+")


def _words(heading: str) -> list[str]:
    return _WORDS.findall(plain(heading))


def role_of(heading: str) -> Role:
    """What a column of this heading holds; the dew point and its like are ``other``."""
    told, words = plain(heading), _words(heading)
    if any(other in told for other in _NEITHER):
        return "other"
    for word in words:
        if word in _DAMP or any(part in word for part in _DAMP_IN):
            return "humidity"
        if word in _WARM or any(part in word for part in _WARM_IN):
            return "temperature"
        if word in _TIME:
            return "time"
    if told.strip("()[] ") in ("%", "% rel", "%rh"):
        return "humidity"
    return "temperature" if "\u00b0" in told and set(words) <= _UNITS and words else "other"


def unit_in(text: str) -> str:
    """``c``, ``f``, or nothing where no unit of temperature, or both, are named."""
    words = set(_words(text))
    celsius, fahrenheit = bool(words & _CELSIUS), bool(words & _FAHRENHEIT)
    return "" if celsius == fahrenheit else "c" if celsius else "f"


def is_unit_alone(cell: str) -> bool:
    """True for "°C", "% RH" and their like: a line of units below the headings."""
    told = plain(cell)
    return len(told) <= 12 and (told.strip("()[]. ") in ("%", "-") or set(_words(cell)) <= _UNITS)


def sensor_of(heading: str) -> tuple[str, ...]:
    """What is left of a heading without the words for warmth, humidity and units."""
    return tuple(
        word
        for word in _words(heading)
        if word not in _UNITS | _WARM | _DAMP | {"relative", "air"}
        and not any(part in word for part in (*_WARM_IN, *_DAMP_IN))
    )
