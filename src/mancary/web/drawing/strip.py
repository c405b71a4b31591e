"""The shelf strip: one shelf as it stands, the boxes that want a visit drawn forward.

Drawn from the front and a little above, in units that are pixels on a phone. Widths go by the cube
root of the litres, as boxes of one shape would stand beside each other.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from msgspec import Struct

from mancary.husbandry.states import Box
from mancary.husbandry.wants import State
from mancary.web.tongue import N_, _, gettext

WIDTH: Final = 360
_EDGE, _GAP = 10, 7
_MOST_WIDE, _LEAST_WIDE = 82.0, 41.0
_MOST_IN_ROW: Final = 7
_STANDARD_LITRES: Final = 4.0
"""The width of a box whose litres are not told; ours, and drawn with a broken outline."""

_SLIMNESS: Final = 0.7
_STANDS: Final[dict[str, float]] = {"late": 94.0, "due": 83.0, "no_record": 70.0, "later": 70.0}
_TAG_TOP, _TAG_STEP, _LETTER = 108.0, 21.0, 6.9
_TAG_WORDS: Final[dict[str, str]] = {
    "look": N_("look"),
    "mist": N_("mist"),
    "vegetable": N_("veg"),
    "protein": N_("protein"),
    "calcium": N_("calcium"),
    "minerals": N_("minerals"),
    "leaf_litter": N_("leaves"),
    "wood": N_("wood"),
    "springtail_check": N_("springtails"),
    "substrate_half": N_("half change"),
    "substrate_whole": N_("change"),
    "label_check": N_("label"),
    "leftovers_out": N_("leftovers"),
}


class DrawnBox(Struct, frozen=True, kw_only=True):
    """One box of a strip: left edge, floor line, size, and what is written on and under it."""

    code: str
    x: float
    floor: float
    width: float
    height: float
    damp: float
    sketch: bool
    spare: bool
    forward: bool
    set_apart: bool
    tag: str = ""
    tag_x: float = 0.0
    tag_width: float = 0.0
    tag_top: float = 0.0


class Strip(Struct, frozen=True, kw_only=True):
    """A row of boxes; a long shelf is drawn as several rows."""

    boxes: tuple[DrawnBox, ...]
    top: float
    height: float


class Standing(Struct, frozen=True, kw_only=True):
    """A box on the shelf: how far forward it is drawn, and what its tag says."""

    box: Box
    state: State = "later"
    tag: str = ""


def tag_of(care: str) -> str:
    """A care in a word short enough for a tag."""
    return gettext(_TAG_WORDS.get(care, care.replace("_", " ")))


_FOREMOST: Final = ("mist", "protein")
"""What a colony dies of first, dry or starved; ours, from the harm of lateness on the work page."""


def foremost(late: Sequence[str]) -> str:
    """Of the cares past their window, longest first, the one a tag names; empty without any.

    A misting or protein comes before all else: leftovers are late in every box after a feeding,
    and a shelf of tags that all say so tells nothing.
    """
    return next((care for care in _FOREMOST if care in late), late[0] if late else "")


def strips(shelf: Sequence[Standing]) -> list[Strip]:
    """The rows of one shelf, as even as can be."""
    rows = -(-len(shelf) // _MOST_IN_ROW)
    if not rows:
        return []
    cuts = [round(len(shelf) * row / rows) for row in range(rows + 1)]
    return [_strip(shelf[start:end]) for start, end in pairwise(cuts)]


def _strip(row: Sequence[Standing]) -> Strip:
    drawn: list[DrawnBox] = []
    x = float(_EDGE)
    for standing, width in zip(row, _widths(row), strict=True):
        drawn.append(_drawn(standing, x, width))
        x += width + _GAP
    tagged = _with_tags(drawn, row)
    lowest = max((box.tag_top for box in tagged if box.tag), default=_TAG_TOP - 12)
    top = min(44.0, *(box.floor - box.height - 6 for box in tagged))
    return Strip(boxes=tuple(tagged), top=round(top), height=round(lowest + 22 - top))


def _widths(row: Sequence[Standing]) -> list[float]:
    sizes = [(standing.box.litres or _STANDARD_LITRES) ** (1 / 3) for standing in row]
    room = WIDTH - 2 * _EDGE - _GAP * (len(row) - 1)
    scale = min(room / sum(sizes), _MOST_WIDE / max(sizes))
    widths = [max(size * scale, _LEAST_WIDE) for size in sizes]
    over = sum(widths) - room
    if over > 0:
        spare = sum(width - _LEAST_WIDE for width in widths)
        widths = [width - over * (width - _LEAST_WIDE) / spare for width in widths]
    return [round(width, 1) for width in widths]


def _drawn(standing: Standing, x: float, width: float) -> DrawnBox:
    box = standing.box
    return DrawnBox(
        code=box.code if len(box.code) <= 5 else f"{box.code[:4]}…",
        x=round(x, 1),
        floor=_STANDS[standing.state],
        width=width,
        height=round(width * _SLIMNESS, 1),
        damp=round((box.damp_share or 0.0) * width, 1),
        sketch=box.litres is None,
        spare=not box.colony,
        forward=standing.state in ("late", "due"),
        set_apart=box.quarantine is not None,
    )


def _with_tags(drawn: Sequence[DrawnBox], row: Sequence[Standing]) -> list[DrawnBox]:
    ends: list[float] = []
    tagged = []
    for box, standing in zip(drawn, row, strict=True):
        word = _tag_word(standing)
        if not word:
            tagged.append(box)
            continue
        width = round(len(word) * _LETTER + 10, 1)
        left = min(max(box.x + box.width / 2 - width / 2, 1.0), WIDTH - width - 1)
        level = next((n for n, end in enumerate(ends) if left > end + 2), len(ends))
        ends[level : level + 1] = [left + width]
        tagged.append(_hung(box, word, left=left, width=width, level=level))
    return tagged


def _hung(box: DrawnBox, word: str, *, left: float, width: float, level: int) -> DrawnBox:
    kept = {name: getattr(box, name) for name in box.__struct_fields__}
    kept |= {
        "tag": word,
        "tag_x": round(left, 1),
        "tag_width": width,
        "tag_top": _TAG_TOP + _TAG_STEP * level,
    }
    return DrawnBox(**kept)


def _tag_word(standing: Standing) -> str:
    return standing.tag or (_("set apart") if standing.box.quarantine else "")
