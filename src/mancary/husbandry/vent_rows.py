"""The vents of a box as rows the sums can take: size, make and height, nothing left untold."""

from typing import Final, Literal

from msgspec import Struct

from mancary.husbandry.box_sketch import HOLE_MM, MESH_MM
from mancary.husbandry.facts import Vent
from mancary.husbandry.sentences import tell

Height = Literal["lid", "high", "side", "low"]

HALF: Final = 0.5
"""Ours: where no end is told, half of a row stands over each."""

_DAMP_PART: Final = {"damp": 1.0, "dry": 0.0, "not_said": HALF}
_HOLE_LOW_MM, _HOLE_HIGH_MM = 1.0, 10.0
_TURNS_OVER_MM: Final = 15.0
"""An open hole wider than this exchanges air with itself (critical Rayleigh number, memory)."""


class Row(Struct, frozen=True, kw_only=True):
    """Equal vents at one height. ``mesh`` is empty for open holes; width or diameter in mm.

    ``damp_part`` is the part of them that stands over the damp end.
    """

    count: int
    mm: float
    mesh: Literal["", "fine", "coarse"]
    height: Height
    damp_part: float = HALF

    @property
    def area_mm2(self) -> float:
        return 0.785398 * self.count * self.mm**2


def rows_of(vents: tuple[Vent, ...], assumed: list[str]) -> tuple[Row, ...]:
    """The rows; adds to ``assumed`` what a vent does not tell."""
    return tuple(_row(vent, assumed) for vent in vents)


def limits_of(rows: tuple[Row, ...]) -> list[str]:
    """Where these vents lie beyond what the model was made for, in words."""
    holes = [row.mm for row in rows if not row.mesh]
    limits = []
    if any(mm > _TURNS_OVER_MM for mm in holes):
        limits.append(
            tell(
                "Open holes wider than 15 mm let warm damp air out and room air in by"
                " themselves: the box may lose several times what is said here. Put mesh over"
                " them."
            )
        )
    elif any(not _HOLE_LOW_MM <= mm <= _HOLE_HIGH_MM for mm in holes):
        limits.append(tell("Holes outside 1 to 10 mm: the model was made for those."))
    return limits


def spread_of(rows: tuple[Row, ...]) -> float:
    """By what factor the truth may lie either side of the model before any weighing.

    1.5 for small holes and 3 for mesh are the judgement of the model's specification; holes over
    5 mm, where draught does more than is modelled, get 2 in one plane and 3 at two heights (ours).
    """
    widest = max((row.mm for row in rows if not row.mesh), default=0.0)
    two_heights = len({row.height for row in rows}) > 1
    if any(row.mesh for row in rows) or widest > _HOLE_HIGH_MM:
        return 3.0
    if widest > 5 or (widest == 5 and two_heights):
        return 3.0 if two_heights else 2.0
    return 1.5


def _row(vent: Vent, assumed: list[str]) -> Row:
    mesh = vent.make == "mesh"
    size = vent.size_mm
    if size is None:
        size = MESH_MM if mesh else HOLE_MM
        assumed.append(
            tell("mesh windows of %(size)g mm", size=size)
            if mesh
            else tell("holes of %(size)g mm", size=size)
        )
    if vent.place == "not_said":
        assumed.append(tell("vents in the lid, spread evenly"))
    elif vent.place != "lid" and vent.end == "not_said":
        assumed.append(tell("vents in the sides half at each end"))
    if mesh and vent.mesh == "not_said":
        assumed.append(tell("fine mesh"))
    return Row(
        count=vent.count,
        mm=size,
        mesh="" if not mesh else "coarse" if vent.mesh == "coarse" else "fine",
        height="lid" if vent.place == "not_said" else vent.place,
        damp_part=_DAMP_PART[vent.end],
    )
