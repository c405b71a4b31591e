"""The two short ends of a box as one looks at them, to scale: the damp end left, the dry right."""

from math import ceil
from typing import Final

from msgspec import Struct

from mancary.husbandry.facts import Vent
from mancary.husbandry.vent_choices import Layout

_WIDEST, _HIGHEST = 160.0, 150.0
_LEFT, _TOP, _BETWEEN = 10.0, 10.0, 20.0
_EDGE_CM: Final = 1.0
_APART: Final = 3
_MM_PER_CM: Final = 10


class Pierced(Struct, frozen=True):
    """One hole in an end, in drawing units."""

    x: float
    y: float
    r: float
    mesh: bool


class Ends(Struct, frozen=True, kw_only=True):
    """Both ends in drawing units; ``left`` and ``other`` are where each begins."""

    width: float
    height: float
    soil: float
    left: float
    other: float
    top: float
    holes: tuple[Pierced, ...]


def ends(
    width_cm: float, height_cm: float, air_cm: float, layout: Layout, vents: tuple[Vent, ...]
) -> Ends:
    """The ends with a choice's holes where the sums put them, evenly across."""
    scale = min(_WIDEST / width_cm, _HIGHEST / height_cm)
    other = _LEFT + width_cm * scale + _BETWEEN
    edge = min(_EDGE_CM, air_cm / 4)
    if layout == "both_ends":
        all_of = vents[0].count
        placed = [
            (_LEFT, ceil(all_of / 2), air_cm / 2),
            (other, all_of // 2, air_cm / 2),
        ]
    else:
        low = next(vent.count for vent in vents if vent.place == "low")
        high = next(vent.count for vent in vents if vent.place == "high")
        placed = [(_LEFT, high, edge), (other, low, air_cm - edge)]
    size, mesh = vents[0].size_mm or 0.0, vents[0].make == "mesh"
    if mesh:
        half = size / _MM_PER_CM / 2
        placed = [(at, count, min(max(down, half), air_cm - half)) for at, count, down in placed]
    return Ends(
        width=round(width_cm * scale, 1),
        height=round(height_cm * scale, 1),
        soil=round((height_cm - air_cm) * scale, 1),
        left=_LEFT,
        other=round(other, 1),
        top=_TOP,
        holes=tuple(
            hole
            for at, count, down in placed
            for hole in _row(
                at, count, down * scale, width_cm * scale, size / _MM_PER_CM * scale, mesh=mesh
            )
        ),
    )


def _row(
    left: float, count: int, down: float, width: float, size: float, *, mesh: bool
) -> list[Pierced]:
    """Holes in one line, or in two where they would stand nearer than three diameters."""
    lines = 1 if mesh or width / max(count, 1) >= _APART * size else 2
    across = ceil(count / lines)
    apart = _APART * size if lines == 2 else 0.0
    return [
        Pierced(
            round(left + width * (index % across + 0.5) / across, 1),
            round(_TOP + max(size / 2, down + apart * (index // across - (lines - 1) / 2)), 1),
            round(size / 2, 2),
            mesh,
        )
        for index in range(count)
    ]
