"""The box: a plan from above, damp end left, to scale where its length and width are told."""

from math import ceil, sqrt
from typing import Final

from msgspec import Struct

from mancary.husbandry.facts import Vent
from mancary.husbandry.states import Box

WIDTH: Final = 360
_LONGEST, _WIDEST = 340.0, 230.0
_SKETCH_LENGTH, _SKETCH_WIDTH = 300.0, 170.0
_LEFT, _TOP = 10.0, 10.0
_MOST_HOLES: Final = 400
_MM_PER_CM: Final = 10


class Hole(Struct, frozen=True):
    """One vent in the lid: its centre and half its width, in drawing units."""

    x: float
    y: float
    r: float
    mesh: bool


class Plan(Struct, frozen=True, kw_only=True):
    """The drawing, in units that are pixels on a phone; ``bar`` is 10 cm, 0 for a sketch."""

    length: float
    width: float
    damp: float | None
    holes: tuple[Hole, ...]
    bar: float
    height: float
    left: float = _LEFT
    top: float = _TOP


def plan(box: Box) -> Plan:
    """The plan of a box; a sketch of no scale, and without vents, where its sides are not told."""
    scale = _scale(box)
    length = (box.length_cm or 0) * scale if scale else _SKETCH_LENGTH
    width = (box.width_cm or 0) * scale if scale else _SKETCH_WIDTH
    holes = [hole for vent in box.vents or () for hole in _holes(vent, length, width, scale)]
    return Plan(
        length=round(length, 1),
        width=round(width, 1),
        damp=None if box.damp_share is None else round(box.damp_share * length, 1),
        holes=tuple(holes),
        bar=round(10 * scale, 1),
        height=round(width + 2 * _TOP + (36 if scale else 14), 1),
    )


def _scale(box: Box) -> float:
    """Drawing units per centimetre; 0 where length or width is not told."""
    if not box.length_cm or not box.width_cm:
        return 0.0
    return min(_LONGEST / box.length_cm, _WIDEST / box.width_cm)


def _holes(vent: Vent, length: float, width: float, scale: float) -> list[Hole]:
    """The vents of the lid at their true size, spread evenly; others cannot be seen from above."""
    if not scale or vent.place != "lid" or not vent.size_mm or vent.count > _MOST_HOLES:
        return []
    columns = min(vent.count, max(1, ceil(sqrt(vent.count * length / width))))
    rows = ceil(vent.count / columns)
    half = round(vent.size_mm / _MM_PER_CM * scale / 2, 2)
    return [
        Hole(
            round(_LEFT + length * (index % columns + 0.5) / columns, 1),
            round(_TOP + width * (index // columns + 0.5) / rows, 1),
            half,
            vent.make == "mesh",
        )
        for index in range(vent.count)
    ]
