"""A box as the model needs it: metres of air over the floor, and in words what was assumed."""

from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.states import Box

LENGTH_TO_WIDTH: Final = 1.6
HEIGHT_TO_WIDTH: Final = 0.8
SUBSTRATE_SHARE: Final = 1 / 3
DAMP_SHARE: Final = 0.5
WALL_MM: Final = 1.5
HOLE_MM: Final = 3.0
MESH_MM: Final = 50.0
"""Ours, like all presets here: a usual box of the trade, used where the keeper tells nothing."""

LEAST_AIR_M: Final = 0.01
_CM = 100
_MM = 1000
_LITRES_LOW, _LITRES_HIGH = 1.5, 40.0
_WALL_LOW_MM, _WALL_HIGH_MM = 0.5, 4.0


class Sketch(Struct, frozen=True, kw_only=True):
    """Inner sides and the air over the floor in metres; damp share 0..1 of the floor.

    ``assumed`` says what nobody told, ``limits`` where the model is beyond its ground.
    """

    length_m: float
    width_m: float
    height_m: float
    headspace_m: float
    litter_m: float
    wall_m: float
    damp_share: float
    assumed: tuple[str, ...]
    limits: tuple[str, ...]

    @property
    def litres(self) -> float:
        return self.length_m * self.width_m * self.height_m * 1000


def sketched(box: Box) -> Sketch | None:
    """The box in metres, or None where neither litres nor length and width are told."""
    assumed: list[str] = []
    sides = _sides(box, assumed)
    if sides is None:
        return None
    length, width, height = sides
    substrate = _substrate(box, height, assumed)
    litter = (box.litter_cm or 0) / _CM
    if box.litter_cm is None:
        assumed.append(tell("no leaf litter (it would slow the loss a little)"))
    headspace = height - substrate - litter
    wall = _told(box.wall_mm, WALL_MM, tell("a wall of %(mm)g mm", mm=WALL_MM), assumed) / _MM
    made = Sketch(
        length_m=length,
        width_m=width,
        height_m=height,
        headspace_m=max(headspace, LEAST_AIR_M),
        litter_m=litter,
        wall_m=wall,
        damp_share=_damp(box, assumed),
        assumed=tuple(assumed),
        limits=(),
    )
    return _with_limits(made, headspace)


def _sides(box: Box, assumed: list[str]) -> tuple[float, float, float] | None:
    if box.length_cm and box.width_cm:
        length, width = box.length_cm / _CM, box.width_cm / _CM
        return length, width, _height(box, length, width, assumed)
    if not box.litres:
        return None
    width = (box.litres / 1000 / LENGTH_TO_WIDTH / HEIGHT_TO_WIDTH) ** (1 / 3)
    length, height = LENGTH_TO_WIDTH * width, HEIGHT_TO_WIDTH * width
    sides = in_a_row(tell(" by "), (f"{side * _CM:.0f}" for side in (length, width, height)))
    assumed.append(tell("sides of about %(sides)s cm, from the litres alone", sides=sides))
    return length, width, height


def _height(box: Box, length: float, width: float, assumed: list[str]) -> float:
    if box.height_cm:
        return box.height_cm / _CM
    if box.litres:
        return box.litres / 1000 / (length * width)
    height = HEIGHT_TO_WIDTH * width
    assumed.append(
        tell("a height of %(height).0f cm, four fifths of the width", height=height * _CM)
    )
    return height


def _substrate(box: Box, height: float, assumed: list[str]) -> float:
    if box.substrate_cm is not None:
        return box.substrate_cm / _CM
    depth = SUBSTRATE_SHARE * height
    assumed.append(tell("substrate %(depth).0f cm deep, a third of the height", depth=depth * _CM))
    return depth


def _damp(box: Box, assumed: list[str]) -> float:
    if box.damp_share is not None:
        return box.damp_share
    assumed.append(tell("half of the floor damp"))
    return DAMP_SHARE


def _told(value: float | None, preset: float, words: str, assumed: list[str]) -> float:
    if value is None:
        assumed.append(words)
    return preset if value is None else value


def _with_limits(made: Sketch, headspace_m: float) -> Sketch:
    limits = []
    if not _LITRES_LOW <= round(made.litres, 6) <= _LITRES_HIGH:
        limits.append(tell("A box of %(litres).3g L: the model was made for 1.5 to 40 L.", made))
    if not _WALL_LOW_MM <= made.wall_m * _MM <= _WALL_HIGH_MM:
        limits.append(
            tell(
                "A wall of %(wall_m)g mm: the model was made for 0.5 to 4 mm.",
                wall_m=made.wall_m * _MM,
            )
        )
    if headspace_m < LEAST_AIR_M:
        limits.append(tell("Substrate and litter fill the box; 1 cm of air is taken."))
    return replace(made, limits=tuple(limits))
