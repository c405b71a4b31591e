"""Vents as people write them: what is understood is said back, what is not is refused."""

import pytest

from mancary.husbandry.box_figures import vents_said
from mancary.husbandry.facts import Vent
from mancary.sheets.faults import Unreadable
from mancary.sheets.values.vents import read_vents, told_vents


def holes(count: int, mm: float, **more: str) -> Vent:
    return Vent(count=count, size_mm=mm, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "vents"),
    [
        ("20x3mm", (holes(20, 3),)),
        ("30×3", (holes(30, 3),)),
        ("12 x 4", (holes(12, 4),)),
        ("24*3 mm lid", (holes(24, 3, place="lid"),)),
        ("2 mesh 50", (holes(2, 50, make="mesh"),)),
        ("2 fine mesh 50 mm side", (holes(2, 50, make="mesh", mesh="fine", place="side"),)),
        ("30 holes of 2,5 mm", (holes(30, 2.5),)),
        ("3mm x 30", (holes(30, 3),)),
        ("12x4 lid + 10 x 3 side", (holes(12, 4, place="lid"), holes(10, 3, place="side"))),
        ("20 hål à 3 mm i locket", (holes(20, 3, place="lid"),)),
        ("24 x 3 mm lid at the dry end", (holes(24, 3, place="lid", end="dry"),)),
        (
            "12x3 low damp end + 12x3 high dry end",
            (holes(12, 3, place="low", end="damp"), holes(12, 3, place="high", end="dry")),
        ),
        ("24x3 far end", None),
        ("none", ()),
        ("many small", None),
        ("0 x 3", ()),
        ("20 x 3000", None),
    ],
)
def test_vents(text: str, vents: tuple[Vent, ...] | None) -> None:
    assert read_vents(text, ",") == vents


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("20x4 mm lid, 6x3 mm low on both sides", "20 holes of 4 mm in the lid, 6 holes of 3 mm low down"),
        ("20x4 mm lid, 10 taped over", "10 holes of 4 mm in the lid"),
        ("20x4 mm lid (half taped)", "10 holes of 4 mm in the lid"),
        ("10x3 mm both ends", "10 holes of 3 mm in the sides"),
        ("6x3 mm at each end", "12 holes of 3 mm in the sides"),
        ("6x3 mm low one end, 6x3 mm high other end", "6 holes of 3 mm low down, 6 holes of 3 mm high up"),
        ("12x3 mm lid, 8x4 mm side low", "12 holes of 3 mm in the lid, 8 holes of 4 mm low down"),
        ("ten 3 mm holes", "10 holes of 3 mm"),
        ("24 x 3mm", "24 holes of 3 mm"),
        ("12x3 mm at both ends, at one height", "12 holes of 3 mm in the sides"),
        ("13x3 mm low at one end, high at the other", "6 holes of 3 mm low down, 7 holes of 3 mm high up"),
        ("24x3 mm in the lid only, spread evenly", "24 holes of 3 mm in the lid"),
        ("2x50 mm windows of fine mesh in the lid", "2 fine mesh windows of 50 mm in the lid"),
        ("20x3 lid, mesh", "20 holes of 3 mm in the lid, 1 mesh window"),
        ("taped shut", ""),
        ("0x3 mm", ""),
    ],
)  # fmt: skip
def test_vents_in_many_spellings_are_said_back(text: str, said: str) -> None:
    vents = told_vents(text, None)
    assert vents_said(vents) == said
    assert told_vents(said, None) == vents if said else vents == ()


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("20x3 mm lid, 10 more later", ("understood 20 holes of 3 mm in the lid", "10 more later")),
        ("20x3 lid and sides", ("two places", "how many are at each")),
        ("20x2-3 mm", ("a range",)),
        ("10 holes lid", ("how wide",)),
        ("3 mm holes", ("how many",)),
        ("1/8 inch x 20", ("not understood",)),
        ("20x3 lid, 30 taped", ("30 of 20 holes cannot be taped",)),
        ("a gap all round", ("'gap'", "24x3 mm lid")),
    ],
)
def test_vents_not_understood_say_what_was_and_what_is_expected(
    text: str, parts: tuple[str, ...]
) -> None:
    with pytest.raises(Unreadable) as refused:
        told_vents(text, None)
    for part in (*parts, "Nothing was written"):
        assert part in str(refused.value)
