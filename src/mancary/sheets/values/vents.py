"""Holes and mesh as people write them: "20x3mm", "12 x 4", "24*3 mm lid", "2 mesh 50"."""

import re
from typing import Literal

import msgspec

from mancary.husbandry.facts import Vent
from mancary.sheets.plain import plain
from mancary.sheets.values.numbers import NUMBER, number

_Place = Literal["lid", "high", "low", "side", "not_said"]
_End = Literal["damp", "dry", "not_said"]
_ENDS: dict[str, _End] = {
    "damp": "damp", "wet": "damp", "moist": "damp", "fuktig": "damp", "feucht": "damp",
    "dry": "dry", "torr": "dry", "trocken": "dry",
}  # fmt: skip
_AT_END = re.compile(
    rf"(.*?)\s*,?\s*(?:(?:at|over|on|in|near)\s+)?(?:the\s+)?({'|'.join(_ENDS)})\w*\s+(?:end|side|anden|ende)"
)
_PARTS = re.compile(r"\s*(?:\+|;|&|\band\b|\boch\b|\bund\b|,(?!\d))\s*")
_HOLES = re.compile(
    rf"(\d+)\s*(?:holes?|hal|locher|st|stk|pcs|vents?)?\s*(?:x|\*|×|a|of|à|@|mit|med|with)\s*({NUMBER})"
    r"\s*(mm|cm)?\.?\s*(?:holes?|hal|locher|vents?)?\s*(.*)"
)
_TURNED = re.compile(
    rf"({NUMBER})\s*(mm|cm)\s*(?:holes?)?\s*(?:x|\*|×)\s*(\d+)\s*(?:holes?|st)?\s*(.*)"
)
_MESH = re.compile(
    rf"(?:(\d+)\s*(?:x|\*|×)?\s*)?(fine |coarse |fin |fein |grov |grob )?"
    r"(?:mesh(?:es)?|net|nets|nat|gaze|gitter|mesh windows?|windows?)\s*"
    rf"(?:(?:of|a|x|\*|×)?\s*({NUMBER})\s*(mm|cm)?)?\.?\s*(.*)"
)
_PLACES: dict[str, _Place] = {
    "": "not_said", "lid": "lid", "in lid": "lid", "top": "lid", "on top": "lid", "lock": "lid",
    "i locket": "lid", "deckel": "lid", "im deckel": "lid", "in the lid": "lid", "high": "high",
    "upper": "high", "low": "low", "lower": "low", "bottom": "low", "side": "side",
    "sides": "side", "in side": "side", "sida": "side", "sidor": "side", "seite": "side",
    "seiten": "side", "in the side": "side", "each side": "side",
}  # fmt: skip
_NONE = frozenset({"none", "no", "no holes", "0", "inga", "keine", "closed", "no vents"})
_FINE = frozenset({"fine", "fin", "fein"})
_MOST_HOLES = 5000
_MOST_MM = 1000


def read_vents(text: str, decimal: str | None) -> tuple[Vent, ...] | None:
    """The vents of a box, count first, then mm; None where only the words can be kept."""
    told = plain(text)
    if told in _NONE:
        return ()
    found = [_vent(part, decimal) for part in _PARTS.split(told) if part]
    return tuple(vent for vent in found if vent) if found and all(found) else None


def _vent(part: str, decimal: str | None) -> Vent | None:
    if at_end := _AT_END.fullmatch(part):
        vent = _vent(at_end[1], decimal)
        return msgspec.structs.replace(vent, end=_ENDS[at_end[2]]) if vent else None
    if mesh := _MESH.fullmatch(part):
        fineness = (mesh[2] or "").strip()
        return _checked(
            Vent(
                count=int(mesh[1] or 1),
                size_mm=_mm(mesh[3], mesh[4], decimal) if mesh[3] else None,
                make="mesh",
                place=_PLACES.get(mesh[5].strip(), "not_said"),
                mesh="not_said" if not fineness else "fine" if fineness in _FINE else "coarse",
            ),
            mesh[5],
        )
    if turned := _TURNED.fullmatch(part):
        size, unit, count, place = turned.groups()
    elif holes := _HOLES.fullmatch(part):
        count, size, unit, place = holes.groups()
    else:
        return None
    vent = Vent(
        count=int(count),
        size_mm=_mm(size, unit, decimal),
        place=_PLACES.get(place.strip(), "not_said"),
    )
    return _checked(vent, place)


def _mm(size: str, unit: str | None, decimal: str | None) -> float:
    return round(number(size, decimal or ".") * (10 if unit == "cm" else 1), 4)


def _checked(vent: Vent, place: str) -> Vent | None:
    """The vent, if its figures can be true and its place is understood."""
    sound = 1 <= vent.count <= _MOST_HOLES and place.strip() in _PLACES
    return vent if sound and (vent.size_mm is None or 0 < vent.size_mm <= _MOST_MM) else None
